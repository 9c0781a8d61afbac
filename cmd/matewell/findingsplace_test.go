package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
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
	code = run(desk.Env{In: strings.NewReader(""), Out: &o, Err: &e, Now: time.Now,
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

// TestFindingsOfServerKept: what a server keeps of findings is read from there once, and
// again after each change of it, and of what it is about.
func TestFindingsOfServerKept(t *testing.T) {
	const many = 200
	to := storetest.EmptySchema(t)
	home, data := disktest.Folder(t), disktest.Folder(t)
	ask := func(args ...string) string {
		t.Helper()
		code, out, errs := runAt(home, args...)
		if code != exitAnswered && code != exitUnsafe {
			t.Fatal(errs)
		}
		return out
	}
	writeFile(t, data, "all.yaml", oneMaster)
	ask("load", "--store", to, data)
	var items []string
	for n := range many {
		items = append(items, fmt.Sprintf("- id: g-%03d\n  part: Tarnholt 207.7003\n"+
			"  position: skerry-620:front-brake/master-cylinder\n  on: [skerry-620/2002/eu]\n  verdict: fits\n"+
			"  method: fitted\n  date: 2026-03-01\n  by: gull\n", n))
	}
	if _, err := (shelf.FindingsPlace{Server: to}).Add(t.Context(), items, nil); err != nil {
		t.Fatal(err)
	}
	list := func() string { return ask("record", "list", "--store", to, "--all", "--format", "csv") }
	if n := strings.Count(list(), ",gull"); n != many {
		t.Fatalf("%d findings, want %d:\n%.300s", n, many, list())
	}
	kept, err := filepath.Glob(filepath.Join(home, "cache", "matewell", shelf.NotesFolder, "*"))
	if err != nil || len(kept) != 1 {
		t.Fatalf("kept: %v, %v", kept, err)
	}
	text, err := os.ReadFile(kept[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(kept[0], bytes.ReplaceAll(text, []byte("by: gull"), []byte("by: tern")), 0o600); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(list(), ",tern"); n != many {
		t.Errorf("what was kept was read again from the server: %d findings of it", n)
	}
	ask("record", "207.7003", "--on", "skerry-620/2002", "--position", "front-brake/master-cylinder", "--verdict",
		"fits", "--method", "fitted", "--by", "gull", "--date", "2026-03-02", "--id", "one-more", "--to", to)
	if n := strings.Count(list(), ",gull"); n != many+1 {
		t.Errorf("after one more: %d findings, want %d", n, many+1)
	}
	writeFile(t, data, "all.yaml", strings.ReplaceAll(oneMaster, "Front brake", "Brake in front"))
	ask("load", "--store", to, data)
	if out := ask("fits", "--store", to, "207.7003"); !strings.Contains(out, "fits") {
		t.Errorf("after a load:\n%s", out)
	}
	writeFile(t, data, "all.yaml", strings.ReplaceAll(oneMaster, "front-brake: {", "rear-brake: {"))
	ask("load", "--store", to, data)
	_, out, _ := runAt(home, "fits", "--store", to, "207.7003")
	if !strings.Contains(out, "Nobody says anything") || !strings.Contains(out, "Left out of your own findings") {
		t.Errorf("the place that findings speak of is gone:\n%s", out)
	}
}

// TestRecordLooksInTheTarget: a finding that stands in one's own file already is new to a
// store that others share, whether it is typed or taken from a sheet; the second time it
// is known there. One's own file is no part of that.
func TestRecordLooksInTheTarget(t *testing.T) {
	t.Run("folder", func(t *testing.T) { recordToBoth(t, filepath.Join(disktest.Folder(t), "store")) })
	t.Run("server", func(t *testing.T) { recordToBoth(t, storetest.EmptySchema(t)) })
}

func recordToBoth(t *testing.T, to string) {
	home, other, data := disktest.Folder(t), disktest.Folder(t), disktest.Folder(t)
	writeFile(t, data, "all.yaml", oneMaster)
	writeFile(t, other, "sheet.csv", "part,feature,dimension,value,with,position\n"+
		"Tarnholt 207.7003,outlet,thread,M10x1,thread gauge,\n")
	for _, args := range [][]string{{"load", "--store", to, data}, {"load", data}} {
		if code, _, errs := runAt(home, args...); code != exitAnswered {
			t.Fatal(errs)
		}
	}
	typed := []string{"record", "207.7003", "--on", "skerry-620/2002", "--position", "front-brake/master-cylinder",
		"--verdict", "fits", "--method", "fitted", "--by", "gull", "--date", "2026-03-01"}
	sheet := []string{"record", "--from", filepath.Join(other, "sheet.csv"), "--by", "heron", "--date", "2026-03-01"}
	for _, args := range [][]string{typed, sheet} {
		shared := append(slices.Clone(args), "--to", to)
		for _, try := range []struct {
			args  []string
			known bool
		}{{args, false}, {shared, false}, {shared, true}, {args, true}} {
			code, out, errs := runAt(home, try.args...)
			if known := strings.Contains(out, "recorded before"); code != exitAnswered || known != try.known {
				t.Errorf("%q: exit %d, known %t, want %t\n%s%s", try.args, code, known, try.known, out, errs)
			}
		}
	}
	_, out, errs := runAt(other, "record", "list", "--store", to, "--format", "csv")
	if strings.Count(out, "\ngull-") != 1 || strings.Count(out, "\nheron-") != 1 {
		t.Errorf("another user sees of the store:\n%s%s", out, errs)
	}
}
