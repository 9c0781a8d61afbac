package loader_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk/disktest"
	"matewell/graph/sampletest"
	"matewell/loader"
)

// TestMain lets the test binary stand in for a second process that records.
func TestMain(m *testing.M) {
	path := os.Getenv("MATEWELL_TEST_RECORDER")
	if path == "" {
		debug.SetGCPercent(400) // much is filled for a moment only
		os.Exit(m.Run())
	}
	who, many, _ := strings.Cut(os.Getenv("MATEWELL_TEST_RECORDS"), " ")
	n, err := strconv.Atoi(many)
	for i := 0; i < n && err == nil; i++ {
		err = recordOne(path, graph.FindingID(fmt.Sprintf("%s-%d", who, i)))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// boltPart is a part of the good data set "common".
const boltPart = "Tarnholt 207.4418b"

func recordOne(path string, id graph.FindingID) error {
	text, err := loader.FindingText(graph.Finding{ID: id, Part: boltPart, Method: graph.MethodMeasured,
		Measured: []graph.Measured{{Feature: "port", Dim: "thread", Text: "M10x1", With: "thread gauge"}}})
	if err != nil {
		return err
	}
	_, err = loader.FindingFile{Path: path}.Add(context.Background(), []string{text}, nil)
	return err
}

// readFindings loads a findings file over the good data set.
func readFindings(t *testing.T, text []byte) []graph.Finding {
	t.Helper()
	files := overlay(t, filepath.Join(fixtures, "common"))
	mine := overlay(t)
	mine["mine.yaml"] = &fstest.MapFile{Data: text}
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{{Name: "common", FS: files}, {Name: "mine", FS: mine}},
		&probs)
	if err != nil || probs.Err() != nil {
		t.Fatalf("load: %v, %v", err, probs.Err())
	}
	return facts.Findings
}

func TestFindingTextRoundTrip(t *testing.T) {
	full := graph.Finding{ID: "gull-1", Part: boltPart, Position: "skerry-620:front-brake/caliper-left",
		On: []graph.VariantID{"skerry-620/2001/eu"}, Verdict: graph.FitsWithChanges,
		Changes:  []graph.Change{{Do: "shim: 2 mm, outward", Effort: graph.EffortDrillShim, Part: boltPart}},
		Measured: []graph.Measured{{Feature: "port", Dim: "thread", Text: "M10x1", With: "thread gauge"}},
		Method:   graph.MethodPhoto, Date: "2024-05-11", By: "gull: the #1", Origin: "gull-0",
		Photos: []string{"left, from below.jpg"}, Note: "two lines\n- of it\n# and a hash",
		Withdrawn: "yes", WithdrawnOn: "2024-06-01"}
	text, err := loader.FindingText(full)
	if err != nil {
		t.Fatal(err)
	}
	got := readFindings(t, []byte("findings:\n"+text))
	if len(got) != 1 {
		t.Fatalf("read %d findings back, want 1", len(got))
	}
	got[0].Pos = diag.Pos{}
	if !reflect.DeepEqual(got[0], full) {
		t.Errorf("read back\n%+v\nwant\n%+v\ntext\n%s", got[0], full, text)
	}
}

func TestAddFindingKeepsTheRest(t *testing.T) {
	const item = "- id: new\n  part: " + boltPart + "\n"
	tests := []struct {
		name, before, after string
	}{
		{"no file text", "", "findings:\n  " + strings.ReplaceAll(item, "\n  ", "\n    ")},
		{"only a comment", "# mine\n", "# mine\nfindings:\n  - id: new\n    part: " + boltPart + "\n"},
		{"at the end", "findings:\n- id: a # first\n", "findings:\n- id: a # first\n- id: new\n  part: " + boltPart + "\n"},
		{"no last line end", "findings:\n- id: a", "findings:\n- id: a\n- id: new\n  part: " + boltPart + "\n"},
		{"lines end as on Windows", "findings:\r\n- id: a\r\n",
			"findings:\r\n- id: a\r\n- id: new\r\n  part: " + boltPart + "\r\n"},
		{"so do those of a new list", "source: x\r\n# end",
			"source: x\r\n# end\r\nfindings:\r\n  - id: new\r\n    part: " + boltPart + "\r\n"},
		{"empty list", "findings:\n", "findings:\n  - id: new\n    part: " + boltPart + "\n"},
		{"before another key", "findings:\n  - id: a\n\n# taken back\nwithdrawals: []\n",
			"findings:\n  - id: a\n  - id: new\n    part: " + boltPart + "\n\n# taken back\nwithdrawals: []\n"},
		{"a hash in a text is no comment", "findings:\n  - note: |\n      one\n      # two\nsource: x\n",
			"findings:\n  - note: |\n      one\n      # two\n  - id: new\n    part: " + boltPart + "\nsource: x\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(disktest.Folder(t), "mine.yaml")
			if err := os.WriteFile(path, []byte(tt.before), 0o600); err != nil {
				t.Fatal(err)
			}
			if _, err := (loader.FindingFile{Path: path}).Add(context.Background(), []string{item}, nil); err != nil {
				t.Fatal(err)
			}
			got, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != tt.after {
				t.Errorf("got\n%s\nwant\n%s", got, tt.after)
			}
		})
	}
}

func TestAddFindingLeavesTheFileAlone(t *testing.T) {
	tests := []struct{ name, before string }{
		{"not YAML", "findings: [\n"},
		{"a list at the top", "- id: a\n"},
		{"a list in brackets", "findings: [{id: a}]\n"},
		{"a second document", "findings:\n- id: a\n---\nsource: b\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(disktest.Folder(t), "mine.yaml")
			if err := os.WriteFile(path, []byte(tt.before), 0o600); err != nil {
				t.Fatal(err)
			}
			if _, err := (loader.FindingFile{Path: path}).Add(context.Background(), []string{"- id: b\n"}, nil); err == nil {
				t.Error("no error")
			}
			if got, err := os.ReadFile(path); err != nil || string(got) != tt.before {
				t.Errorf("the file now reads %q (%v), want %q", got, err, tt.before)
			}
		})
	}
}

// Two processes that record 200 findings each at the same time lose none.
func TestAddFindingFromTwoProcesses(t *testing.T) {
	each := sampletest.Of(t, 40, 200)
	path := filepath.Join(disktest.Folder(t), "deep", "mine.yaml")
	var running []*exec.Cmd
	for _, who := range []string{"gull", "heron"} {
		c := recorder(path, who, each)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, c)
	}
	for _, c := range running {
		if err := c.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(readFindings(t, text)); got != 2*each {
		t.Errorf("%d findings in the file, want %d", got, 2*each)
	}
}

// A process killed while it records leaves a file that can be read, with every
// finding it had said it recorded.
func TestAddFindingKilled(t *testing.T) {
	path := filepath.Join(disktest.Folder(t), "mine.yaml")
	for round := range 5 {
		c := recorder(path, fmt.Sprintf("round%d", round), 100000)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		awaitGrowth(t, path)
		if err := c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = c.Wait() // it was killed
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(readFindings(t, text)) == 0 {
			t.Error("no finding survived")
		}
	}
	if err := recordOne(path, "after"); err != nil {
		t.Errorf("the next one can't record: %v", err)
	}
}

func recorder(path, who string, many int) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "MATEWELL_TEST_RECORDER="+path, fmt.Sprintf("MATEWELL_TEST_RECORDS=%s %d", who, many))
	c.Stderr = os.Stderr
	return c
}

// awaitGrowth waits until the file has grown by a few findings.
func awaitGrowth(t *testing.T, path string) {
	t.Helper()
	size := func() int64 {
		info, err := os.Stat(path)
		if err != nil {
			return 0
		}
		return info.Size()
	}
	for start := size(); size() < start+1000; {
		if t.Context().Err() != nil {
			t.Fatal("nothing was recorded")
		}
	}
}

// TestSameFindingAtOnceStaysOne records one finding many times at once: whoever
// comes second finds it there.
func TestSameFindingAtOnceStaysOne(t *testing.T) {
	path := filepath.Join(disktest.Folder(t), "mine.yaml")
	item := "- id: gull-1\n  part: Tarnholt 1\n  method: fitted\n"
	var added atomic.Int32
	var wait sync.WaitGroup
	for range 40 {
		wait.Go(func() {
			ids, err := (loader.FindingFile{Path: path}).Add(context.Background(), []string{item}, nil)
			if err != nil {
				t.Error(err)
			}
			added.Add(int32(len(ids)))
		})
	}
	wait.Wait()
	body, err := os.ReadFile(path)
	if err != nil || strings.Count(string(body), "gull-1") != 1 || added.Load() != 1 {
		t.Errorf("added %d times, %v:\n%s", added.Load(), err, body)
	}
	gone := func(why string) int {
		ids, err := (loader.FindingFile{Path: path}).Add(context.Background(), nil,
			[]string{"- finding: gull-1\n  why: " + why + "\n"})
		if err != nil {
			t.Error(err)
		}
		return len(ids)
	}
	added.Store(0)
	for i := range 8 {
		wait.Go(func() { added.Add(int32(gone(fmt.Sprint("reason ", i)))) })
	}
	wait.Wait()
	body, err = os.ReadFile(path)
	if err != nil || strings.Count(string(body), "reason") != 1 || added.Load() != 1 {
		t.Errorf("taken back %d times, %v:\n%s", added.Load(), err, body)
	}
	_, err = loader.FindingFile{Path: path}.Add(context.Background(),
		[]string{strings.Replace(item, "fitted", "measured", 1)}, nil)
	if !errors.Is(err, loader.ErrTaken) {
		t.Errorf("another finding of that name: %v", err)
	}
	if err := os.WriteFile(path, []byte("withdrawals:\n- ? finding\n  : gull-1\n  why: no\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if n := gone("again"); n != 0 {
		t.Errorf("taken back %d times in a file that is written another way", n)
	}
}
