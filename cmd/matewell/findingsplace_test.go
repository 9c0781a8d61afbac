package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"matewell/graph/disk/disktest"
	"matewell/graph/store/storetest"
)

// TestRecordToOneStoreAtOnce: eight people record to a store that they share, all at
// once, in a folder and on a server; nothing is lost, what two of them say alike is
// one, and a load leaves it as it is.
func TestRecordToOneStoreAtOnce(t *testing.T) {
	t.Run("folder", func(t *testing.T) { recordAtOnce(t, filepath.Join(disktest.Folder(t), "store")) })
	t.Run("server", func(t *testing.T) { recordAtOnce(t, storetest.EmptySchema(t)) })
}

// runAt runs a command as a user does who keeps all in one folder.
func runAt(home string, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(env{In: strings.NewReader(""), Out: &o, Err: &e, Now: time.Now,
		DirFS: func(dir string) fs.FS { return os.DirFS(dir) },
		Getenv: func(name string) string {
			return map[string]string{"XDG_DATA_HOME": home, "XDG_CACHE_HOME": filepath.Join(home, "cache")}[name]
		}}, args)
	return code, o.String(), e.String()
}

// oneMaster is a machine with one place, and a part that might go there.
const oneMaster = `source: list
sources: {list: {kind: factory parts list, title: A list}}
brands: {Tarnholt: {}}
parts:
  - {number: Tarnholt 207.7003, kind: master-cylinder}
models:
  skerry-620:
    maker: Tarnholt
    name: Skerry 620
    variants: [{year: 2002, market: eu}]
    assemblies:
      front-brake: {name: Front brake, positions: {master-cylinder: {kind: master-cylinder}}}
`

func recordAtOnce(t *testing.T, to string) {
	home, data := disktest.Folder(t), disktest.Folder(t)
	writeFile(t, data, "all.yaml", oneMaster)
	load := func() {
		t.Helper()
		if code, _, errs := runAt(home, "load", "--store", to, data); code != exitAnswered {
			t.Fatal(errs)
		}
	}
	load()
	record := func(who, id string) (int, string, string) {
		return runAt(home, "record", "207.7003", "--on", "skerry-620/2002", "--position", "front-brake/master-cylinder",
			"--verdict", "fits", "--method", "fitted", "--by", who, "--date", "2026-03-01", "--id", id, "--to", to)
	}
	const people, each = 8, 3
	var wait sync.WaitGroup
	for p := range people {
		wait.Go(func() {
			for n := range each {
				if code, _, errs := record(fmt.Sprint("p", p), fmt.Sprintf("p%d-%d", p, n)); code != exitAnswered {
					t.Errorf("p%d-%d: exit %d: %s", p, n, code, errs)
				}
			}
			if code, _, errs := record("all", "all-1"); code != exitAnswered {
				t.Errorf("what all say: exit %d: %s", code, errs)
			}
		})
	}
	wait.Wait()
	if code, _, _ := record("other", "all-1"); code == exitAnswered {
		t.Error("another finding of a name that is taken was recorded")
	}
	var gone atomic.Int32
	for p := range people {
		wait.Go(func() {
			code, _, errs := runAt(home, "record", "withdraw", "p0-0", "--why", fmt.Sprint("wrong, says p", p), "--to", to)
			switch {
			case code == exitAnswered:
				gone.Add(1)
			case !strings.Contains(errs, "p0-0 is withdrawn already"):
				t.Errorf("withdraw: %s", errs)
			}
		})
	}
	if wait.Wait(); gone.Load() != 1 {
		t.Errorf("one finding was withdrawn %d times", gone.Load())
	}
	for _, when := range []string{"at once", "after a load"} {
		code, out, errs := runAt(home, "record", "list", "--store", to, "--all", "--format", "csv")
		if code != exitAnswered {
			t.Fatal(errs)
		}
		for p := range people {
			for n := range each {
				if strings.Count(out, fmt.Sprintf("\np%d-%d,", p, n)) != 1 {
					t.Errorf("%s: p%d-%d is lost", when, p, n)
				}
			}
		}
		if strings.Count(out, "\nall-1,") != 1 || strings.Count(out, "wrong, says p") != 1 {
			t.Errorf("%s: want one all-1, and p0-0 withdrawn:\n%s", when, out)
		}
		if when == "at once" {
			load()
		}
	}
}
