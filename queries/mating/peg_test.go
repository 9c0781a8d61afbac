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
	disc := made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "8.5 mm", "spigot", "62 mm", "locates", "recess")
	hub := made("bolt-pattern", "count", "5", "spacing", "80 mm", "thread", "M8", "spigot", "62 mm", "locates", "raised")
	runCases(t, []ruleCase{
		{"recess over its spigot", disc, hub, "spigot", yes},
		{"two raised ones", disc.with("locates", "raised"), hub, "spigot", no},
		{"two recesses", disc, hub.with("locates", "recess"), "spigot", no},
		{"known of one", disc.with("locates", ""), hub, "spigot", open},
		{"known of neither", disc.with("locates", ""), hub.with("locates", ""), "spigot", yes},
		{"wider recess, a ring", disc.with("spigot", "66 mm"), hub, "spigot", mod},
	})
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
		{"for the other side, one point off", "A: 6.5 mm at 0,-60; B: 6.5 mm at 100,-40; C: 6.5 mm at 160,-90", "top", mod, ""},
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
