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

// forAll are the imports that no package may have unless outside says otherwise:
// storage, files and commands, which graph, queries and loader know nothing of.
var forAll = []string{mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
	"github.com/spf13/"}

// ofQuestions are those that no package of the questions may have.
var ofQuestions = []string{mod + "graph/store", mod + "loader", mod + "cmd", mod + "data-demo", cayley,
	"github.com/spf13/"}

// outside says which imports a package must never have, by prefix, where that is not
// ofQuestions for a package below queries and forAll for any other.
var outside = map[string][]string{
	"graph/diag": {mod + "graph/store", mod + "graph/measure", mod + "graph/disk", mod + "loader", mod + "queries",
		mod + "cmd", mod + "data-demo", "github.com/", "golang.org/"},
	"graph/article":              {mod, "github.com/", "golang.org/"},
	"graph/disk":                 {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo"},
	"graph/disk/internal/moment": {mod},
	"graph/disk/disktest":        {mod + "graph/store", mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo"},
	"graph/store":                {mod + "loader", mod + "queries", mod + "cmd", mod + "data-demo", "github.com/spf13/"},
	"graph/sampletest":           {mod},
	"loader": {mod + "graph/store", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"loader/standard": {mod, "github.com/"},
	"loader/intake": {mod + "graph/store", mod + "queries", mod + "cmd", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"queries/demotest":              {mod + "graph/store", mod + "cmd", cayley, "github.com/spf13/"},
	"queries/instoretest":           {mod + "loader", mod + "cmd", mod + "data-demo", cayley, "github.com/spf13/"},
	"queries/mating":                append([]string{mod + "queries/plan"}, ofQuestions...),
	"queries/trade":                 append([]string{mod + "graph", mod + "queries"}, ofQuestions...),
	"queries/plan/plantest":         {mod},
	"data-demo":                     {mod, "github.com/"},
	"cmd/matewell":                  {cayley},
	"cmd/matewell/internal/lookout": {mod, "github.com/"},
	"cmd/matewell/internal/wording": {mod + "graph/store", mod + "graph/disk", mod + "loader", mod + "queries",
		mod + "data-demo", "github.com/"},
	"cmd/matewell/internal/page": {mod + "graph/store", mod + "graph/disk", mod + "loader", mod + "queries",
		mod + "data-demo", mod + "cmd", cayley, "github.com/spf13/"},
	"cmd/matewell/internal/desk": {mod + "graph/store", mod + "loader", mod + "queries", mod + "data-demo", cayley,
		"github.com/spf13/"},
	"cmd/matewell/internal/help":  {mod + "graph/store", mod + "graph/disk", mod + "data-demo", cayley},
	"cmd/matewell/internal/shelf": {mod + "queries", cayley, "github.com/spf13/"},
	"cmd/matewell/internal/drawing": {mod + "graph/store", mod + "graph/disk", mod + "loader", mod + "data-demo",
		"github.com/"},
}

// forbiddenTo are the imports that a package must never have, by prefix.
func forbiddenTo(name string) []string {
	if own, ok := outside[name]; ok {
		return own
	}
	if name == "queries" || strings.HasPrefix(name, "queries/") {
		return ofQuestions
	}
	return forAll
}

// room is a package of a floor and those of the floor that it may import, by their names
// below it, "" being the folder of the floor itself.
type room struct {
	name      string
	mayImport []string
}

// floor is a folder of which every package has a room in a table.
type floor struct {
	folder string
	rooms  []room
}

// floors are all that have a table.
var floors = []floor{{"queries", rooms}, {"cmd/matewell/internal", ownRooms}}

// rooms are the packages of the questions, each below all that it may import, so that
// there is no circle. A package that is not here may import none of them.
var rooms = []room{
	{"lists", nil},
	{"trade", nil},
	{"gauge", nil},
	{"readertest", nil},
	{"instoretest", nil},
	{"plan/plantest", nil},
	{"mating", []string{"trade"}},
	{"plan", []string{"plan/plantest"}},
	{"", []string{"lists"}},
	{"once", []string{"lists"}},
	{"othervalue", []string{"lists"}},
	{"contents", []string{"", "lists"}},
	{"evidence", []string{"", "lists", "readertest"}},
	{"fits", []string{"evidence", "", "lists"}},
	{"part", []string{"evidence", "", "trade", "once", "lists"}},
	{"machine", []string{"evidence", "", "mating", "once", "lists"}},
	{"assemble", []string{"machine", "", "lists"}},
	{"shop", []string{"machine", "evidence", "", "mating", "plan", "lists"}},
	{"examine", []string{"machine", "evidence", "", "mating", "othervalue", "trade", "lists"}},
	{"swap", []string{"assemble", "shop", "fits", "examine", "machine", "evidence", "", "mating", "trade", "lists"}},
	{"differ", []string{"swap", "fits", "examine", "machine", "evidence", "", "mating", "lists"}},
	{"demotest", []string{"swap"}},
	{"bike", []string{"assemble", "swap", "shop", "examine", "machine", "evidence", "", "mating", "lists"}},
	{"donor", []string{"assemble", "swap", "shop", "examine", "machine", "", "mating", "plan", "lists"}},
	{"worksheet", []string{"donor", "assemble", "swap", "examine", "machine", "evidence", "", "lists"}},
	{"figure", []string{"swap", "examine", "machine", "", "mating", "lists"}},
	{"job", []string{"worksheet", "shop", "machine", "evidence", "", "lists"}},
	{"gaps", []string{"swap", "examine", "machine", "", "mating", "lists"}},
	{"conflicts", []string{"swap", "fits", "examine", "machine", "evidence", "", "lists"}},
	{"why", []string{"swap", "differ", "part", "fits", "examine", "machine", "evidence", "", "mating", "lists"}},
}

// ownRooms are the packages that only the command line has; it may import them all.
var ownRooms = []room{
	{"lookout", nil},
	{"wording", nil},
	{"drawing", []string{"wording"}},
	{"page", nil},
	{"desk", []string{"drawing"}},
	{"help", []string{"desk"}},
	{"shelf", []string{"desk", "page"}},
}

// roomOf is the floor of an import and its name there; false when it is on none.
func roomOf(imported string) (floor, string, bool) {
	for _, f := range floors {
		if below, ok := strings.CutPrefix(imported+"/", mod+f.folder+"/"); ok {
			return f, strings.TrimSuffix(below, "/"), true
		}
	}
	return floor{}, "", false
}

// path is where the package of a room is, without the module.
func (f floor) path(name string) string { return strings.TrimSuffix(f.folder+"/"+name, "/") }

// mayImport are the rooms that a room may import; false when the table does not have
// it.
func (f floor) mayImport(name string) ([]string, bool) {
	at := slices.IndexFunc(f.rooms, func(r room) bool { return r.name == name })
	if at < 0 {
		return nil, false
	}
	return f.rooms[at].mayImport, true
}

// TestRoomsPointUp: what a room may import stands above it in the table.
func TestRoomsPointUp(t *testing.T) {
	for _, f := range floors {
		above := map[string]bool{}
		for _, r := range f.rooms {
			for _, name := range r.mayImport {
				if !above[name] {
					t.Errorf("%s may import %s, which does not stand above it", f.path(r.name), f.path(name))
				}
			}
			if above[r.name] {
				t.Errorf("%s stands there twice", f.path(r.name))
			}
			above[r.name] = true
		}
	}
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
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var p listed
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		p.ImportPath = strings.TrimPrefix(p.ImportPath, mod)
		all = append(all, p)
		p.checkArrows(t)
		p.checkRooms(t)
	}
	isThere := func(name string) bool {
		return slices.ContainsFunc(all, func(p listed) bool { return p.ImportPath == name })
	}
	for name := range outside {
		if !isThere(name) {
			t.Errorf("there is no package %s: take its rule away", name)
		}
	}
	for _, f := range floors {
		for _, r := range f.rooms {
			if !isThere(f.path(r.name)) {
				t.Errorf("there is no package %s: take its room away", f.path(r.name))
			}
		}
	}
}

// checkArrows keeps the arrows between the layers.
func (p listed) checkArrows(t *testing.T) {
	for _, imported := range p.Imports {
		if imported == "testing" && !strings.HasSuffix(p.ImportPath, "test") {
			t.Errorf("package %s imports %s outside of its tests: every start of the program pays for it", p.ImportPath,
				imported)
		}
	}
	for _, imported := range append(p.Imports, p.TestImports...) {
		if bad := firstPrefix(imported, forbiddenTo(p.ImportPath)); bad != "" {
			t.Errorf("package %s imports %s, which breaks the arrows cmd -> queries -> graph <- loader", p.ImportPath,
				imported)
		}
	}
}

// checkRooms keeps the arrows between the packages of a floor to those of its table, and
// the table to those that there are.
func (p listed) checkRooms(t *testing.T) {
	on, name, ok := roomOf(mod + p.ImportPath)
	if !ok {
		return
	}
	may, ok := on.mayImport(name)
	if !ok {
		t.Errorf("package %s has no room in the table: say what it may import", p.ImportPath)
	}
	imports := slices.Concat(p.Imports, p.TestImports)
	for _, imported := range imports {
		at, room, ok := roomOf(imported)
		if ok && at.folder == on.folder && !slices.Contains(may, room) {
			t.Errorf("package %s imports %s, an arrow that the table of rooms does not have", p.ImportPath, imported)
		}
	}
	for _, room := range may {
		if full := on.path(room); !slices.Contains(imports, mod+full) {
			t.Errorf("package %s does not import %s: take the arrow out of the table of rooms", p.ImportPath, full)
		}
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
