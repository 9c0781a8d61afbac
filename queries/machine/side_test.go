package machine_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/machine"
)

func TestIsCalledForOtherSide(t *testing.T) {
	tests := []struct {
		at, side, name string
		want           bool
	}{
		{"m/panel-left", "left", "Side panel, right", true},
		{"m/panel-right", "right", "Side panel (Left)", true},
		{"m/panel-left", "", "Side panel, right", true},
		{"m/panel-left", "left", "Side panel, left", false},
		{"m/panel-left", "left", "Side panel, left or right", false},
		{"m/panel-left", "left", "Side panel for an upright tank", false},
		{"m/panel", "", "Side panel, right", false},
		{"m/wheel-left", "front", "Wheel, right", false},
	}
	for _, test := range tests {
		at := graph.Position{ID: graph.PositionID(test.at), Side: test.side}
		if got := machine.IsCalledForOtherSide(at, graph.Part{Name: test.name}); got != test.want {
			t.Errorf("%q at %s (%q): %v", test.name, test.at, test.side, got)
		}
	}
}

func TestOtherSide(t *testing.T) {
	for at, want := range map[graph.PositionID]graph.PositionID{"m/leg-left": "m/leg-right", "m/leg-right": "m/leg-left",
		"m/leftover": "", "m/axle": "", "m:fork/left": "m:fork/right",
		"m:front-brake/right-caliper": "m:front-brake/left-caliper",
		"m:brake-left/disc":           "m:brake-right/disc", "m:rest-right/left": "m:rest-right/right",
		"turn-left:fork/leg": "",
		"left:fork/leg":      ""} {
		if got := machine.OtherSide(at); got != want {
			t.Errorf("%s: %q", at, got)
		}
	}
}

func TestHasNoSide(t *testing.T) {
	of := func(kinds ...string) graph.Part {
		p := graph.Part{ID: "Tarnholt 1"}
		for _, kind := range kinds {
			p.Features = append(p.Features, graph.Feature{Name: kind, Kind: kind})
		}
		return p
	}
	for _, test := range []struct {
		part graph.Part
		want bool
	}{
		{of("seal"), true},
		{of("bearing", "finish"), true},
		{of("male-thread"), false}, // a mirror has one too
		{of("bearing", "clamp"), false},
		{of(), false},
	} {
		if got := machine.HasNoSide(test.part); got != test.want {
			t.Errorf("%v: %v", test.part.Features, got)
		}
	}
}
