package loader_test

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

const shipped = `
source: list
sources: {list: {kind: factory parts list, title: List}}
brands: {Tarnholt: }
kinds: {caliper: {features: {port: port}}, hose: {features: {end: banjo}}}
models:
  skerry-620:
    maker: Tarnholt
    name: Skerry 620
    variants: [{year: 2001, market: eu}, {year: 2002, market: eu}]
    assemblies: {brake: {positions: {caliper: {kind: caliper}, hose: {kind: hose}}}}
    joints: {hose-on-caliper: {a: brake/hose.end, b: brake/caliper.port, torque: 20 N m}}
parts:
  - {number: Tarnholt 1, kind: caliper, name: caliper, features: {port: {thread: M10x1, seat: flat washer, depth: 12 mm}}}
`

func loadTwo(t *testing.T, first, second string) (graph.Facts, *diag.List) {
	t.Helper()
	fitments := &fstest.MapFile{Data: []byte("model,position,part,years,source\nskerry-620,brake/caliper,Tarnholt " +
		"1,2001,list\n")}
	layers := []loader.Layer{
		{Name: "shipped", FS: fstest.MapFS{"all.yaml": {Data: []byte(first)}, "fitments.csv": fitments}},
		{Name: "mine", FS: fstest.MapFS{"all.yaml": {Data: []byte(second)}, "fitments.csv": fitments}},
	}
	var probs diag.List
	facts, err := loader.Load(context.Background(), layers, &probs)
	if err != nil {
		t.Fatal(err)
	}
	return facts, &probs
}

// A later layer may say again what an earlier one says, add to it, and
// contradict it even in the name of the same source.
func TestLaterLayerContradicts(t *testing.T) {
	facts, probs := loadTwo(t, shipped, `
source: list
sources: {list: {kind: factory parts list, title: List}}
models:
  skerry-620:
    variants: [{year: 2002, market: eu, schemes: [ash]}]
    joints: {hose-on-caliper: {a: brake/caliper.port, b: brake/hose.end, torque: 25 N m}}
parts:
  - {number: Tarnholt 1, name: left caliper, features: {port: {depth: 11 mm}}}
`)
	if probs.Len() > 0 {
		t.Fatal(probs.Sorted())
	}
	var depths, torques []string
	for _, r := range facts.Parts[0].Features[0].Dims["depth"] {
		depths = append(depths, r.Text+" "+r.Pos.File)
	}
	for _, r := range facts.Joints[0].Torque {
		torques = append(torques, r.Text)
	}
	tests := []struct{ name, got, want string }{
		{"depths", strings.Join(depths, ", "), "11 mm mine/all.yaml, 12 mm shipped/all.yaml"},
		{"torques", strings.Join(torques, ", "), "25 N m, 20 N m"},
		{"name", facts.Parts[0].Name, "caliper"}, // the first is kept
		{"schemes", strings.Join(facts.Variants[1].Schemes, ","), "ash"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, tt.got, tt.want)
		}
	}
	if len(facts.Fitments) != 1 || len(facts.Fitments[0].Said) != 2 {
		t.Errorf("a row of both layers is not one fitment said twice: %+v", facts.Fitments)
	}
}

// What means another thing under the same name is a fault in any layer.
func TestLaterLayerMeansAnother(t *testing.T) {
	tests := []struct{ name, second, code string }{
		{"brand", "source: list\nbrands: {Tarnholt: {number: {core: \"9\"}}}", "duplicate"},
		{"position", "source: list\nmodels: {skerry-620: {assemblies: {brake: {positions: {hose: {kind: caliper}}}}}}",
			"duplicate"},
		{"kind of a part", "source: list\nparts: [{number: Tarnholt 1, kind: hose}]", "duplicate"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, probs := loadTwo(t, shipped, tt.second)
			if got := codesOf(probs); !strings.Contains(got, "mine/all.yaml") || !strings.HasSuffix(got, tt.code) ||
				probs.Errors() != 1 {
				t.Errorf("got %s", got)
			}
		})
	}
}

// A later layer adds to a kind: further features, whether a part may do without
// one, what decides nothing, another name.
func TestLaterLayerAddsToKind(t *testing.T) {
	facts, probs := loadTwo(t, shipped, `
source: list
kinds:
  caliper:
    name: stopper
    safety: brake
    features:
      port: {kind: port, may: yes, informs: {depth: is never used up}}
      slot: caliper-slot
parts:
  - {number: Tarnholt 2, kind: caliper, features: {slot: {disc-thickness: 5 mm, pad-height: 40 mm}}}
`)
	if probs.Errors() > 0 {
		t.Fatal(probs.Sorted())
	}
	i := slices.IndexFunc(facts.Kinds, func(k graph.Kind) bool { return k.ID == "caliper" })
	k := facts.Kinds[i]
	want := []graph.KindFeature{{Name: "port", Kind: "port", May: true, Informs: []graph.Informing{{Dim: "depth",
		Why: "is never used up"}}},
		{Name: "slot", Kind: "caliper-slot"}}
	if k.Name != "stopper" || k.Safety != graph.SafetyBrake || !reflect.DeepEqual(k.Features, want) || len(k.Said) != 2 {
		t.Errorf("got %+v", k)
	}
}

// A source of a later layer that has the name of another source is a source of
// its own, which the layer's own files cite.
func TestSourcesDontClash(t *testing.T) {
	facts, probs := loadTwo(t, shipped, `
source: list
sources: {list: {kind: report, title: Mine}, copy: {kind: report, title: Copy, origin: list}}
parts: [{number: Tarnholt 1, features: {port: {depth: {value: 11 mm, source: copy}, thread: M10x1}}}]
`)
	if probs.Errors() > 0 {
		t.Fatal(codesOf(probs))
	}
	var got []string
	for _, s := range facts.Sources {
		got = append(got, fmt.Sprintf("%s=%s<%s", s.ID, s.Title, s.Origin))
	}
	for _, r := range facts.Parts[0].Features[0].Dims["thread"] {
		got = append(got, string(r.Source)+" at "+r.Pos.File)
	}
	want := []string{"copy=Copy<mine-list", "list=List<", "mine-list=Mine<", "list at shipped/all.yaml",
		"mine-list at mine/all.yaml"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A feature that means another sort of feature in a later layer is read there
// as that layer means it, and both places are named.
func TestLaterLayerMeansAnotherFeature(t *testing.T) {
	facts, probs := loadTwo(t, shipped, `
source: list
kinds: {caliper: {features: {port: banjo}}}
parts: [{number: Tarnholt 2, kind: caliper, features: {port: {eye: 10 mm, thickness: 9 mm}}}]
`)
	if probs.Errors() > 0 || !strings.Contains(codesOf(probs), "mine/all.yaml:3:30 other-meaning") {
		t.Fatal(codesOf(probs))
	}
	for _, d := range probs.Sorted() {
		if d.Code == "other-meaning" && (len(d.Related) != 1 || d.Related[0].File != "shipped/all.yaml") {
			t.Errorf("the other place is not named: %+v", d)
		}
	}
	kinds := map[graph.PartID]string{}
	for _, p := range facts.Parts {
		f, _ := p.Feature("port")
		kinds[p.ID] = f.Kind
	}
	if kinds["Tarnholt 1"] != "port" || kinds["Tarnholt 2"] != "banjo" {
		t.Errorf("got %v", kinds)
	}
}

// One fact that two files of a layer give in the name of two sources is one
// item with both.
func TestSaidByTwo(t *testing.T) {
	fsys := fstest.MapFS{
		"all.yaml": {Data: []byte(shipped + "  - {number: Tarnholt 2, kind: caliper, features: {port: {thread: M10x1, " +
			"seat: flat washer, depth: 12 mm}}}\n")},
		"more.yaml": {Data: []byte(`
source: bench
sources: {bench: {kind: measurement, title: Bench}}
models:
  skerry-620:
    variants: [{year: 2001, market: eu, frames: A-01 to A-09}]
    assemblies: {brake: {positions: {caliper: {kind: caliper}}}}
    joints: {hose-on-caliper: {a: brake/hose.end, b: brake/caliper.port, torque: 20 N m}}
parts: [{number: Tarnholt 2, features: {port: {depth: 12 mm}}}]
`)},
		"fitments-1.csv":      {Data: []byte("model,position,part,source\nskerry-620,brake/caliper,Tarnholt 1,list\n")},
		"fitments-2.csv":      {Data: []byte("model,position,part,source\nskerry-620,brake/caliper,Tarnholt 1,bench\n")},
		"supersessions-1.csv": {Data: []byte("old,new,new_on_old,source\nTarnholt 1,Tarnholt 2,yes,list\n")},
		"supersessions-2.csv": {Data: []byte("old,new,new_on_old,reason,source\nTarnholt 1,Tarnholt 2,yes,thread,bench\n")},
	}
	facts, probs := load(t, "", fsys)
	if probs.Len() > 0 {
		t.Fatal(report(t, fsys, probs))
	}
	said := map[string]int{
		"variant": len(facts.Variants[0].Said), "position": len(facts.Positions[0].Said), "joint": len(facts.Joints[0].Said),
		"part": len(facts.Parts[1].Said), "fitment": len(facts.Fitments[0].Said),
		"supersession": len(facts.Supersessions[0].Said),
		"torque":       len(facts.Joints[0].Torque), "depth": len(facts.Parts[1].Features[0].Dims["depth"]),
	}
	for what, n := range said {
		if n != 2 {
			t.Errorf("%s: %d cites, want 2", what, n)
		}
	}
	if len(facts.Fitments) != 1 || len(facts.Supersessions) != 1 || facts.Supersessions[0].Reason != "thread" {
		t.Errorf("rows did not become one: %+v %+v", facts.Fitments, facts.Supersessions)
	}
}
