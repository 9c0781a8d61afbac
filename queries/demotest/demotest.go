// Package demotest holds what the tests of several questions share: the
// demonstration data and the small data sets of stories.
package demotest

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// Tests fill much memory for a moment only: it is collected less often than that of a
// program that goes on for long.
func init() { debug.SetGCPercent(400) }

// Root is the folder of the whole project, seen from that of the running test.
func Root(t testing.TB) string {
	t.Helper()
	root, err := root()
	if err != nil {
		t.Fatal(err)
	}
	return root
}

func root() (string, error) {
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		if filepath.Dir(dir) == dir {
			return "", errors.New("no go.mod in the folder of the test or above it")
		}
		dir = filepath.Dir(dir)
	}
	return "", err
}

// Facts are the demonstration data, read from their folder once for all tests of
// a package: nobody may change what is in them.
func Facts(t testing.TB) graph.Facts {
	t.Helper()
	facts, err := Read()
	if err != nil {
		t.Fatalf("the demonstration data: %v", err)
	}
	return facts
}

// Single is a second set, of a machine quite unlike those of the demonstration: a
// single with drums, spokes, twin shocks and 6 V.
func Single(t testing.TB) graph.Facts {
	t.Helper()
	facts, err := readSingle()
	if err != nil {
		t.Fatalf("the data of the single: %v", err)
	}
	return facts
}

var readSingle = sync.OnceValues(func() (graph.Facts, error) { return readFolder("testdata", "single") })

// Read is that for a function that has no test at hand.
var Read = sync.OnceValues(func() (graph.Facts, error) { return readFolder("data-demo") })

// readFolder reads a folder of the project over the standard kinds.
func readFolder(names ...string) (graph.Facts, error) {
	dir, err := root()
	if err != nil {
		return graph.Facts{}, err
	}
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{loader.Standard(),
		{Name: filepath.Join(names...), FS: os.DirFS(filepath.Join(dir, filepath.Join(names...)))}}, &probs)
	return facts, errors.Join(err, probs.Err())
}

// Alone marks a test in which nothing runs at once that no shorter test has:
// the race detector would find nothing, so -short leaves it out.
func Alone(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("nothing here runs at once that no shorter test has")
	}
}

// Story loads the data files of a story, which are all but those named ask... and
// want...; a fault in them fails the test.
func Story(t *testing.T, archive *txtar.Archive) graph.Facts {
	t.Helper()
	files := fstest.MapFS{}
	for _, f := range archive.Files {
		if !strings.HasPrefix(f.Name, "ask") && !strings.HasPrefix(f.Name, "want") {
			files[f.Name] = &fstest.MapFile{Data: f.Data}
		}
	}
	return load(t, files)
}

// load loads files over the standard kinds, unless they bring kinds of their
// own: then the story shows all that a part of it must have.
func load(t *testing.T, files fs.FS) graph.Facts {
	t.Helper()
	var probs diag.List
	layers := []loader.Layer{{FS: files}}
	if !bringKinds(t, files) {
		layers = append([]loader.Layer{loader.Standard()}, layers...)
	}
	facts, err := loader.Load(context.Background(), layers, &probs)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range probs.Sorted() {
		if d.Severity == diag.Error {
			t.Fatalf("the story's data: %s", d)
		}
	}
	return facts
}

// bringKinds reports whether one of the files defines kinds of part.
func bringKinds(t *testing.T, files fs.FS) (found bool) {
	t.Helper()
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		body, err := fs.ReadFile(files, name)
		found = found || bytes.HasPrefix(body, []byte("kinds:")) || bytes.Contains(body, []byte("\nkinds:"))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
