package loader_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
	"matewell/queries/readertest"
)

// below is the good set that the layers of these tests lie over.
func below(t *testing.T) *readertest.Reader {
	t.Helper()
	facts, probs := load(t, "shipped", os.DirFS(filepath.Join(fixtures, "everything.good")))
	if err := probs.Err(); err != nil {
		t.Fatal(err)
	}
	return readertest.New(facts)
}

func loadOver(t *testing.T, base graph.Reader, files map[string]string) (graph.Facts, fstest.MapFS, *diag.List) {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, body := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(body)}
	}
	var probs diag.List
	facts, err := loader.LoadOver(context.Background(), base, []loader.Layer{{FS: fsys}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	return facts, fsys, &probs
}

const myFinding = `findings:
  - id: gull-1
    part: Tarnholt 207-4418b
    position: skerry-620:front-brake/caliper-left
    on: [skerry-620/2001]
    verdict: fits
    measured: [{feature: port, dim: depth, value: 11.9 mm}]
    method: measured
`

func TestFindingOverBase(t *testing.T) {
	base := below(t)
	facts, fsys, probs := loadOver(t, base, map[string]string{"mine.yaml": myFinding})
	if probs.Len() > 0 {
		t.Fatal(report(t, fsys, probs))
	}
	want := `Findings {"ID":"gull-1","Measured":[{"Dim":"depth","Feature":"port","Text":"11.9 mm"}],"Method":"measured",` +
		`"On":["skerry-620/2001/eu"],"Part":"Tarnholt 207.4418b","Pos":"mine.yaml:2:5","Position":"skerry-620:front-brake/caliper-left","Verdict":"fits"}` + "\n"
	if got := text(t, facts); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// However many findings there are, the base is read a fixed number of times, and is read.
func TestReadsAreBatched(t *testing.T) {
	reads := func(findings int) (total int) {
		base := below(t)
		body := "findings:\n"
		for i := range findings {
			body += strings.Replace(strings.TrimPrefix(myFinding, "findings:\n"), "gull-1", "gull-"+strings.Repeat("x", i+1), 1)
		}
		if _, fsys, probs := loadOver(t, base, map[string]string{"mine.yaml": body}); probs.Len() > 0 {
			t.Fatal(report(t, fsys, probs))
		}
		for _, n := range base.Calls() {
			total += n
		}
		return total
	}
	if one, many := reads(1), reads(50); one != many || one == 0 || one > 12 {
		t.Errorf("%d reads for one finding, %d for fifty", one, many)
	}
}

// A layer may add features to a part of the base; what only the base says of
// the part is not said again.
func TestPartOverBase(t *testing.T) {
	facts, fsys, probs := loadOver(t, below(t), map[string]string{"mine.yaml": `
source: my-bench
sources: {my-bench: {kind: measurement, title: My bench}}
parts:
  - number: Tarnholt 207.4418b
    features:
      mount: {spacing: 84.2 mm}
`})
	if probs.Len() > 0 {
		t.Fatal(report(t, fsys, probs))
	}
	if len(facts.Parts) != 1 || facts.Parts[0].Kind != "" || facts.Parts[0].Name != "" ||
		len(facts.Parts[0].Features) != 1 {
		t.Errorf("got %+v", facts.Parts)
	}
	if len(facts.Sources) != 1 || len(facts.Kinds)+len(facts.Brands)+len(facts.Positions) > 0 {
		t.Errorf("facts of the base came back: %s", text(t, facts))
	}
}

// A source of the layer that has the name of another one in the base is its own.
func TestSourceOverBase(t *testing.T) {
	facts, fsys, probs := loadOver(t, below(t), map[string]string{"mine.yaml": "source: bench-notes\n" +
		"sources: {bench-notes: {kind: report, title: Mine}}\nparts: [{number: Tarnholt 207.4418b, features: {mount: " +
		"{spacing: 84.2 mm}}}]\n"})
	if probs.Len() > 0 {
		t.Fatal(report(t, fsys, probs))
	}
	if len(facts.Sources) != 1 || facts.Sources[0].ID == "bench-notes" ||
		facts.Parts[0].Said[0].Source != facts.Sources[0].ID {
		t.Errorf("got %s", text(t, facts))
	}
}

// A kind that only the standard set knows is at hand over any base, and comes
// with its source.
func TestStandardKindOverBase(t *testing.T) {
	facts, fsys, probs := loadOver(t, below(t), map[string]string{"mine.yaml": "source: bench-notes\n" +
		"parts: [{number: Brakkholm 9.01, kind: o-ring, features: {ring: {inside: 10 mm, outside: 14 mm, thickness: 2 " +
		"mm}}}]\n"})
	if probs.Len() > 0 {
		t.Fatal(report(t, fsys, probs))
	}
	if len(facts.Kinds) != 1 || facts.Kinds[0].ID != "o-ring" || len(facts.Sources) != 1 ||
		facts.Sources[0].ID != "standard-kinds" {
		t.Errorf("got %s", text(t, facts))
	}
}

// Faults that take both the layer and the base to be seen.
func TestFaultsOverBase(t *testing.T) {
	tests := []struct{ name, file, body, code, says string }{
		{"unknown part", "f.yaml", strings.Replace(myFinding, "4418b", "4481c", 1), "unknown-part",
			`did you mean "Tarnholt 207.4418c"`},
		{"unknown position", "f.yaml", strings.Replace(myFinding, "caliper-left", "calipr-left", 1), "unknown-position",
			`did you mean "front-brake/caliper-left"?`},
		{"unknown model", "f.yaml", strings.Replace(myFinding, "position: skerry-620", "position: skery-620", 1),
			"unknown-model", `did you mean "skerry-620"?`},
		{"unknown source", "f.yaml", myFinding + "    source: forum-nort\n", "unknown-source", `did you mean "forum-north"?`},
		{"unknown bike", "f.yaml", strings.Replace(myFinding, "[skerry-620/2001]", "{bike: winter-projct}", 1),
			"unknown-bike", `did you mean "winter-project"?`},
		{"kind of a part in the base", "p.yaml", "source: bench-notes\nparts: [{number: Tarnholt 207.4418b, kind: hose}]\n",
			"duplicate", "is a \"caliper\" already"},
		{"finding of another", "f.yaml", strings.Replace(myFinding, "gull-1", "f-0031", 1), "duplicate", "given otherwise " +
			"elsewhere"},
		{"kit in itself through the base", "p.yaml", "source: bench-notes\nparts: [{number: Tarnholt 310.0001, contains: " +
			"[{part: Brakkholm kit-7}]}]\n",
			"kit-contains-itself", "Brakkholm kit-7 -> Tarnholt 310.0001 -> Brakkholm kit-7"},
		{"supersession circle through the base", "supersessions.csv", "old,new,source\nBrakkholm kit-7,Tarnholt " +
			"207.4418b,bench-notes\n",
			"supersession-cycle", "Brakkholm kit-7 -> Tarnholt 207.4418b -> Tarnholt 207.4418c -> Brakkholm kit-7"},
		{"joint that means another", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {joints: {hose-on-caliper: {a: " +
			"front-brake/hose-upper.upper, b: front-brake/caliper-left.port}}}}\n",
			"duplicate", "given twice"},
		{"joint without a feature", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {joints: {new: {a: " +
			"front-brake/hose-upper.upper, b: front-brake/caliper-left.prt}}}}\n",
			"joint-without-feature", `did you mean "port"?`},
		{"years the model was not made", "fitments.csv",
			"model,position,part,years,source\nskerry-620,front-brake/caliper-left,Tarnholt 207.4418b,1999-2001,bench-notes\n",
			"outside-years", "2001-2003"},
		{"variant of the base with other frames", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {variants: [{year: " +
			"2002, market: eu, frames: TK6A-004000 to TK6A-008000}]}}\n",
			"duplicate", "given twice"},
		{"frames that overlap those of the base", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {variants: [{year: " +
			"2004, market: eu, frames: TK6A-013000 on}]}}\n",
			"frames-overlap", "overlap"},
		{"number of the base spelled otherwise", "p.yaml", "source: bench-notes\nparts: [{number: Brakkholm KIT7, kind: " +
			"caliper}]\n", "same-number", "Brakkholm kit-7"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			facts, fsys, probs := loadOver(t, below(t), map[string]string{tt.file: tt.body})
			got := report(t, fsys, probs)
			if probs.Errors() != 1 || !strings.Contains(got, "["+tt.code+"]") || !strings.Contains(got, tt.says) {
				t.Errorf("want one %s that says %q, got\n%s", tt.code, tt.says, got)
			}
			if len(text(t, facts)) > 0 {
				t.Error("a layer with an error gave facts")
			}
		})
	}
}

// What is added rightly to the base is no fault.
func TestGoodOverBase(t *testing.T) {
	tests := []struct{ name, file, body string }{
		{"the same finding again", "f.yaml", `findings:
  - id: f-0033
    part: Tarnholt 207.4418b
    measured: [{feature: slot, dim: disc-thickness, value: 5 mm}]
    method: measured
    origin: f-0007
`},
		{"the same source again", "s.yaml", "sources: {bench-notes: {kind: measurement, title: Bench notes, date: " +
			"2024-05-11}}\nsource: bench-notes\nparts: [{number: Brakkholm kit-9, kind: caliper, contains: [{part: Brakkholm " +
			"kit-7}]}]\n"},
		{"a joint on positions of the base", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {joints: {new: {a: " +
			"front-brake/hose-upper.upper, b: front-brake/master-cylinder.outlet}}}}\n"},
		{"a feature that only a fitted part has", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {joints: {new: {a: " +
			"front-brake/hose-upper.upper, b: front-brake/caliper-left.extra}}}}\n"},
		{"a torque for a joint of the base", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {joints: " +
			"{hose-on-caliper: {a: front-brake/hose-upper.lower, b: front-brake/caliper-left.port, torque: 30 N m}}}}\n"},
		{"a position in an assembly of the base", "m.yaml", "source: bench-notes\nmodels: {skerry-620: {assemblies: " +
			"{front-brake: {positions: {washer: {kind: washer, after: front-brake/caliper-left}}}}}}\n"},
		{"a bike of a variant of the base", "b.yaml", "bikes: {summer: {variant: skerry-620/2001/eu, found: " +
			"{front-brake/caliper-left: Tarnholt 207.4418c}}}\n"},
		{"a finding on a bike of the base", "f.yaml", strings.Replace(myFinding, "[skerry-620/2001]",
			"{bike: winter-project}", 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			facts, fsys, probs := loadOver(t, below(t), map[string]string{tt.file: tt.body})
			for _, d := range probs.Sorted() {
				if d.Code != "missing-feature" {
					t.Error(report(t, fsys, probs))
				}
			}
			if text(t, facts) == "" && tt.name != "the same finding again" {
				t.Error("nothing was loaded")
			}
		})
	}
}

var errBroken = errors.New("disk is gone")

// brokenReader fails where it is asked for parts.
type brokenReader struct{ graph.Reader }

func (brokenReader) Parts(context.Context, ...graph.PartID) ([]graph.Part, error) {
	return nil, errBroken
}

func TestBaseFails(t *testing.T) {
	fsys := fstest.MapFS{"f.yaml": {Data: []byte(myFinding)}}
	var probs diag.List
	_, err := loader.LoadOver(context.Background(), brokenReader{below(t)}, []loader.Layer{{FS: fsys}}, &probs)
	if !errors.Is(err, errBroken) {
		t.Errorf("got %v", err)
	}
}
