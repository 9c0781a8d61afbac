package gaps

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/mating"
)

// Safety goes first, then what settles more, then what is easier to get at.
func TestRanked(t *testing.T) {
	gap := func(name string, safety graph.Safety, settles int, gauge string, off int) Gap {
		return Gap{Ask: mating.Ask{Position: graph.PositionID("m:a/" + name), Gauge: gauge}, Safety: safety,
			Settles: make([]string, settles), Off: off}
	}
	c := collector{gaps: []Gap{
		gap("looks", graph.SafetyNone, 9, graph.ByEye, 0),
		gap("deep", graph.SafetyBrake, 2, "vernier caliper", 5),
		gap("near", graph.SafetyBrake, 2, "vernier caliper", 0),
		gap("bore", graph.SafetyBrake, 2, "bore gauge", 0),
		gap("eye", graph.SafetyWheel, 2, graph.ByEye, 9),
		gap("most", graph.SafetyDrive, 3, "bore gauge", 9),
	}}
	var got []string
	for _, g := range c.ranked() {
		got = append(got, g.Position.Local())
	}
	want := []string{"a/most", "a/eye", "a/near", "a/deep", "a/bore", "a/looks"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// What sits on a part, at any remove, comes off first; a circle ends.
func TestAbove(t *testing.T) {
	at := func(id graph.PositionID, after ...graph.PositionID) graph.Position {
		return graph.Position{ID: id, After: after}
	}
	off := above([]graph.Position{at("m:a/leg"), at("m:a/wheel", "m:a/leg"), at("m:a/caliper", "m:a/wheel", "m:a/leg"),
		at("m:a/one", "m:a/two"), at("m:a/two", "m:a/one")})
	for id, want := range map[graph.PositionID]int{"m:a/leg": 2, "m:a/wheel": 1, "m:a/caliper": 0, "m:a/one": 1,
		"m:a/other": 0} {
		if got := off(id); got != want {
			t.Errorf("%s: %d parts come off first, want %d", id, got, want)
		}
	}
}

func TestSafetyOpen(t *testing.T) {
	tests := []struct {
		name string
		a    Answer
		want bool
	}{
		{"nothing open", Answer{}, false},
		{"a gap without a class", Answer{Gaps: []Gap{{}}}, false},
		{"a gap at the brake", Answer{Gaps: []Gap{{Safety: graph.SafetyBrake}}}, true},
	}
	for _, tt := range tests {
		if got := tt.a.SafetyOpen(); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}
