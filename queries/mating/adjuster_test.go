package mating

import (
	"testing"

	"matewell/graph"
)

// Geometry: an axle that goes from 655 to 685 mm wants 30 mm of thread at the least. That as
// much as was built in is enough is common practice, no source.
func TestJudgeAdjuster(t *testing.T) {
	thread := func(length string) Side { return made("male-thread", "thread", "M8x1.25").with("length", length) }
	way := []graph.Reading{{Text: "655-685 mm"}}
	for _, tt := range []struct {
		name     string
		now, was string
		way      []graph.Reading
		want     graph.Verdict
	}{
		{"as built", "60 mm", "60 mm", way, yes},
		{"longer", "70 mm", "60 mm", way, yes},
		{"near miss: 1 mm shorter", "59 mm", "60 mm", way, yes},
		{"2 mm shorter", "58 mm", "60 mm", way, open},
		{"half of it, the way not measured", "30 mm", "60 mm", nil, open},
		{"less than the axle goes", "20 mm", "60 mm", way, no},
		{"not measured", "", "60 mm", way, open},
		{"the one built in not measured", "20 mm", "", way, graph.NoVerdict},
	} {
		got := JudgeAdjuster(AdjusterCase{Thread: thread(tt.now), Was: thread(tt.was), Way: tt.way})
		if Worst(got) != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, got, tt.want)
		}
	}
}

// Left and right draw one axle: their threads are as long, where those of bolts need not be.
func TestAdjustersArePairs(t *testing.T) {
	of := func(kind graph.KindID, length string) []Side {
		s := made("male-thread", "thread", "M8x1.25", "length", length)
		s.PartKind = kind
		return []Side{s}
	}
	for _, tt := range []struct {
		kind        graph.KindID
		left, right string
		want        graph.Verdict
	}{
		{"chain-adjuster", "60 mm", "60 mm", yes},
		{"chain-adjuster", "61 mm", "60 mm", yes},
		{"chain-adjuster", "30 mm", "60 mm", no},
		{"bolt", "30 mm", "60 mm", graph.NoVerdict},
	} {
		got := JudgePair(PairCase{Left: of(tt.kind, tt.left), Right: of(tt.kind, tt.right)})
		if Worst(got) != tt.want {
			t.Errorf("%s %s and %s: %+v, want %s", tt.kind, tt.left, tt.right, got, tt.want)
		}
	}
}

// The strap holds a battery by its height. Common practice, no source.
func TestBatteryUnderItsStrap(t *testing.T) {
	battery := made("battery", "voltage", "12 V", "length", "150 mm", "width", "87 mm", "height", "130 mm", "plus", "left")
	box := made("battery-box", "length", "152 mm", "width", "90 mm", "height", "140 mm", "plus", "left")
	built := Meeting{A: battery, B: box}
	for height, want := range map[string]graph.Verdict{"130 mm": yes, "115 mm": yes, "114 mm": mod, "60 mm": mod,
		"141 mm": no, "": open} {
		if got := Judge(Meeting{A: battery.with("height", height), B: box, Built: &built}); Worst(got) != want {
			t.Errorf("%q high: %+v, want %s", height, got, want)
		}
	}
}

// A brake plate that its anchor holds between cheeks 0.3 mm wider than its eye goes no
// further sideways than that. Geometry.
func TestAnchoredMemberIsNotMoved(t *testing.T) {
	at := func(name string, s Side) Side { s.Position = graph.PositionID(name); return s }
	row := func(hub string, eye, gap string, held bool) StackCase {
		in := StackCase{Within: made("gap", "width", "100 mm"), Centre: 2, Held: map[graph.PositionID]Hold{}, Row: []Member{
			{at("plate", made("row-width", "width", "19 mm")), false},
			{made("row-width", "offset", "0 mm").with("width", hub), false}, {made("row-width", "width", "19 mm"), true}}}
		if held {
			in.Held["plate"] = Hold{Anchor: true, Pairs: []EyePair{{made("eye").with("width", eye), made("clevis").with("gap",
				gap)}}}
		}
		return in
	}
	for _, tt := range []struct {
		name string
		in   StackCase
		want graph.Verdict
		says string
	}{
		{"as built", row("62 mm", "12 mm", "12.3 mm", true), yes, ""},
		{"a narrower hub", row("56 mm", "12 mm", "12.3 mm", true), no, "its anchor holds"},
		{"the same, the plate loose on the axle", row("56 mm", "12 mm", "12.3 mm", false), mod, "short"},
		{"near miss: an anchor with as much room", row("56 mm", "12 mm", "15 mm", true), mod, "short"},
		{"nobody measured the anchor", row("56 mm", "", "12.3 mm", true), open, "measure how far"},
	} {
		if c := the(t, JudgeStack(tt.in), "row width"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
			t.Errorf("%s: %s (%s), want %s with %q", tt.name, c.Verdict, c.Why, tt.want, tt.says)
		}
	}
	wide := row("", "12 mm", "12.3 mm", false)
	wide.Row[1].Side = made("row-width", "width", "90 mm")
	if c := the(t, JudgeStack(wide), "row width"); c.Verdict != no || !contains(c.Why, "too wide") {
		t.Errorf("too wide with no spacer, and the offset unknown: %s (%s), want %s", c.Verdict, c.Why, no)
	}
}
