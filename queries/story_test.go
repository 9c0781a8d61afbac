package queries_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/instoretest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestStories runs every story of testdata/queries that asks what this package
// answers. A story is a sentence, a small data set in the format of data files,
// and pairs of files "ask" and "want" ("ask-near" goes with "want-near").
// MATEWELL_UPDATE=1 rewrites what is wanted: read the difference as if it were
// code.
func TestStories(t *testing.T) {
	dir := filepath.Join("..", "testdata", "queries")
	var stories []string
	for _, pattern := range []string{"fits_*.txtar", "differ_*.txtar", "part_*.txtar", "identify_*.txtar", "find_*.txtar",
		"why_*.txtar", "bike_*.txtar", "conflicts_*.txtar", "swap_*.txtar", "plan_*.txtar"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		if len(found) == 0 {
			t.Errorf("no story %s", pattern)
		}
		stories = append(stories, found...)
	}
	for _, file := range stories {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) { runStory(t, file) })
	}
}

func runStory(t *testing.T, file string) {
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(archive.Comment), ".") {
		t.Error("the story does not begin with a sentence")
	}
	facts := demotest.Story(t, archive)
	r, kept := readertest.New(facts), instoretest.New(t, facts)
	asked := 0
	for _, f := range archive.Files {
		suffix, isAsk := strings.CutPrefix(f.Name, "ask")
		if !isAsk {
			continue
		}
		asked++
		at := slices.IndexFunc(archive.Files, func(w txtar.File) bool { return w.Name == "want"+suffix })
		if at < 0 {
			t.Fatalf("%s has no want%s", f.Name, suffix)
		}
		got, answer := answerText(context.Background(), r, strings.TrimSpace(string(f.Data)))
		checkJSON(t, f.Name, answer)
		checkExit(t, f.Name, answer)
		if fromStore, _ := answerText(context.Background(), kept, strings.TrimSpace(string(f.Data))); fromStore != got {
			t.Errorf("%s: from the store:\n%s\nfrom the facts:\n%s", f.Name, fromStore, got)
		}
		if want := string(archive.Files[at].Data); got != want {
			if os.Getenv("MATEWELL_UPDATE") == "" {
				t.Errorf("%s %s\ngot:\n%s\nwant:\n%s", f.Name, f.Data, got, want)
			}
			archive.Files[at].Data = []byte(got)
		}
	}
	if asked == 0 {
		t.Error("the story asks nothing")
	}
	if os.Getenv("MATEWELL_UPDATE") != "" {
		if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// unfilled is an answer whose empty lists the command line fills.
type unfilled struct{ swap.SwapReport }

// checkExit holds the words of an answer against its exit status: whatever it calls
// unknown or no fit with a safety class makes it an unsafe one.
func checkExit(t *testing.T, name string, answer any) {
	t.Helper()
	a, ok := answer.(interface{ SafetyOpen() bool })
	if f, all := answer.(fits.FitsAnswer); !ok || a.SafetyOpen() || all && f.Part == nil {
		return // of all that could go to the places of a machine, one that does is enough
	}
	if open := demotest.OpenClasses(t, answer); len(open) > 0 {
		t.Errorf("%s: %s, and yet it counts as safe", name, strings.Join(open, "; "))
	}
}

// checkJSON looks for lists that an answer prints as null.
func checkJSON(t *testing.T, name string, answer any) {
	t.Helper()
	text, err := json.Marshal(answer)
	if err != nil {
		t.Fatal(err)
	}
	if _, filled := answer.(unfilled); answer != nil && !filled && strings.Contains(string(text), ":null") {
		t.Errorf("%s: a null is printed: %s", name, text)
	}
}
