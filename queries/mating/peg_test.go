package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source.
func TestPegsInGrommets(t *testing.T) {
	for _, tt := range []struct {
		name, panel, frame string
		want               graph.Verdict
	}{
		{"peg of its grommet", "8 mm peg", "8 mm grommet", yes},
		{"rubber gives 1.5 mm", "8 mm peg", "6.5 mm grommet", yes},
		{"rubber does not give 2 mm", "8 mm peg", "6 mm grommet", mod},
		{"1 mm loose", "8 mm peg", "9 mm grommet", yes},
		{"2 mm loose", "8 mm peg", "10 mm grommet", mod},
		{"peg in a plain hole", "8 mm peg", "8.5 mm", yes},
		{"peg too thick for a plain hole", "8 mm peg", "7.5 mm", mod},
		{"peg on a peg", "8 mm peg", "8 mm peg", mod},
		{"peg on a thread", "8 mm peg", "M6 insert", mod},
		{"grommets on both", "8 mm grommet", "8 mm grommet", yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, turned := range []bool{false, true} {
				one, other := tt.panel, tt.frame
				if turned {
					one, other = other, one
				}
				a := made("points", "points", "front: 6.5 mm at 0,0; rear: "+one+" at 100,0")
				b := made("points", "points", "front: M6 at 0,0; rear: "+other+" at 100,0")
				c := the(t, Judge(Meeting{A: a, B: b}), "mounting points")
				if c.Verdict != tt.want {
					t.Errorf("%s on %s: %s (%s), want %s", one, other, c.Verdict, c.Why, tt.want)
				}
			}
		})
	}
}

// Common practice, no source.
func TestSpigotsHaveCounterparts(t *testing.T) {
	disc := made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "8.5 mm", "spigot", "62 mm", "locates",
		"recess")
	hub := made("bolt-pattern", "count", "5", "spacing", "80 mm", "thread", "M8", "spigot", "62 mm", "locates", "raised")
	runCases(t, []ruleCase{
		{"recess over its spigot", disc, hub, "spigot", yes},
		{"two raised ones", disc.with("locates", "raised"), hub, "spigot", no},
		{"two recesses", disc, hub.with("locates", "recess"), "spigot", no},
		{"known of one", disc.with("locates", ""), hub, "spigot", open},
		{"known of neither", disc.with("locates", ""), hub.with("locates", ""), "spigot", yes},
		{"wider recess, a ring", disc.with("spigot", "66 mm"), hub, "spigot", mod},
		{"wider recess, just room for a ring", disc.with("spigot", "64 mm"), hub, "spigot", mod},
		{"near miss: too little room for a ring", disc.with("spigot", "63 mm"), hub, "spigot", no},
		{"narrower recess, to be bored", disc.with("spigot", "60 mm"), hub, "spigot", mod},
		{"recess missing", disc.with("spigot", ""), hub, "spigot", open},
	})
}

// A disc's hole goes over the hub's spigot, whoever said so; a brake part is not
// bored. Common practice, no source.
func TestDiscOverSpigot(t *testing.T) {
	disc := made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "8.5 mm", "spigot", "62 mm")
	disc.Position = "front/disc"
	hub := made("bolt-pattern", "count", "5", "spacing", "80 mm", "thread", "M8", "spigot", "62 mm")
	hub.Position = "front/wheel"
	for _, tt := range []struct {
		hole string
		over graph.PositionID
		want graph.Verdict
		says string
	}{
		{"62 mm", "front/disc", yes, "located"},
		{"62.1 mm", "front/disc", yes, "located"},
		{"61 mm", "front/disc", no, "does not go over"},
		{"63 mm", "front/disc", no, "too little for a ring"},
		{"64 mm", "front/disc", mod, "loose"},
		{"64 mm", "", open, "which of them is the spigot"},
		{"", "front/disc", open, "locating diameter"},
	} {
		m := Meeting{A: disc.with("spigot", tt.hole), B: hub, Over: tt.over, Uncut: []graph.PositionID{"front/disc",
			"front/wheel"}}
		if c := the(t, Judge(m), "spigot"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
			t.Errorf("hole %s over %q: %s (%s), want %s with %q", tt.hole, tt.over, c.Verdict, c.Why, tt.want, tt.says)
		}
	}
}

// What carries a brake, the steering or a wheel is not drilled, bushed or bored by
// an offer; anything else is. Common practice, no source.
func TestUncut(t *testing.T) {
	lug := made("bolt-pattern", "count", "2", "spacing", "80 mm", "thread", "M8")
	lug.Position = "fork/leg"
	part := made("bolt-pattern", "count", "2", "spacing", "80 mm", "hole", "8.5 mm")
	part.Position = "front/part"
	for _, tt := range []struct {
		hole  string
		uncut bool
		want  graph.Verdict
	}{
		{"8.5 mm", true, yes}, {"10 mm", true, yes}, {"10.5 mm", true, no}, {"10.5 mm", false, mod},
		{"7.9 mm", true, no}, {"7.9 mm", false, mod}, {"", true, open},
	} {
		m := Meeting{A: part.with("hole", tt.hole), B: lug}
		if tt.uncut {
			m.Uncut = []graph.PositionID{"front/part"}
		}
		c := the(t, Judge(m), "bolts in holes")
		if c.Verdict != tt.want || tt.want == no && len(c.Orders) > 0 {
			t.Errorf("hole %s, uncut %v: %s (%s), want %s and nothing offered", tt.hole, tt.uncut, c.Verdict, c.Why, tt.want)
		}
	}
}

// Geometry: a panel for the other side has the same points with left and right
// swapped.
func TestMirroredPanels(t *testing.T) {
	stay := made("points", "points", "A: M6 at 0,60; B: M6 at 100,40; C: M6 at 180,90").with("seen-from", "top")
	for _, tt := range []struct {
		name, points, view string
		want               graph.Verdict
		says               string
	}{
		{"for this side", "A: 6.5 mm at 0,60; B: 6.5 mm at 100,40; C: 6.5 mm at 180,90", "top", yes, ""},
		{"for the other side", "A: 6.5 mm at 0,-60; B: 6.5 mm at 100,-40; C: 6.5 mm at 180,-90", "top", no, "mirrored"},
		{"for the other side, one point off", "A: 6.5 mm at 0,-60; B: 6.5 mm at 100,-40; C: 6.5 mm at 160,-90", "top", mod,
			""},
		{"nobody said how it is seen", "A: 6.5 mm at 0,-60; B: 6.5 mm at 100,-40; C: 6.5 mm at 180,-90", "", mod, ""},
		{"no positions", "A: 6.5 mm; B: 6.5 mm; C: 6.5 mm", "top", yes, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			panel := made("points", "points", tt.points).with("seen-from", tt.view)
			panel.Position = "bench/panel"
			c := the(t, Judge(Meeting{A: panel, B: stay}), "mounting points")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}
