package assemble

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
)

// caseOf is a machine whose frame is "frame", with all that is joined on it.
func caseOf(replaced []graph.PositionID, joints ...Joint) Case {
	c := Case{Replaced: replaced, Root: "frame", There: map[graph.PositionID]bool{}, Bends: map[graph.PositionID]bool{},
		Chains: map[graph.PositionID]bool{}, After: map[graph.PositionID][]graph.PositionID{}}
	for i, j := range joints {
		j.ID, j.Holds = graph.JointID(fmt.Sprint("j", i)), true
		c.Joints = append(c.Joints, j)
		for _, id := range j.Places() {
			c.There[id] = true
		}
	}
	return c
}

// offOf is in which order things come off for what is replaced.
func offOf(a Arranged) []graph.PositionID {
	off := slices.Clone(a.Order)
	slices.Reverse(off)
	return off
}

// What is bolted to two parts comes off before either of them is let go, though nothing in the
// data says what goes on after what, and goes on neither of them on the bench; what hangs on one
// alone moves over. What hangs on a part comes off before the part's own bolts. Common practice,
// no source.
func TestBridgesComeOffFirst(t *testing.T) {
	bolted := func(a, b, bolt graph.PositionID) Joint {
		return Joint{A: a, B: b, Fasteners: []graph.PositionID{bolt}}
	}
	for _, tt := range []struct {
		replaced, off []graph.PositionID
		moves         map[graph.PositionID]graph.PositionID
	}{
		{[]graph.PositionID{"leg-l"}, []graph.PositionID{"brace-bolt-r", "brace-bolt-l", "brace", "clamp-l", "leg-l", "cap"},
			map[graph.PositionID]graph.PositionID{"cap": "leg-l"}},
		{[]graph.PositionID{"leg-l", "leg-r"}, []graph.PositionID{"brace-bolt-r", "brace-bolt-l", "brace", "clamp-r", "leg-r",
			"clamp-l", "leg-l", "cap"}, map[graph.PositionID]graph.PositionID{"cap": "leg-l"}},
		{[]graph.PositionID{"bar"}, []graph.PositionID{"bar-bolt", "bar"}, nil},
	} {
		a := Arrange(caseOf(tt.replaced, bolted("yoke", "frame", "stem-nut"), bolted("leg-l", "yoke", "clamp-l"),
			bolted("leg-r", "yoke", "clamp-r"), bolted("brace", "leg-l", "brace-bolt-l"),
			bolted("brace", "leg-r", "brace-bolt-r"), Joint{A: "cap", B: "leg-l"}, bolted("bar", "yoke", "bar-bolt"),
			Joint{A: "frame", B: "engine"}, Joint{A: "frame", B: "tank"}))
		off := offOf(a)
		for i := range tt.off {
			at := slices.Index(off, tt.off[i])
			if at < 0 || i > 0 && at < slices.Index(off, tt.off[i-1]) && tt.off[i] != "clamp-l" {
				t.Errorf("%v: comes off %v, want %v", tt.replaced, off, tt.off)
			}
		}
		for _, clamp := range []graph.PositionID{"clamp-l", "clamp-r"} {
			if at := slices.Index(off, clamp); at >= 0 && slices.Index(off, "brace") > at {
				t.Errorf("%v: comes off %v: the brace after %s", tt.replaced, off, clamp)
			}
		}
		if tt.moves != nil && (len(a.MoveTo) != len(tt.moves) || a.MoveTo["cap"] != tt.moves["cap"]) {
			t.Errorf("%v: moves %v, want %v", tt.replaced, a.MoveTo, tt.moves)
		}
	}
}

// A tap stays on its tank with its bolts and the ring under it; where the tap itself is replaced
// all of them come off. Common practice, no source.
func TestWhatLiesBetweenStays(t *testing.T) {
	for replaced, want := range map[graph.PositionID][]graph.PositionID{
		"tank": {"tank-bolt", "tank", "tap-bolt", "tap", "ring"}, "rack": {"tank-bolt", "tank", "rack"},
		"tap": {"tap-bolt", "tap", "ring"},
	} {
		c := caseOf([]graph.PositionID{replaced}, Joint{A: "tank", B: "frame", Fasteners: []graph.PositionID{"tank-bolt"}},
			Joint{A: "tap", B: "tank", Fasteners: []graph.PositionID{"tap-bolt"}, Between: []graph.PositionID{"ring"}},
			Joint{A: "rack", B: "engine"}, Joint{A: "engine", B: "frame"}, Joint{A: "seat", B: "frame"})
		c.After["tank"] = []graph.PositionID{"rack"}
		off := offOf(Arrange(c))
		if a, b := slices.Sorted(slices.Values(off)), slices.Sorted(slices.Values(want)); !slices.Equal(a, b) {
			t.Errorf("%s: comes off %v, want %v", replaced, off, want)
		}
	}
}

// A chain comes off the teeth of a sprocket that leaves with its wheel: it does not leave with
// that. Common practice, no source.
func TestChainStaysOnTheMachine(t *testing.T) {
	c := caseOf([]graph.PositionID{"carrier"}, Joint{A: "arm", B: "frame"}, Joint{A: "engine", B: "frame"},
		Joint{A: "front", B: "engine"}, Joint{A: "carrier", B: "arm"},
		Joint{A: "rear", B: "carrier", Fasteners: []graph.PositionID{"nut"}}, Joint{A: "chain", B: "front"},
		Joint{A: "chain", B: "rear"})
	c.Chains["chain"], c.Bends["chain"], c.Lines = true, true, map[graph.PositionID]bool{"chain": true}
	a := Arrange(c)
	if opened := slices.ContainsFunc(a.Opened, func(j Joint) bool { return j.A == "chain" && j.B == "rear" }); !opened ||
		slices.Contains(a.With["rear"], "chain") {
		t.Errorf("opened %v, with the sprocket %v", a.Opened, a.With["rear"])
	}
}

// A machine in pieces: a swingarm hangs on its pivot before the linkage is bolted to it; what
// turns in a bearing goes in after that, and the shaft after all that turns on it. Common
// practice, no source.
func TestPivotTogether(t *testing.T) {
	c := caseOf([]graph.PositionID{"frame", "arm", "needle", "sleeve", "pivot", "pivot-nut", "rod", "rod-bolt", "rod-pin"},
		Joint{A: "pivot", B: "frame", Shaft: "pivot"}, Joint{A: "pivot", B: "pivot-nut", Nut: "pivot-nut"},
		Joint{A: "sleeve", B: "pivot", Shaft: "pivot"}, Joint{A: "needle", B: "arm", Seat: "arm", Pressed: true},
		Joint{A: "needle", B: "sleeve"}, Joint{A: "rod", B: "arm", Fasteners: []graph.PositionID{"rod-bolt"}},
		Joint{A: "rod", B: "frame", Fasteners: []graph.PositionID{"rod-pin"}})
	c.There = map[graph.PositionID]bool{}
	a := Together(c)
	want := []graph.PositionID{"needle", "sleeve", "pivot", "rod-bolt"}
	for i := range want[1:] {
		if slices.Index(a.Order, want[i]) > slices.Index(a.Order, want[i+1]) {
			t.Errorf("order %v: %s after %s", a.Order, want[i], want[i+1])
		}
	}
	if slices.Index(a.Order, "arm") > slices.Index(a.Order, "pivot") {
		t.Errorf("order %v: the shaft goes in before what turns on it", a.Order)
	}
}
