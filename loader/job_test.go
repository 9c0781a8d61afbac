package loader_test

import (
	"fmt"
	"slices"
	"strings"
	"testing/fstest"

	"os"
	"path/filepath"
	"reflect"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
	"matewell/loader"
)

// A job keeps its lines in order, each with its own scope and its own source; a line
// without a source goes by that of the job.
func TestJobIsRead(t *testing.T) {
	facts, _ := load(t, "", os.DirFS(filepath.Join(fixtures, "everything.good")))
	if len(facts.Jobs) != 1 {
		t.Fatalf("%d jobs, want 1", len(facts.Jobs))
	}
	j := facts.Jobs[0]
	cite := func(source string, line, col int) []graph.Cite {
		return []graph.Cite{{Source: graph.SourceID(source), Pos: diag.Pos{File: "jobs/caliper.yaml", Line: line, Col: col}}}
	}
	if j.ID != "front-caliper" || !reflect.DeepEqual(j.Places, []graph.PositionID{"skerry-620:front-brake/caliper-left"}) {
		t.Errorf("job %q at %v", j.ID, j.Places)
	}
	if p := j.Parts[1]; p.Text != "piston seal" || p.Part != "" || p.Quantity != 4 || !p.Renew ||
		p.Scope.Years != (measure.Years{From: 2001, To: 2002}) || !reflect.DeepEqual(p.Said, cite("bench-notes", 11, 9)) {
		t.Errorf("second part is %+v", p)
	}
	if p := j.Parts[0]; p.Part != "Tarnholt 207.4418c" || p.Text != "" || p.Quantity != 2 {
		t.Errorf("first part is %+v", p)
	}
	if l := j.Look[0]; l.For != "pits" || l.Limit != "at least 33.9 mm" || l.Gauge != "micrometer" || len(l.Said) != 2 {
		t.Errorf("thing to inspect is %+v", l)
	}
	want := []graph.JobLine{{Text: "take it off", Said: cite("parts-list-2003", 17, 9)}, {Text: "fit new seals",
		Said: cite("bench-notes", 18, 9)}}
	if !reflect.DeepEqual(j.Steps, want) {
		t.Errorf("steps are %+v, want %+v", j.Steps, want)
	}
}

// A job is for places of models or for kinds of any machine: never for both, neither or
// half of it.
func TestJobIsForSomething(t *testing.T) {
	const steps = ", source: s, steps: [take it off]}\n"
	tests := []struct{ name, job, want string }{
		{"kinds", `{name: Rebuild it, kinds: [caliper]` + steps, ""},
		{"kinds and models", `{name: Rebuild it, kinds: [caliper], models: [holm]` + steps, "bad-value unknown-model"},
		{"no such kind", `{name: Rebuild it, kinds: [calliper]` + steps, "unknown-kind"},
		{"neither", `{name: Rebuild it` + steps, "missing-key"},
		{"no places", `{name: Rebuild it, models: [holm]` + steps, "missing-key unknown-model"},
		{"no models", `{name: Rebuild it, places: [brake/caliper]` + steps, "missing-key"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := "sources:\n  s: {kind: common practice, title: Bench}\njobs:\n  it: " + tt.job
			_, probs := load(t, "", fstest.MapFS{
				"kinds/k.yaml": {Data: []byte("kinds:\n  caliper: {is: presses pads, source: s}\n")},
				"jobs/j.yaml":  {Data: []byte(text)}})
			var codes []string
			for _, d := range probs.Sorted() {
				codes = append(codes, string(d.Code))
			}
			slices.Sort(codes)
			if got := strings.Join(codes, " "); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// Of the standard jobs a data set gets those on kinds that sit somewhere, with those
// kinds alone, and the source of the jobs only with one of them.
func TestStandardJobsThatAreOfUse(t *testing.T) {
	set, err := loader.StandardSet(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(set.Jobs) < 10 {
		t.Fatalf("%d standard jobs", len(set.Jobs))
	}
	const machine = `
sources: {s: {kind: common practice, title: Bench}}
brands: {Tarnholt: {source: s}}
models:
  holm:
    maker: Tarnholt
    name: Holm
    source: s
    variants: [{year: 1982, market: eu}]
    assemblies:
      controls:
        name: Controls
        positions:
          line: {kind: %s, name: what is there}
`
	for _, tt := range []struct{ kind, want string }{
		{"throttle-cable", "any-cable [throttle-cable] standard-jobs"},
		{"horn", ""},
	} {
		t.Run(tt.kind, func(t *testing.T) {
			var probs diag.List
			facts, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "own",
				FS: fstest.MapFS{"m.yaml": {Data: fmt.Appendf(nil, machine, tt.kind)}}}}, &probs)
			if err != nil || probs.Err() != nil {
				t.Fatal(err, probs.Err())
			}
			var got []string
			for _, j := range facts.Jobs {
				got = append(got, string(j.ID), fmt.Sprint(j.Kinds))
			}
			for _, s := range facts.Sources {
				if s.ID == "standard-jobs" {
					got = append(got, string(s.ID))
				}
			}
			if got := strings.Join(got, " "); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
