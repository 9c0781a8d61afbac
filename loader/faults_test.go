package loader_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph/diag"
	"matewell/loader"
)

// fixtures is where the data sets are that are bad for one reason each. Every
// one lies over the good set "common", so that it need hold only its fault.
const fixtures = "../testdata/loader"

// update says to write the expected output anew; read its diff as if it were code.
func update() bool { return os.Getenv("MATEWELL_UPDATE") != "" }

// overlay puts the files of several folders into one.
func overlay(t *testing.T, dirs ...string) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	for _, dir := range dirs {
		fsys := os.DirFS(dir)
		err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			body, err := fs.ReadFile(fsys, p)
			files[p] = &fstest.MapFile{Data: body}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// report prints the faults as a person would see them.
func report(t *testing.T, files fstest.MapFS, probs *diag.List) string {
	t.Helper()
	var out bytes.Buffer
	err := diag.Print(&out, probs, func(name string) []byte {
		body, _ := fs.ReadFile(files, name)
		return body
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// compare compares with a file beside the fixture, or writes it.
func compare(t *testing.T, got, wantFile string) {
	t.Helper()
	if update() {
		if err := os.WriteFile(wantFile, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(wantFile)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func glob(t *testing.T, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(fixtures, pattern))
	if err != nil || len(found) == 0 {
		t.Fatalf("no fixture is called %s (%v)", pattern, err)
	}
	return found
}

func TestFaults(t *testing.T) {
	seen := map[string]bool{}
	for _, dir := range glob(t, "*.bad") {
		name := strings.TrimSuffix(filepath.Base(dir), ".bad")
		code, _, _ := strings.Cut(name, "_")
		t.Run(name, func(t *testing.T) {
			files := overlay(t, filepath.Join(fixtures, "common"), dir)
			var probs diag.List
			facts, err := loader.Load(t.Context(), []loader.Layer{{FS: files}}, &probs)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range probs.Sorted() {
				if d.Code != code {
					t.Errorf("a fixture of %s also has %s", code, d)
				}
				seen[d.Code] = true
			}
			if probs.Len() == 0 {
				t.Error("no fault was found")
			}
			if probs.Err() != nil && len(facts.Sources) > 0 {
				t.Error("a set with an error gave facts")
			}
			if probs.Err() == nil && len(facts.Parts) == 0 {
				t.Error("a warning emptied the facts")
			}
			compare(t, report(t, files, &probs), strings.TrimSuffix(dir, ".bad")+".want")
		})
	}
	for _, code := range codes() {
		if !seen[code.Name] && !untestable[code.Name] {
			t.Errorf("no fixture shows %s", code.Name)
		}
	}
}

// untestable are the faults that no folder in a repository can hold; they have
// tests of their own in files_test.go and
// layers_test.go.
var untestable = map[string]bool{"not-a-file": true, "too-large": true, "no-data": true, "unreadable": true,
	"other-meaning": true, "linked-folder": true,
	"not-an-offer": true, "two-currencies": true}

// Each fixture's expected output must still have its fixture.
func TestNoStrayWant(t *testing.T) {
	for _, want := range glob(t, "*.want") {
		base := strings.TrimSuffix(want, ".want")
		if _, err := os.Stat(base + ".bad"); err != nil {
			if _, err := os.Stat(base + ".good"); err != nil {
				t.Errorf("%s belongs to no fixture", want)
			}
		}
	}
}

// The common set has no fault of its own.
func TestCommonIsGood(t *testing.T) {
	files := overlay(t, filepath.Join(fixtures, "common"))
	var probs diag.List
	if _, err := loader.Load(t.Context(), []loader.Layer{{FS: files}}, &probs); err != nil || probs.Len() > 0 {
		t.Errorf("%v\n%s", err, report(t, files, &probs))
	}
}

func TestCodesAreSorted(t *testing.T) {
	sorted := slices.IsSortedFunc(codes(), func(a, b code) int { return strings.Compare(a.Name, b.Name) })
	if !sorted {
		t.Error("the codes are not in the order of their letters")
	}
}
