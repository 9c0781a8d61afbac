package mating

import (
	"strings"
	"testing"

	"matewell/graph"
)

// What is made may not hide a loss of strength, does not go between what meets
// directly, and is no remedy in what carries the steering.
func TestNothingMadeIsOffered(t *testing.T) {
	shaft, bore := made("shaft", "diameter", "17 mm"), made("bore", "diameter", "17.1 mm")
	built := shaft
	built.Part = "as built"
	clamp, tube := made("clamp", "diameter", "35 mm", "length", "40 mm", "split", "yes"), made("tube", "diameter", "35 mm",
		"length", "60 mm")
	split := &Meeting{A: clamp, B: tube}
	rim, hub := made("bolt-pattern", "count", "36", "spacing", "60 mm"), made("bolt-pattern", "count", "36", "spacing",
		"60 mm")
	hub.Position = "bench/hub"
	tests := []struct {
		name   string
		m      Meeting
		rule   string
		wanted graph.Verdict
		words  string
	}{
		{"as built", Meeting{A: shaft, B: bore, Safety: graph.SafetyWheel}, "shaft in bore", yes, ""},
		{"a thinner axle", Meeting{A: shaft.with("diameter", "12 mm"), B: bore, Safety: graph.SafetyWheel}, "shaft in bore",
			no, "thinner than the 17 mm that was built in"},
		{"a thinner axle where nothing is safety-relevant", Meeting{A: shaft.with("diameter", "12 mm"), B: bore},
			"shaft in bore", mod, ""},
		{"the axle as built in a wider bore", Meeting{A: shaft, B: bore.with("diameter", "20 mm"), Safety: graph.SafetyWheel},
			"shaft in bore", mod, ""},
		{"near miss: worn by 0.05 mm, in a wider bore", Meeting{A: shaft.with("diameter", "16.95 mm"),
			B: bore.with("diameter", "20 mm"), Safety: graph.SafetyWheel}, "shaft in bore", mod, ""},
		{"nobody measured the new axle", Meeting{A: shaft.with("diameter", ""), B: bore, Safety: graph.SafetyWheel},
			"shaft in bore", open, "not known"},
		{"a thin peg where the two meet directly", Meeting{A: shaft.with("diameter", "12 mm"), B: bore, Direct: true,
			Safety: graph.SafetyBrake}, "shaft in bore", no, "nothing is made to go between"},
		{"wheel with as many holes", Meeting{A: rim, B: hub, Direct: true}, "bolt pattern", yes, ""},
		{"rim of 32 holes on 36 spokes", Meeting{A: rim.with("count", "32"), B: hub, Direct: true}, "bolt pattern", no,
			"nothing is made to go between"},
		{"tubes that fill their clamp", Meeting{A: clamp, B: tube, Steers: true}, "clamp on tube", yes, ""},
		{"a clamp that no bolt draws shut", Meeting{A: clamp.with("split", "no"), B: tube, Built: split}, "clamp on tube",
			no, "not split"},
		{"one where none was split", Meeting{A: clamp.with("split", "no"), B: tube}, "clamp on tube", yes, ""},
		{"a split one", Meeting{A: clamp, B: tube, Built: split}, "clamp on tube", yes, ""},
		{"nobody said whether it is split", Meeting{A: clamp.with("split", ""), B: tube, Built: split}, "clamp on tube",
			open, "not known"},
		{"a wide clamp on a fork tube", Meeting{A: clamp.with("diameter", "39 mm"), B: tube, Steers: true}, "clamp on tube",
			no, "not sleeved"},
		{"a 22.2 mm bar in a clamp of 28.6 mm", Meeting{A: clamp.with("diameter", "28.6 mm"), B: tube.with("diameter",
			"22.2 mm"), Steers: true}, "clamp on tube", no, "6.4 mm too thin"},
		{"the same, and nobody knows whether it is split", Meeting{A: clamp.with("diameter", "28.6 mm").with("split", ""),
			B: tube.with("diameter", "22.2 mm"), Steers: true}, "clamp on tube", no, "not sleeved"},
		{"a wide clamp elsewhere", Meeting{A: clamp.with("diameter", "39 mm"), B: tube}, "clamp on tube", mod, ""},
		{"clamp missing", Meeting{A: clamp.with("diameter", ""), B: tube, Steers: true}, "clamp on tube", open, "not known"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.m.A.Part = "new"
			if tt.m.A.Feature.Kind == "shaft" {
				tt.m.Built = &Meeting{A: built, B: tt.m.B}
			}
			c := the(t, Judge(tt.m), tt.rule)
			if c.Verdict != tt.wanted || !strings.Contains(c.Why, tt.words) {
				t.Errorf("%s (%s), want %s (%s)", c.Verdict, c.Why, tt.wanted, tt.words)
			}
			if tt.wanted > mod && len(c.Orders) > 0 {
				t.Errorf("it offers %s all the same", c.Orders[0].Text)
			}
		})
	}
}

// A bracket whose holes run into one another is refused before it is ordered.
func TestNoBracketWithoutMetal(t *testing.T) {
	mount := func(spacing string) Side {
		return made("bolt-pattern", "count", "2", "spacing", spacing, "hole", "6.5 mm")
	}
	tests := []struct {
		name   string
		a, b   Side
		wanted graph.Verdict
	}{
		{"holes that meet", mount("34 mm"), mount("34 mm"), yes},
		{"5 mm from hole to hole", mount("44 mm"), mount("34 mm"), no},
		{"near miss: just less than 2.2 holes", mount("62 mm"), mount("34 mm"), no},
		{"2.2 holes and more", mount("64 mm"), mount("34 mm"), mod},
		{"nobody measured the spacing", mount(""), mount("34 mm"), open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, b := tt.a, tt.b
			b.Position = "bench/other"
			if len(a.Feature.Dims["spacing"]) > 0 && a.Feature.Dims["spacing"][0].Text == "" {
				a = a.with("spacing", "")
			}
			if c := the(t, Judge(Meeting{A: a, B: b}), "bolt pattern"); c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}

func TestClampHalves(t *testing.T) {
	yoke, bar := made("clamp", "diameter", "22.2 mm"), made("clamp", "diameter", "22.2 mm")
	bar.Position = "bench/cap"
	for _, tt := range []struct {
		name, bore string
		wanted     graph.Verdict
	}{
		{"bored alike", "22.2 mm", yes}, {"near miss: what two readings may be off", "22.28 mm", yes},
		{"at the limit", "22.3 mm +0.1/-0.1", open}, {"for a thicker bar", "25.4 mm", no}, {"nobody measured it", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeHalves(HalvesCase{A: yoke, B: bar.with("diameter", tt.bore)}), "clamp halves")
			if c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}

// A stem that is too long is no spacer's job: what stands on it moves.
func TestSteeringHeadTooShort(t *testing.T) {
	row := func(gap string, head bool) StackCase {
		within, member := made("gap", "width", gap), made("row-width", "width", "170 mm")
		if gap == "" {
			within = within.with("width", "")
		}
		return StackCase{Within: within, Row: []Member{{Side: member}}, Head: head}
	}
	for _, tt := range []struct {
		name   string
		in     StackCase
		wanted graph.Verdict
	}{
		{"as long as its row", row("170 mm", true), yes}, {"near miss: half a millimetre", row("170.5 mm", true), yes},
		{"230 mm longer", row("400 mm", true), open}, {"a wheel's row", row("175 mm", false), mod},
		{"shorter than its row", row("160 mm", true), no}, {"nobody measured it", row("", true), open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeStack(tt.in), "row width")
			if c.Verdict != tt.wanted || tt.wanted == open && len(c.Orders) > 0 {
				t.Errorf("%s (%s), orders %v, want %s", c.Verdict, c.Why, c.Orders, tt.wanted)
			}
		})
	}
}

// A shaft that may not be tight must have the play that is asked for.
func TestNoPlayWherePlayIsAsked(t *testing.T) {
	hole := made("bore", "diameter", "6.2 mm")
	for _, tt := range []struct {
		name, pin, allow string
		wanted           graph.Verdict
	}{
		{"play as asked", "6 mm", "0.1-0.5 mm", yes}, {"near miss: the least of it", "6.1 mm", "0.1-0.5 mm", yes},
		{"no play", "6.2 mm", "0.1-0.5 mm", no}, {"no play where none is asked", "6.2 mm", "", yes},
		{"nobody measured it", "", "0.1-0.5 mm", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: made("shaft", "diameter", "6 mm").with("diameter", tt.pin), B: hole, Allow: tt.allow}
			if c := the(t, Judge(m), "shaft in bore"); c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}

// What is bored must keep a wall.
func TestWallOfRing(t *testing.T) {
	bore, surface := made("bore", "diameter", "15.1 mm"), made("shaft", "diameter", "21 mm")
	thinBore := bore.with("diameter", "19.5 mm")
	for _, tt := range []struct {
		name   string
		now    Side
		was    Side
		wanted graph.Verdict
	}{
		{"as built", bore, bore, yes}, {"bored out to 0.69 mm", bore.with("diameter", "19.63 mm"), bore, no},
		{"near miss: 1 mm left", bore.with("diameter", "19 mm"), bore, yes},
		{"as thin as the one built in", thinBore, thinBore, yes},
		{"at the limit", bore.with("diameter", "19 mm +0.1/-0.1"), bore, open},
		{"nobody measured it", bore.with("diameter", ""), bore, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := WallCase{Bore: tt.now, Surface: surface, WasBore: tt.was, WasSurface: surface}
			c := the(t, JudgeWall(in), "wall of ring")
			if c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}

// A thread thicker than its shaft does not go where the shaft goes; under the head it may
// be, where the shaft passes the inside of its other half. Source: ISO 724, D1 of M16x1.5 is
// 14.376 mm (testdata/published/threads.csv).
func TestThreadOnItsShaft(t *testing.T) {
	for _, tt := range []struct {
		name, shaft, thread string
		wanted              graph.Verdict
	}{
		{"thinner than its shaft", "17 mm", "M16x1.5", yes},
		{"near miss: ground some tenths down", "15.7 mm", "M16x1.5", yes},
		{"M16 on 12 mm", "12 mm", "M16x1.5", open},
		{"near miss: just passes the other half, under the head", "14.35 mm", "M16x1.5", open},
		{"neither way: too thick for the other half", "14.98 mm", "M16x1.5", no},
		{"nobody measured the shaft", "", "M16x1.5", open},
		{"nobody read the thread", "17 mm", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := ThreadedShaftCase{Shaft: made("shaft").with("diameter", tt.shaft),
				Thread: made("male-thread").with("thread", tt.thread)}
			if c := the(t, JudgeThreadedShaft(in), "thread on its shaft"); c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}
