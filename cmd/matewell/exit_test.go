package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/disk/disktest"
	"matewell/graph/store"
)

// testEnv is an env of buffers. Its user has folders of their own that are
// gone when the test ends, and no files but those a test adds.
func testEnv(t testing.TB) (e desk.Env, out, errs *bytes.Buffer) {
	t.Helper()
	out, errs = new(bytes.Buffer), new(bytes.Buffer)
	variables := map[string]string{"XDG_DATA_HOME": disktest.Folder(t), "XDG_CACHE_HOME": disktest.Folder(t)}
	return desk.Env{
		In: strings.NewReader(""), Out: out, Err: errs,
		Now:    func() time.Time { return time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC) },
		Getenv: func(name string) string { return variables[name] },
		DirFS:  func(string) fs.FS { return fstest.MapFS{} },
	}, out, errs
}

const goodSources = `sources:
  list:
    kind: factory parts list
    title: A list
`

func TestRunExitCode(t *testing.T) {
	files := map[string]fs.FS{
		"good": fstest.MapFS{"sources.yaml": {Data: []byte(goodSources)}},
		"bad":  fstest.MapFS{"sources.yaml": {Data: []byte("sauces:\n  list: {}\n")}},
	}
	tests := []struct {
		name string
		args string
		want int
	}{
		{"help", "--help", exitAnswered},
		{"no command", "", exitAnswered},
		{"version", "version", exitAnswered},
		{"good data", "check good", exitAnswered},
		{"bad data", "check bad", exitFailed},
		{"bad data as JSON", "check bad --format json", exitFailed},
		{"no such folder", "check nowhere", exitFailed},
		{"unknown command", "chekc", exitUsage},
		{"unknown help topic", "help chekc", exitUsage},
		{"a number that is too long", "fits " + strings.Repeat("7", mostTyped), exitFailed},
		{"words that are too long", "where " + strings.Repeat("a", mostTyped), exitFailed},
		{"more than is read", "find " + strings.Repeat("a", mostTyped+1), exitUsage},
		{"unknown flag", "check good --colour", exitUsage},
		{"no argument", "check", exitUsage},
		{"one argument too many", "version 2", exitUsage},
		{"unknown format", "check good --format xml", exitUsage},
		{"load bad data", "load bad", exitFailed},
		{"load good data", "load good", exitAnswered},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e, _, errs := testEnv(t)
			e.DirFS = func(dir string) fs.FS {
				if files[dir] == nil {
					return os.DirFS("no such folder")
				}
				return files[dir]
			}
			if got := run(e, strings.Fields(tt.args)); got != tt.want {
				t.Errorf("run(%q) = %d, want %d; it said:\n%s", tt.args, got, tt.want, errs)
			}
		})
	}
}

// TestReport covers what no command line brings about in a test.
func TestReport(t *testing.T) {
	tests := []struct {
		name string
		err  error
		want int
		says string
	}{
		{"unsafe answer", desk.ErrUnsafe, exitUnsafe, ""},
		{"reported already", desk.ErrSaid, exitFailed, ""},
		{"reader closed the pipe", errors.Join(errors.New("print"), syscall.EPIPE), exitAnswered, ""},
		{"Ctrl-C", context.Canceled, exitStopped, "matewell: stopped\n"},
		{"failure", errors.New("disk full"), exitFailed, "matewell: disk full\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e, out, errs := testEnv(t)
			if got := report(e, newRootCmd(e), tt.err); got != tt.want {
				t.Errorf("code %d, want %d", got, tt.want)
			}
			if errs.String() != tt.says || out.Len() != 0 {
				t.Errorf("said %q on standard error and %q on standard output, want %q and nothing", errs, out, tt.says)
			}
		})
	}
}

// full is a disk with no room left.
type full struct{}

func (full) Write([]byte) (int, error) {
	return 0, &fs.PathError{Op: "write", Path: "/dev/stdout", Err: errors.New("no space left")}
}

// TestOutputThatCantBeWritten: whichever command prints, and whatever its answer comes to,
// an answer that can't be written is told in the same words, with the same exit status.
func TestOutputThatCantBeWritten(t *testing.T) {
	cached := cacheAt(demoCache(t))
	for _, args := range []string{"", "help", "--help", "start --help", "help fits", "help kinds", "help answers",
		"version", "--version", "list sources", "list sources --format json", "list sources --format csv", "schema fits",
		"completion bash", "record list", "fits 207.4418b --on skerry-620/2004/eu", "__complete li"} {
		t.Run(args, func(t *testing.T) {
			e, _, errs := testEnv(t)
			e.Getenv, e.Out = cached, full{}
			if code := run(e, strings.Fields(args)); code != exitFailed {
				t.Errorf("exit %d, want %d", code, exitFailed)
			}
			want := "matewell: what is printed here can't be written: no space left\n"
			if !strings.HasSuffix(errs.String(), want) {
				t.Errorf("said %q, want %q at the end", errs, want)
			}
		})
	}
}

// TestDamaged: of a damaged store it is said which command loads it again; what was only
// kept to be quicker is thrown away, and the next question makes it again.
func TestDamaged(t *testing.T) {
	damaged := func(stores ...shelf.OpenedStore) error {
		return shelf.Opened{From: stores}.Damaged(fmt.Errorf("read: %w", store.ErrDamaged))
	}
	e, _, errs := testEnv(t)
	both := damaged(shelf.OpenedStore{Root: t.TempDir(), Load: `matewell load --store "my set"`},
		shelf.OpenedStore{Load: "matewell load --store postgres://h/d"})
	if code := report(e, newRootCmd(e), both); code != exitFailed {
		t.Errorf("exit %d", code)
	}
	want := `matewell: read: the store is damaged
matewell: load it again, with: matewell load --store "my set" DIR
matewell: load it again, with: matewell load --store postgres://h/d DIR
`
	if errs.String() != want {
		t.Errorf("got %s\nwant %s", errs, want)
	}
	cache := demoCache(t)
	kept, err := filepath.Glob(filepath.Join(cache, "matewell", "*"))
	if err != nil || len(kept) == 0 {
		t.Fatalf("nothing is kept: %v", err)
	}
	errs.Reset()
	report(e, newRootCmd(e), damaged(shelf.OpenedStore{Root: kept[0]}))
	if !strings.HasSuffix(errs.String(), "thrown away: ask again\n") || strings.Contains(errs.String(), "matewell load") {
		t.Errorf("said %s", errs)
	}
	if _, err := store.OpenCurrent(kept[0]); !errors.Is(err, store.ErrNoGeneration) {
		t.Errorf("it is there still: %v", err)
	}
}

// TestErrorsFitTheTerminal: an error is broken into lines for a person, and stays one line
// for a program.
func TestErrorsFitTheTerminal(t *testing.T) {
	long := errors.New(strings.Repeat("no such part here; ", 12))
	e, _, errs := testEnv(t)
	sayError(e, long)
	if n := strings.Count(errs.String(), "\n"); n != 1 {
		t.Errorf("%d lines into a pipe, want 1", n)
	}
	errs.Reset()
	e.OutTerm, e.Width = true, 60
	sayError(e, long)
	for line := range strings.SplitSeq(strings.TrimSuffix(errs.String(), "\n"), "\n") {
		if len(line) > e.Width {
			t.Errorf("%d columns on a terminal of %d: %s", len(line), e.Width, line)
		}
	}
}

// Of an argument that nobody typed little is looked up, and little said again.
func TestLongArgument(t *testing.T) {
	demoCache(t)
	for _, long := range []string{strings.Repeat("7", 100_000), strings.Repeat("7", mostTyped),
		strings.Repeat("a b-", mostTyped/40)} {
		for _, args := range [][]string{{"fits", long}, {"find", long}, {"list", long}} {
			e, _, errs := testEnv(t)
			began := time.Now()
			if code := run(e, args); code != exitUsage && code != exitFailed {
				t.Errorf("%s of %d letters: exit %d", args[0], len(long), code)
			}
			if took := time.Since(began); took > 10*time.Second {
				t.Errorf("%s of %d letters takes %s", args[0], len(long), took)
			}
			if errs.Len() > 1000 {
				t.Errorf("%s of %d letters: %d bytes of errors: %.300s", args[0], len(long), errs.Len(), errs)
			}
		}
	}
}
