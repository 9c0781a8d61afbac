package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"matewell/cmd/matewell/internal/desk"
)

// TestRecordAsks types the answers to the questions of "matewell record", one
// of them wrong at first.
func TestRecordAsks(t *testing.T) {
	dir, cache := t.TempDir(), demoCache(t)
	var out, errs bytes.Buffer
	e := desk.Env{In: strings.NewReader(strings.Join([]string{
		"2074418B", "skerry-620/2004/eu", "calliper-left", "caliper-left", "does not fit",
		"nothing; hand tools / looked again", "mount.spacing=84.1 mm; vernier caliper", "meas\t", "", "16 mm apart", "gull"},
		"\r") + "\r"),
		Out: &out, Err: &errs, InTerm: true, OutTerm: true, Width: 80, DirFS: os.DirFS,
		Raw: func() (func(), error) { return func() {}, nil },
		Now: func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) },
		Getenv: func(name string) string {
			return map[string]string{"XDG_DATA_HOME": filepath.Join(dir, "data"), "XDG_CACHE_HOME": cache, "NO_COLOR": "1"}[name]
		}}
	if code := run(e, []string{"record", "--id", "gull-1"}); code != exitAnswered {
		t.Fatalf("exit %d\n%s\n%s", code, out.String(), errs.String())
	}
	if !strings.Contains(out.String(), `no position "calliper-left" on skerry-620; did you mean caliper-left`) {
		t.Errorf("the wrong position was not questioned:\n%s", out.String())
	}
	got, err := os.ReadFile(filepath.Join(dir, "data", "matewell", "findings.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	want := `# My own findings. Plain text: edit it, keep it under version control, pass it on.
findings:
  - id: gull-1
    part: Tarnholt 207.4418b
    position: skerry-620:front-brake/caliper-left
    on: [skerry-620/2004/eu]
    verdict: does not fit
    changes:
      - do: nothing
        effort: hand tools
      - do: looked again
        effort: none
    measured:
      - feature: mount
        dim: spacing
        value: 84.1 mm
        with: vernier caliper
    method: measured
    date: 2026-11-25
    by: gull
    note: 16 mm apart
`
	if string(got) != want {
		t.Errorf("recorded\n%s\nwant\n%s", got, want)
	}
}

// TestRecordStops: Ctrl-D at a question records nothing.
func TestRecordStops(t *testing.T) {
	dir, cache := t.TempDir(), demoCache(t)
	var out, errs bytes.Buffer
	e := desk.Env{In: strings.NewReader("2074418B\r\x04"), Out: &out, Err: &errs, InTerm: true, OutTerm: true,
		DirFS: os.DirFS, Now: time.Now,
		Raw: func() (func(), error) { return func() {}, nil },
		Getenv: func(name string) string {
			return map[string]string{"XDG_DATA_HOME": dir, "XDG_CACHE_HOME": cache}[name]
		}}
	if code := run(e, []string{"record"}); code != exitStopped {
		t.Errorf("exit %d, want %d\n%s", code, exitStopped, errs.String())
	}
	if _, err := os.Stat(filepath.Join(dir, "matewell", "findings.yaml")); err == nil {
		t.Error("something was recorded")
	}
}

// TestStartAsks types the answers to the questions of "matewell start", one of
// them wrong at first; Enter takes the commonest.
func TestStartAsks(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "box")
	var out, errs bytes.Buffer
	e := desk.Env{In: strings.NewReader("Tarnholt\rHolm 400\r1982\rup\t\r\rdisk\rdrum\rshaft\rtwin" + strings.Repeat("\r",
		12)), Out: &out, Err: &errs,
		InTerm: true, OutTerm: true, Width: 80, DirFS: os.DirFS, Raw: func() (func(), error) { return func() {}, nil },
		Now:    func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) },
		Getenv: func(string) string { return "" }}
	if code := run(e, []string{"start", dir}); code != exitAnswered {
		t.Fatalf("exit %d\n%s\n%s", code, out.String(), errs.String())
	}
	if !strings.Contains(out.String(), "want disc or drum") {
		t.Errorf("the wrong word was not questioned:\n%s", out.String())
	}
	text, err := os.ReadFile(filepath.Join(dir, "holm-400.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"- fork-upside-down ", "- front-discs-two ", "- rear-drum-shaft ", "- shocks-twin ",
		"- cylinders-2 ", "year: 1982"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}
