package main

import (
	"encoding/json"
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

const mod = "matewell/"

// cayley is the database; only graph/store may know it.
const cayley = "github.com/cayleygraph/"

// outside says which imports a package must never have, by prefix. A package
// without an entry fails the test, so that nobody forgets to give one.
var outside = map[string][]string{
	"graph/diag":                 {mod, "github.com/", "golang.org/"},
	"graph/disk":                 {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo"},
	"graph/disk/internal/moment": {mod},
	"graph/disk/disktest":        {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo"},
	"graph/measure": {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo",
		cayley, "github.com/spf13/"},
	"graph": {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo",
		cayley, "github.com/spf13/"},
	"graph/store": {mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo", "github.com/spf13/"},
	"graph/store/storetest": {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo",
		cayley},
	"loader": {mod + "graph/store", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"loader/standard": {mod, "github.com/"},
	"loader/partslist": {mod + "graph/store", mod + "queries", mod + "cmd", mod + "data-demo", mod + "loader",
		cayley, "github.com/spf13/"},
	"loader/intake": {mod + "graph/store", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/lists": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/once": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/evidence": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/machine": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/othervalue": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/examine": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/assemble": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/shop": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/gaps": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/contents": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/fits": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/part": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/differ": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/bike": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/swap": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/donor": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/conflicts": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/why": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/worksheet": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/figure": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/job": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"graph/sampletest":    {mod},
	"queries/demotest":    {mod + "graph/store", mod + "cmd", cayley, "github.com/spf13/"},
	"queries/instoretest": {mod + "loader", mod + "cmd", mod + "data-demo", cayley, "github.com/spf13/"},
	"queries/readertest": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/mating": {mod + "graph/store", mod + "loader", mod + "queries/plan", mod + "cmd", mod + "data-demo",
		cayley, "github.com/spf13/"},
	"queries/trade": {mod + "graph", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/gauge": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/plan": {mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/plan/plantest": {mod},
	"data-demo":             {mod, "github.com/"},
	"cmd/matewell":          {cayley},
}

// rooms says which packages of the questions each of them may import, nearest
// first: every arrow of this table points up in it, so that there is no circle.
var rooms = map[string][]string{
	"queries/lists":      {},
	"queries/trade":      {},
	"queries/gauge":      {},
	"queries/readertest": {},
	"queries/mating":     {"trade"},
	"queries/plan":       {"plan/plantest"},
	"queries":            {"lists"},
	"queries/once":       {"lists"},
	"queries/evidence":   {"", "lists", "readertest"},
	"queries/machine":    {"evidence", "", "mating", "once", "lists"},
	"queries/othervalue": {"lists"},
	"queries/examine":    {"machine", "evidence", "", "mating", "othervalue", "trade", "lists"},
	"queries/assemble":   {"machine", "", "lists"},
	"queries/shop":       {"machine", "evidence", "", "mating", "plan", "lists"},
	"queries/fits":       {"evidence", "", "lists"},
	"queries/contents":   {"", "lists"},
	"queries/part":       {"evidence", "", "trade", "lists"},
	"queries/differ":     {"fits", "once", "examine", "machine", "evidence", "", "mating", "lists"},
	"queries/bike":       {"assemble", "swap", "shop", "examine", "machine", "evidence", "", "mating", "plan", "lists"},
	"queries/swap":       {"assemble", "shop", "fits", "examine", "machine", "evidence", "", "mating", "trade", "lists"},
	"queries/donor":      {"assemble", "swap", "shop", "examine", "machine", "", "mating", "plan", "lists"},
	"queries/worksheet":  {"donor", "swap", "examine", "machine", "evidence", "", "lists"},
	"queries/figure":     {"swap", "examine", "machine", "", "mating", "lists"},
	"queries/job":        {"worksheet", "shop", "machine", "evidence", "", "lists"},
	"queries/gaps":       {"swap", "examine", "machine", "", "mating", "lists"},
	"queries/conflicts":  {"swap", "fits", "examine", "machine", "evidence", "", "lists"},
	"queries/why":        {"swap", "differ", "part", "fits", "examine", "machine", "evidence", "", "mating", "lists"},
}

// listed is what "go list -json" says of a package.
type listed struct {
	ImportPath  string
	Imports     []string
	TestImports []string // of tests inside the package; an external _test package is free
}

func TestLayers(t *testing.T) {
	list := exec.Command("go", "list", "-json=ImportPath,Imports,TestImports", "./...")
	list.Dir = filepath.Join("..", "..")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := 0
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); seen++ {
		var p listed
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, mod)
		forbidden, ok := outside[name]
		if !ok {
			t.Errorf("package %s has no rule here: say what it must never import", name)
		}
		for _, imported := range p.Imports {
			if imported == "testing" && !strings.HasSuffix(name, "test") {
				t.Errorf("package %s imports %s outside of its tests: every start of the program pays for it", name, imported)
			}
		}
		for _, imported := range append(p.Imports, p.TestImports...) {
			if room, ok := strings.CutPrefix(imported+"/", mod+"queries/"); ok && rooms[name] != nil &&
				!slices.Contains(rooms[name], strings.TrimSuffix(room, "/")) {
				t.Errorf("package %s imports %s, an arrow that the table of rooms does not have", name, imported)
			}
			if bad := firstPrefix(imported, forbidden); bad != "" {
				t.Errorf("package %s imports %s, which breaks the arrows cmd -> queries -> graph <- loader", name, imported)
			}
		}
	}
	if seen < len(outside) {
		t.Errorf("%d packages found but %d have rules: take the rules of removed ones away", seen, len(outside))
	}
}

// TestTestsCompileOnce: a test inside a package has it compiled once more, and with
// it whatever imports it and is used by the tests from outside, which were fourteen
// packages once. Where there are such tests from outside, all are.
func TestTestsCompileOnce(t *testing.T) {
	const form = "{{if .ForTest}}{{.ForTest}} {{.ImportPath}}{{end}}"
	list := exec.Command("go", "list", "-test", "-deps", "-f", form, "./...")
	list.Dir = filepath.Join("..", "..")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	if seen := strings.Count(string(out), "\n"); seen < 30 {
		t.Errorf("only %d packages are made for tests: was the form of the list changed?", seen)
	}
	for line := range strings.Lines(string(out)) {
		tested, made, _ := strings.Cut(strings.TrimSpace(line), " ")
		if name, _, _ := strings.Cut(made, " "); name != tested && name != tested+"_test" {
			t.Errorf("%s is compiled once more for the tests of %s: move those inside it out, into %s_test", name, tested,
				path.Base(tested))
		}
	}
}

// firstPrefix is the first of the prefixes that is the import or a folder above
// it; a prefix that ends in a slash covers everything below.
func firstPrefix(imported string, prefixes []string) string {
	for _, p := range prefixes {
		if imported == path.Clean(p) || strings.HasPrefix(imported, strings.TrimSuffix(p, "/")+"/") {
			return p
		}
	}
	return ""
}

// TestFirstPrefix keeps the check above from passing by never matching.
func TestFirstPrefix(t *testing.T) {
	tests := []struct {
		name, imported string
		prefixes       []string
		want           string
	}{
		{"the package itself", "matewell/loader", []string{mod + "loader"}, mod + "loader"},
		{"below it", "matewell/queries/trade", []string{mod + "queries"}, mod + "queries"},
		{"only the same letters", "matewell/loaders", []string{mod + "loader"}, ""},
		{"everything of ours", "matewell/graph", []string{mod}, mod},
		{"a host", "github.com/cayleygraph/quad", []string{cayley}, cayley},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := firstPrefix(tt.imported, tt.prefixes); got != tt.want {
				t.Errorf("firstPrefix(%q) = %q, want %q", tt.imported, got, tt.want)
			}
		})
	}
}

// lineWidth is how many columns a line may take, a tab counted as one. What
// stands between backquotes is as long as it is.
const lineWidth = 120

// TestLineWidth keeps files readable beside one another.
func TestLineWidth(t *testing.T) {
	files := 0
	err := filepath.WalkDir(filepath.Join("..", ".."), func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || filepath.Ext(name) != ".go" {
			return err
		}
		files++
		body, err := os.ReadFile(name)
		for _, at := range wideLines(body) {
			t.Errorf("%s:%d: more than %d columns", name, at, lineWidth)
		}
		return err
	})
	if err != nil || files < 300 {
		t.Errorf("%d files looked at, %v", files, err)
	}
}

// wideLines are the numbers of the lines of a Go file that are too wide, beside
// those that hold a literal in backquotes.
func wideLines(body []byte) []int {
	raw := map[int]bool{}
	files := token.NewFileSet()
	file := files.AddFile("", -1, len(body))
	var s scanner.Scanner
	s.Init(file, body, nil, 0)
	for at, kind, text := s.Scan(); kind != token.EOF; at, kind, text = s.Scan() {
		if kind == token.STRING && strings.HasPrefix(text, "`") {
			first := file.Line(at)
			for n := range strings.Count(text, "\n") + 1 {
				raw[first+n] = true
			}
		}
	}
	var wide []int
	for i, line := range strings.Split(string(body), "\n") {
		if utf8.RuneCountInString(line) > lineWidth && !raw[i+1] {
			wide = append(wide, i+1)
		}
	}
	return wide
}

func TestWideLines(t *testing.T) {
	long := strings.Repeat("x", lineWidth)
	body := "package p\n\nvar a = " + long + "\nvar b = `\n" + long + long + "`\n// " + long + "\n" + long[3:] + "\n"
	if got, want := wideLines([]byte(body)), []int{3, 6}; !slices.Equal(got, want) {
		t.Errorf("lines %v, want %v", got, want)
	}
}
