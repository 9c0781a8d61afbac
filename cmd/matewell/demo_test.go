package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/disk"
	"matewell/graph/disk/disktest"
)

// Reading the built-in data takes longer than most questions, so it is read
// once, by the first test that asks it: as a user's first question reads it,
// with an empty cache folder. All other tests and scripts find that store in
// a cache folder of their own.

// demoRoot is the folder that holds the one store of the built-in data.
var demoRoot string

// withDemo makes demoRoot for the tests, not for the commands that scripts run.
type withDemo struct{ *testing.M }

func (m withDemo) Run() int {
	dir, err := os.MkdirTemp("", "matewell")
	if err != nil {
		panic(err)
	}
	defer disk.Remove(dir)
	demoRoot = dir
	desk.UsualHeap() // as the program has it for each of its questions
	defer removePrograms()
	return m.M.Run()
}

// removePrograms removes the folder in which testscript put the programs that
// scripts run: under Wine it can't do so itself.
func removePrograms() {
	first := filepath.SplitList(os.Getenv("PATH"))[0]
	if made := filepath.Dir(first); strings.HasPrefix(filepath.Base(made), "testscript-main") {
		_ = disk.Remove(made)
	}
}

// keptDemo is the folder of the store.
var keptDemo = sync.OnceValues(func() (string, error) {
	var out, errs bytes.Buffer
	e := desk.Env{Out: &out, Err: &errs, Now: time.Now, DirFS: func(dir string) fs.FS { return os.DirFS(dir) },
		Getenv: cacheAt(demoRoot)}
	if code := run(e, []string{"identify", "--on", "skerry-620/2003"}); code != exitAnswered {
		return "", fmt.Errorf("the first question to the built-in data: exit %d: %s", code, &errs)
	}
	kept, err := cachedDemo(e)
	if err != nil {
		return "", err
	}
	_, err = os.Stat(kept)
	return kept, err
})

// giveDemo puts the store of the built-in data where a build of matewell looks
// for it in a cache folder. It is a link, which no build throws away; a copy
// where links are not followed.
func giveDemo(cache, program string) error {
	kept, err := keptDemo()
	if err != nil {
		return err
	}
	place, err := cachedDemo(desk.Env{Getenv: cacheAt(cache), Program: program})
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(place), 0o755); err != nil {
		return err
	}
	linked := os.Symlink(kept, place)
	if _, err := os.ReadDir(place); err == nil && linked == nil {
		return nil
	}
	_ = os.Remove(place) // what was made instead of a link
	return os.CopyFS(place, os.DirFS(kept))
}

// demoCache is a cache folder, gone when the test ends, that holds the store
// of the built-in data.
func demoCache(t *testing.T) string {
	t.Helper()
	dir := disktest.Folder(t)
	if err := giveDemo(dir, ""); err != nil {
		t.Fatal(err)
	}
	return dir
}

func cachedDemo(e desk.Env) (string, error) {
	layers, err := shelf.Layers(e, []string{shelf.DemoName})
	if err != nil {
		return "", err
	}
	return shelf.CachedStore(e, layers, nil)
}

// cacheAt is the environment of a user who has a cache folder and nothing else.
func cacheAt(dir string) func(string) string {
	return func(name string) string {
		if name == "XDG_CACHE_HOME" {
			return dir
		}
		return ""
	}
}

// alone marks a test of one process that asks one question after the other:
// the race detector finds nothing there that it does not find in the scripts,
// so it is left out where the tests are kept short.
func alone(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("nothing here runs at once that no script runs")
	}
}
