package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/disk/disktest"
	"matewell/loader"
)

// A large findings file is kept as it was read, over the very store that was
// asked: the next question reads no file, and a change of either counts at once.
func TestLargeFindingsAreKept(t *testing.T) {
	home := disktest.Folder(t)
	file := filepath.Join(home, "mine.yaml")
	write := func(note string) {
		var b strings.Builder
		b.WriteString("findings:\n")
		for i := range 120 {
			fmt.Fprintf(&b, "  - id: mine-%d\n    part: Tarnholt 207.7003\n    position: "+
				"skerry-620:front-brake/master-cylinder\n"+
				"    on: [skerry-620/2002]\n    verdict: fits\n    method: fitted\n    date: 2024-05-01\n    by: gull\n    "+
				"note: %s\n", i, note)
		}
		if b.Len() <= shelf.FewFindings {
			t.Fatalf("%d bytes are few", b.Len())
		}
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	e, _, errs := testEnv(t)
	cached := cacheAt(demoCache(t))
	e.Getenv = func(name string) string {
		if name == shelf.FindingsVariable {
			return file
		}
		return cached(name)
	}
	e.DirFS = func(dir string) fs.FS { return os.DirFS(dir) }
	stores := func() int {
		cache, err := e.CacheDir()
		if err != nil {
			t.Fatal(err)
		}
		found, err := filepath.Glob(filepath.Join(cache, shelf.FindingsFolder, "*", "current"))
		if err != nil {
			t.Fatal(err)
		}
		return len(found)
	}
	ask := func(want string) {
		t.Helper()
		ctx := context.Background()
		o, err := shelf.Open(ctx, e, shelf.Where{Data: []string{shelf.DemoName}})
		if err != nil {
			t.Fatal(err, errs)
		}
		defer o.Close()
		found, err := o.Findings(ctx, "mine-7")
		if err != nil || len(found) != 1 || found[0].Note != want {
			t.Errorf("found %v, %v; want the note %q\n%s", found, err, want, errs)
		}
	}
	e.Now = func() time.Time { return time.Now().Add(2 * shelf.Settled) } // so that the file is no fresh one
	write("sits well")
	ask("sits well")
	if stores() != 1 {
		t.Errorf("%d stores kept, want one", stores())
	}
	ask("sits well")
	e.DirFS = func(string) fs.FS { return statOnly{os.DirFS(home)} }
	ask("sits well") // without the file being read
	e.DirFS = func(dir string) fs.FS { return os.DirFS(dir) }
	write("sits badly")
	ask("sits badly")
	ask("sits badly")
	if stores() != 1 {
		t.Errorf("%d stores kept, want one, anew", stores())
	}
	// What is added is read over what is kept, and kept over it once it is more than
	// a few; what is taken back stays so.
	for i := range 150 {
		text := fmt.Sprintf("- id: more-%d\n  part: Tarnholt 207.7003\n  position: skerry-620:front-brake/"+
			"master-cylinder\n  on: [skerry-620/2002]\n  verdict: fits\n  method: fitted\n  by: gull\n  note: added\n", i)
		if _, err := (loader.FindingFile{Path: file}).Add(t.Context(), []string{text}, nil); err != nil {
			t.Fatal(err)
		}
		if i == 2 {
			gone := "- finding: mine-3\n  why: read wrongly\n"
			if _, err := (loader.FindingFile{Path: file}).Add(t.Context(), nil, []string{gone}); err != nil {
				t.Fatal(err)
			}
		}
		if i < 5 || i%40 == 0 || i > 146 {
			ask("sits badly")
			askMore(t, e, i+1, i >= 2)
		}
	}
	if stores() != 2 {
		t.Errorf("%d stores kept, want the first and the second", stores())
	}
}

// statOnly are files that can be looked at and not read.
type statOnly struct{ fs.FS }

func (s statOnly) Stat(name string) (fs.FileInfo, error) { return fs.Stat(s.FS, name) }

func (s statOnly) Open(name string) (fs.File, error) { return nil, fmt.Errorf("%s is read", name) }

// askMore asks for all findings; those that were added are there, and one is taken
// back.
func askMore(t *testing.T, e desk.Env, added int, gone bool) {
	t.Helper()
	o, err := shelf.Open(t.Context(), e, shelf.Where{Data: []string{shelf.DemoName}})
	if err != nil {
		t.Fatal(err)
	}
	defer o.Close()
	found, err := o.Findings(t.Context())
	more := 0
	for _, f := range found {
		if f.Note == "added" {
			more++
		}
		if f.ID == "mine-3" && (f.Withdrawn != "") != gone {
			t.Errorf("after %d more, mine-3 is withdrawn: %q", added, f.Withdrawn)
		}
	}
	if err != nil || more != added {
		t.Errorf("%d of %d added are there, %v", more, added, err)
	}
}
