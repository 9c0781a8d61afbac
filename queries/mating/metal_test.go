package mating

import (
	"testing"

	"matewell/graph"
)

// Sources: edge_distance.csv for M8 in a 9.0 mm hole: 10.8 mm least (EN 1993-1-8),
// 13.5 brackets (a student race-car rule), 16 aluminium (AC 43.13-1B); the circles
// are geometry.
func TestPlate(t *testing.T) {
	plate := made("plate", "thickness", "10 mm", "material", "steel", "edge", "13.5 mm")
	inner := made("bolt-pattern", "count", "5", "spacing", "80 mm", "hole", "9 mm")
	outer := made("bolt-pattern", "count", "6", "spacing", "130 mm", "thread", "M8")
	pair := func(spacing string) Side {
		return made("caliper-mount", "style", "axial", "spacing", spacing, "hole", "9 mm")
	}
	as := func(p, a, b Side, apart float64) PlateCase { return PlateCase{Plate: p, A: a, B: b, Apart: apart} }
	tests := []struct {
		name string
		in   PlateCase
		rule string
		want graph.Verdict
		says string
	}{
		{"a ring with room", as(plate, inner, outer, 0), "metal between holes", yes, ""},
		{"two circles that overlap", as(plate, inner, outer.with("spacing", "84 mm"), 0), "metal between holes", no,
			"run into one another"},
		{"near miss: a hair of metal", as(plate, inner, outer.with("spacing", "98 mm"), 0), "metal between holes", no,
			"EN 1993-1-8"},
		{"equal counts, turned between each other", as(plate, inner, outer.with("count", "5").with("spacing", "84 mm"), 0),
			"metal between holes", yes, ""},
		{"between two rules", as(plate.with("between", "20.5 mm"), inner, outer, 0), "metal between holes", open,
			"who answers"},
		{"pairs with a shift", as(plate, pair("84 mm"), pair("96 mm"), 25), "metal between holes", yes, ""},
		{"pairs without a shift", as(plate, pair("84 mm"), pair("96 mm"), 0), "metal between holes", no, "run into one " +
			"another"},
		{"spacing missing", as(plate, inner.with("spacing", ""), outer, 0), "metal between holes", open, "between"},
		{"hole missing", as(plate, inner.with("hole", ""), outer, 0), "metal between holes", open, "hole"},
		{"edge, just the bracket rule", as(plate, inner, outer, 0), "metal to edge", yes, "tabs and brackets"},
		{"edge, 0.1 mm less", as(plate.with("edge", "13.4 mm"), inner, outer, 0), "metal to edge", open, "EN 1993-1-8"},
		{"edge, below the least", as(plate.with("edge", "10.7 mm"), inner, outer, 0), "metal to edge", no, "mildest"},
		{"edge in aluminium", as(plate.with("material", "aluminium").with("edge", "15.9 mm"), inner, outer, 0),
			"metal to edge", open, "aircraft"},
		{"edge in aluminium, enough", as(plate.with("material", "aluminium").with("edge", "18 mm"), inner, outer, 0),
			"metal to edge", yes, ""},
		{"edge missing", as(plate.with("edge", ""), inner, outer, 0), "metal to edge", open, "edge"},
		{"thick enough to tap", as(plate, inner, outer, 0), "metal to tap", yes, "enough"},
		{"near miss: 7.9 mm for M8", as(plate.with("thickness", "7.9 mm"), inner, outer, 0), "metal to tap", open,
			"nuts behind"},
		{"nothing to tap", as(plate, inner.with("hole", "").with("thread", "M8"), outer, 0), "metal to tap", yes, "neither"},
		{"thickness missing", as(plate.with("thickness", ""), inner, outer, 0), "metal to tap", open, "thickness"},
		{"material missing", as(plate.with("material", ""), inner, outer, 0), "metal to edge", open, "made of"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgePlate(tt.in), tt.rule)
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// What can't exist is not offered: a ring for two circles whose holes overlap.
// Source: geometry; EN 1993-1-8 table 3.3.
func TestNoRingForCirclesThatOverlap(t *testing.T) {
	disc := made("bolt-pattern", "count", "6", "spacing", "80 mm", "hole", "8.4 mm")
	hub := made("bolt-pattern", "count", "5", "spacing", "77 mm", "thread", "M8")
	for _, tt := range []struct {
		name   string
		hub    Side
		orders int
	}{{"overlap", hub, 0}, {"near miss", hub.with("spacing", "114 mm"), 0}, {"room", hub.with("spacing", "125 mm"), 1},
		{"one hole not known", hub.with("thread", ""), 0},
		{"one hole not known, room", hub.with("thread", "").with("spacing", "125 mm"), 0}} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: disc, B: tt.hub}), "bolt pattern")
			if c.Verdict != no || len(c.Orders) != tt.orders {
				t.Errorf("%s (%s) with orders %+v, want %d", c.Verdict, c.Why, c.Orders, tt.orders)
			}
		})
	}
}

// A shift by its value and not by its name. Source: geometry.
func TestBracketShift(t *testing.T) {
	leg := made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M8", "disc", "296 mm", "offset", "12 mm")
	caliper := made("caliper-mount", "style", "axial", "spacing", "96 mm", "hole", "8.4 mm", "disc", "296 mm", "offset",
		"15 mm")
	bracket := made("shift", "outward", "7 mm", "sideways", "-3 mm")
	disc := made("disc-rim", "diameter", "310 mm")
	as := func(s, l, k, d Side) ShiftCase { return ShiftCase{Shift: s, Leg: l, Caliper: k, Disc: d} }
	tests := []struct {
		name string
		in   ShiftCase
		rule string
		want graph.Verdict
		says string
	}{
		{"7 mm where 7 mm is needed", as(bracket, leg, caliper, disc), "bracket height", yes, "7 mm further"},
		{"12 mm where 7 mm is needed", as(bracket.with("outward", "12 mm"), leg, caliper, disc), "bracket height", no,
			"5 mm out"},
		{"near miss: 0.3 mm", as(bracket.with("outward", "7.3 mm"), leg, caliper, disc), "bracket height", no, "0.3 mm out"},
		{"the other way", as(bracket.with("outward", "-7 mm"), leg, caliper, disc), "bracket height", no, "14 mm out"},
		{"outward missing", as(bracket.with("outward", ""), leg, caliper, disc), "bracket height", open, "further from " +
			"the axle"},
		{"disc missing", as(bracket, leg, caliper, disc.with("diameter", "")), "bracket height", open, "diameter"},
		{"all three differ", as(bracket, leg.with("disc", "320 mm"), caliper, disc), "bracket height", open, "heights"},
		{"sideways as needed", as(bracket, leg, caliper, disc), "bracket sideways", yes, "3 mm nearer"},
		{"sideways the wrong way", as(bracket.with("sideways", "3 mm"), leg, caliper, disc), "bracket sideways", no,
			"6 mm out"},
		{"sideways missing", as(bracket.with("sideways", ""), leg, caliper, disc), "bracket sideways", open, "sideways"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeShift(tt.in), tt.rule)
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// A bracket in line with its lugs can't have holes that run into the lug's: two
// spacings 1 to 4 mm apart on one disc leave nothing for it. Geometry; EN 1993-1-8
// table 3.3 for what lies beyond.
func TestBracketsThatCannotBe(t *testing.T) {
	leg := made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M8x1.25", "disc", "296 mm", "offset",
		"20 mm")
	for _, tt := range []struct {
		spacing, disc string
		want          graph.Verdict
		says          string
	}{
		{"84 mm", "296 mm", yes, ""},
		{"85 mm", "296 mm", no, "run into one another, 0.5 mm"},
		{"86 mm", "296 mm", no, "at least 19.7 mm round the disc"},
		{"88 mm", "296 mm", no, "run into one another, 2 mm"},
		{"100.4 mm", "296 mm", no, "run into one another, 8.2 mm"},
		{"100.6 mm", "296 mm", mod, ""},
		{"86 mm", "320 mm", mod, ""},
		{"86 mm", "", open, ""},
	} {

		caliper := made("caliper-mount", "style", "axial", "spacing", tt.spacing, "hole", "8.5 mm", "disc", tt.disc,
			"offset", "20 mm")
		checks := Judge(Meeting{A: caliper, B: leg})
		c := the(t, checks, "caliper mount")
		got := Worst(checks)
		if got != tt.want || !contains(c.Why, tt.says) || tt.want == no && len(c.Orders) > 0 {
			t.Errorf("%s, disc %s: %s (%s), want %s with %q", tt.spacing, tt.disc, got, brief(checks), tt.want, tt.says)
		}
	}
}

// A ring from five holes to six is offered where its metal can be told and is enough, and
// nowhere else. Source: EN 1993-1-8 table 3.3, 2.2 holes from centre to centre; a hole from
// centre to bore is common practice, no source; the rest is geometry.
func TestRingBetweenTwoCircles(t *testing.T) {
	hub := made("bolt-pattern", "count", "5", "spacing", "70 mm", "thread", "M8x1.25")
	disc := made("bolt-pattern", "count", "6", "spacing", "110 mm", "hole", "8.5 mm")
	for _, tt := range []struct {
		name      string
		hub, disc Side
		says      string // of why there is none
	}{
		{"far apart", hub, disc, ""},
		{"on one circle", hub.with("spacing", "110 mm"), disc, "no ring joins them"},
		{"near miss: 18.1 mm from hole to hole, 18.7 is the least", hub.with("spacing", "74.5 mm"), disc,
			"no ring joins them"},
		{"nobody measured the holes of the disc", hub, disc.with("hole", ""), "nobody measured the holes"},
		{"nobody measured the circle of the hub", hub.with("spacing", ""), disc, "not known"},
		{"over a spigot with metal", hub.with("spigot", "54 mm"), disc, ""},
		{"near miss: over one that leaves 7.5 mm", hub.with("spigot", "55 mm"), disc, "from its bore"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.disc, B: tt.hub}), "bolt pattern")
			if c.Verdict != no || (len(c.Orders) > 0) != (tt.says == "") || !contains(c.Why, tt.says) {
				t.Errorf("%s, %d orders: %s", c.Verdict, len(c.Orders), c.Why)
			}
		})
	}
}
