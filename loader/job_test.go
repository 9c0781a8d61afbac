package loader_test

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
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
