package mating

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
)

// Source for the play of bolts: ISO 273, fine and coarse series; geometry.
func TestBoltPatterns(t *testing.T) {
	disc := made("bolt-pattern", "count", "6", "spacing", "80 mm", "hole", "8.4 mm", "spigot", "64 mm")
	hub := made("bolt-pattern", "count", "6", "spacing", "80 mm", "thread", "M8", "spigot", "64 mm")
	stay := made("bolt-pattern", "count", "2", "spacing", "60 mm", "hole", "6.6 mm")
	lug := made("bolt-pattern", "count", "2", "spacing", "60 mm", "thread", "M6")
	runCases(t, []ruleCase{
		{"as built", disc, hub, "", yes},
		{"other count", disc.with("count", "5"), hub, "bolt pattern", no},
		{"other circle", disc.with("spacing", "77 mm"), hub, "bolt pattern", no},
		{"circle within the play", disc.with("spacing", "80.4 mm"), hub, "bolt pattern", yes},
		{"circle 0.1 mm beyond the play", disc.with("spacing", "80.5 mm"), hub, "bolt pattern", no},
		{"spacing missing", disc.with("spacing", ""), hub, "bolt pattern", open},
		{"count missing", disc.with("count", ""), hub, "bolt pattern", open},
		{"two holes, centres far apart", stay.with("spacing", "92 mm"), lug, "bolt pattern", mod},
		{"two holes that run into the others", stay.with("spacing", "66 mm"), lug, "bolt pattern", no},
		{"two holes within the play", stay.with("spacing", "60.6 mm"), lug, "bolt pattern", yes},
		{"two holes, hole missing", stay.with("spacing", "60.6 mm").with("hole", ""), lug, "bolt pattern", open},
		{"two holes, hole missing, hopeless", stay.with("spacing", "66 mm").with("hole", ""), lug, "bolt pattern", no},
		{"two holes, hole missing, far apart", stay.with("spacing", "92 mm").with("hole", ""), lug, "bolt pattern", mod},
		{"slot takes it up", stay.with("spacing", "63 mm").with("slot", "3 mm"), lug, "bolt pattern", yes},
		{"rectangle", stay.with("count", "4").with("spacing-2", "40 mm"), lug.with("count", "4").with("spacing-2", "45 mm"),
			"bolt pattern", no},
		{"rectangle, one side not measured", stay.with("count", "4").with("spacing-2", "40 mm"), lug.with("count", "4"),
			"bolt pattern", open},
		{"hole too small", stay.with("hole", "5.5 mm"), lug, "bolts in holes", mod},
		{"hole far too wide", stay.with("hole", "8.5 mm"), lug, "bolts in holes", mod},
		{"hole just coarse", stay.with("hole", "7 mm"), lug, "bolts in holes", yes},
		{"both tapped", stay.with("hole", "").with("thread", "M6"), lug, "bolts in holes", mod},
		{"spigot 0.1 mm off, nobody said which is raised", disc.with("spigot", "64.1 mm"), hub, "spigot", open},
		{"spigot 2 mm off, nobody said which is raised", disc.with("spigot", "62 mm"), hub, "spigot", open},
		{"spigot on one side only", disc.with("spigot", ""), hub, "spigot", open},
	})
}

// Source: geometry, (D fitted - D design) / 2, as published notes on radial
// calipers give it too; negative: machine, never shim.
func TestRadialShim(t *testing.T) {
	caliper := made("caliper-mount", "style", "radial", "spacing", "108 mm", "hole", "10.5 mm")
	leg := made("caliper-mount", "style", "radial", "spacing", "108 mm", "thread", "M10x1.25", "disc", "300 mm")
	for _, tt := range []struct {
		design, fitted float64
		want           graph.Verdict
		shim           string
	}{
		{300, 300, yes, ""}, {310, 320, mod, "5 mm"}, {300, 320, mod, "10 mm"}, {296, 301, mod, "2.5 mm"},
		{300, 320.5, open, ""}, {310, 310.5, yes, ""}, {310, 311, mod, "0.5 mm"}, {320, 310, no, ""}, {320, 300, no, ""},
		{310, 309.5, yes, ""},
	} {
		t.Run(fmt.Sprintf("%g on %g", tt.design, tt.fitted), func(t *testing.T) {
			m := Meeting{A: caliper.with("disc", mm(tt.design)), B: leg.with("disc", mm(tt.design)), Disc: made("disc-rim",
				"diameter", mm(tt.fitted))}
			c := the(t, Judge(m), "caliper height")
			shim := ""
			for _, o := range c.Orders {
				if o.Kind == "shim" {
					shim = o.Spec[1].Value
				}
			}
			if c.Verdict != tt.want || shim != tt.shim {
				t.Errorf("%s with shim %q (%s), want %s with %q", c.Verdict, shim, c.Why, tt.want, tt.shim)
			}
			if tt.fitted < tt.design-discMatch && !contains(c.Why, "a shim only brings it out; nothing is machined") {
				t.Errorf("a smaller disc says %q, want neither shim nor machining", c.Why)
			}
		})
	}
}

// Lug, caliper and disc, all three. Source: geometry, half the difference of
// two diameters.
func TestCaliperHeightOfThree(t *testing.T) {
	caliper := made("caliper-mount", "style", "radial", "spacing", "108 mm", "hole", "10.5 mm", "disc", "310 mm")
	leg := made("caliper-mount", "style", "radial", "spacing", "108 mm", "thread", "M10x1.25", "disc", "310 mm")
	disc := made("disc-rim", "diameter", "310 mm")
	tests := []struct {
		name               string
		caliper, leg, disc Side
		want               graph.Verdict
		says               string
	}{
		{"all alike", caliper, leg, disc, yes, "310 mm"},
		{"lug of another leg", caliper, leg.with("disc", "290 mm"), disc, mod, "10 mm further"},
		{"near miss: lug 0.5 mm off", caliper, leg.with("disc", "309.5 mm"), disc, yes, "310 mm"},
		{"lug for a larger disc", caliper, leg.with("disc", "320 mm"), disc, no, "5 mm nearer"},
		{"caliper of another", caliper.with("disc", "296 mm"), leg, disc, mod, "7 mm further"},
		{"other disc", caliper, leg, disc.with("diameter", "320 mm"), mod, "5 mm further"},
		{"all three differ", caliper.with("disc", "296 mm"), leg.with("disc", "300 mm"), disc, open, "heights"},
		{"lug's disc missing", caliper, leg.with("disc", ""), disc, open, "disc"},
		{"disc missing", caliper, leg, disc.with("diameter", ""), open, "diameter"},
		{"heights measured", caliper.with("disc", "296 mm").with("height", "25 mm"), leg.with("disc",
			"300 mm").with("height", "130 mm"), disc, yes, "pads end"},
		{"heights measured, 4 mm short", caliper.with("height", "21 mm"), leg.with("height", "130 mm"), disc, mod,
			"4 mm further"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.caliper, B: tt.leg, Disc: tt.disc}), "caliper height")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// Holes that do not meet, and no bracket can have both of: so it stays whatever disc is
// fitted, also where three discs of three sizes leave open how far a bracket must carry
// the caliper. Source: geometry, half the difference of two diameters, Pythagoras.
func TestHolesStayWhateverTheDisc(t *testing.T) {
	caliper := made("caliper-mount", "style", "axial", "spacing", "90 mm", "hole", "10.5 mm", "disc", "320 mm")
	leg := made("caliper-mount", "style", "axial", "spacing", "100 mm", "thread", "M10x1.25", "disc", "310 mm")
	disc := made("disc-rim", "diameter", "310 mm")
	tests := []struct {
		name         string
		caliper, leg Side
		disc         string
		want         graph.Verdict
		says         string
	}{
		{"the lug's disc", caliper, leg, "310 mm", no, "do not meet"},
		{"the caliper's disc", caliper, leg, "320 mm", no, "do not meet"},
		{"a third, smaller", caliper, leg, "296 mm", no, "no more than 7 mm"}, // 5 and 7 mm: 8.6 mm apart
		{"a third, in between", caliper, leg, "315 mm", no, "do not meet"},    // one up, one down: 5 mm apart
		{"a third, larger", caliper, leg, "330 mm", no, "no more than 5 mm"},
		{"so small that both holes have room, but nobody knows how far", caliper, leg, "288 mm", open, "holes alone"},
		{"near miss: of three sizes two agree", caliper.with("disc", "340 mm"), leg, "310 mm", mod, ""}, // 15 mm in
		{"holes that meet", caliper.with("spacing", "100 mm"), leg, "296 mm", yes, ""},
		{"holes far apart, three sizes", caliper.with("spacing", "60 mm"), leg, "296 mm", open, "holes alone"},
		{"holes far apart, all made for the disc", caliper.with("spacing", "60 mm").with("disc", "310 mm"), leg, "310 mm",
			mod, ""},
		{"holes far apart, both heights measured", caliper.with("spacing", "60 mm").with("height", "20 mm"),
			leg.with("height", "128 mm"), "296 mm", mod, ""},
		{"nobody measured the disc", caliper, leg, "", open, "holes alone"},
		{"nobody measured the holes", caliper.with("spacing", ""), leg, "296 mm", open, "not known"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.caliper, B: tt.leg, Disc: disc.with("diameter", tt.disc)}), "caliper mount")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
			if c.Verdict == no && len(c.Orders) > 0 {
				t.Errorf("%v is ordered", c.Orders)
			}
		})
	}
}

// Source for 0.5 mm: common practice, no source.
func TestCaliperMounts(t *testing.T) {
	caliper := made("caliper-mount", "style", "axial", "spacing", "84 mm", "hole", "10.5 mm", "disc", "296 mm", "offset",
		"12 mm")
	leg := made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M10x1.25", "disc", "296 mm", "offset",
		"12 mm")
	runCases(t, []ruleCase{
		{"as built", caliper, leg, "", yes},
		{"other style", caliper.with("style", "radial"), leg, "caliper mount", no},
		{"other centres, the holes of a bracket would overlap", caliper.with("spacing", "96 mm"), leg, "caliper mount", no},
		{"centres within the play", caliper.with("spacing", "84.5 mm"), leg, "caliper mount", yes},
		{"centres missing", caliper.with("spacing", ""), leg, "caliper mount", open},
		{"other disc on an axial mount", caliper.with("disc", "320 mm"), leg, "caliper height", mod},
		{"near miss: a disc 40 mm larger", caliper, leg.with("disc", "336 mm"), "caliper height", mod},
		{"a disc 44 mm larger: nobody here can vouch", caliper, leg.with("disc", "340 mm"), "caliper height", open},
		{"the same where the holes do not meet either", caliper.with("spacing", "130 mm"), leg.with("disc", "340 mm"),
			"caliper mount", no},
		{"disc missing", caliper.with("disc", ""), leg, "caliper height", open},
		{"slot 0.5 mm beside", caliper.with("offset", "12.5 mm"), leg, "caliper over disc", yes},
		{"slot 2 mm short", caliper.with("offset", "10 mm"), leg, "caliper over disc", mod},
		{"slot 2 mm too far, bolt centres nobody measured", caliper.with("offset", "14 mm").with("spacing", ""), leg,
			"caliper over disc", open},
		{"slot 2 mm too far", caliper.with("offset", "14 mm"), leg, "caliper over disc", no},
		{"offset missing", caliper.with("offset", ""), leg, "caliper over disc", open},
		{"which is the leg?", caliper.with("hole", "").with("disc", "310 mm"), leg.with("thread", ""), "caliper height",
			open},
	})
	slot := made("caliper-slot", "disc-thickness", "5.5 mm", "pad-height", "34 mm")
	disc := made("disc-rim", "diameter", "296 mm", "thickness", "5.5 mm", "band", "34 mm", "minimum", "5 mm")
	runCases(t, []ruleCase{
		{"disc as built", slot, disc, "", yes},
		{"disc half worn", slot, disc.with("thickness", "5.2 mm"), "disc in slot", yes},
		{"disc worn out", slot, disc.with("thickness", "4.9 mm"), "disc in slot", no},
		{"disc too thick", slot, disc.with("thickness", "6 mm"), "disc in slot", no},
		{"disc much thinner", slot, disc.with("thickness", "4 mm").with("minimum", "3.5 mm"), "disc in slot", open},
		{"thickness missing", slot, disc.with("thickness", ""), "disc in slot", open},
		{"pads half a millimetre over", slot.with("pad-height", "34.5 mm"), disc, "pads on disc", yes},
		{"pads over the band", slot.with("pad-height", "36 mm"), disc, "pads on disc", no},
	})
}

// Sources: ISO 15 (bearing sizes); fits and sleeves common practice.
func TestShaftsAndBearings(t *testing.T) {
	shaft, bore := made("shaft", "diameter", "17 mm"), made("bore", "diameter", "17 mm", "length", "30 mm")
	ring := made("bearing", "inside", "17 mm", "outside", "40 mm", "width", "12 mm", "form", "ball")
	seat := made("bearing-seat", "diameter", "40 mm", "depth", "12 mm", "form", "ball")
	seal := made("seal", "inside", "25 mm", "outside", "42 mm", "width", "7 mm")
	runCases(t, []ruleCase{
		{"shaft of the bore's size", shaft, bore, "", yes},
		{"just loose enough", shaft, bore.with("diameter", "17.3 mm"), "", yes},
		{"loose, no room for a sleeve", shaft, bore.with("diameter", "18 mm"), "", no},
		{"loose, room for a sleeve", shaft, bore.with("diameter", "19 mm"), "", mod},
		{"too thick by 0.05", shaft.with("diameter", "17.05 mm"), bore, "", no},
		{"limits overlap", shaft.with("diameter", "17.1 mm ±0.2"), bore, "", open},
		{"bore missing", shaft, bore.with("diameter", ""), "", open},
		{"bearing on its shaft", ring, shaft, "", yes},
		{"bearing by its number alone", made("bearing", "designation", "6203-2RS"), shaft, "", yes},
		{"bridge by the standard", ring.with("outside", "47 mm"), shaft.with("diameter", "20 mm"), "", mod},
		{"no bridge, thicker shaft", ring, shaft.with("diameter", "20 mm"), "", no},
		{"no bridge, thinner shaft is sleeved", ring, shaft.with("diameter", "14 mm"), "", mod},
		{"thinner by 0.5 mm", ring, shaft.with("diameter", "16.5 mm"), "", no},
		{"sort of bearing missing", ring.with("form", ""), shaft.with("diameter", "15 mm"), "", open},
		{"bearing in its seat", ring, seat, "", yes},
		{"seat of another bearing", ring, seat.with("diameter", "47 mm"), "bearing in seat", mod},
		{"seat too small", ring, seat.with("diameter", "37 mm"), "bearing in seat", no},
		{"right size, wrong kind", ring, seat.with("form", "taper"), "bearing kind", no},
		{"wrong kind and other size", ring, seat.with("form", "taper").with("diameter", "47 mm"), "bearing in seat", no},
		{"1 mm proud", ring.with("width", "13 mm"), seat, "bearing width", mod},
		{"depth missing", ring, seat.with("depth", ""), "bearing width", open},
		{"seat and shaft with a bearing between", seat, shaft, "", mod},
		{"seat and shaft, sleeve needed", seat, shaft.with("diameter", "14 mm"), "", mod},
		{"seat and shaft, nothing goes", seat.with("diameter", "18 mm"), shaft, "", no},
		{"seal on its shaft", seal, shaft.with("diameter", "25 mm"), "", yes},
		{"seal on another shaft", seal, shaft.with("diameter", "22 mm"), "", no},
		{"seal in its seat", seal, made("seal-seat", "diameter", "42 mm", "depth", "8 mm"), "", yes},
		{"seal in a wide seat", seal, made("seal-seat", "diameter", "45 mm", "depth", "8 mm"), "", no},
		{"seal in a shallow seat", seal, made("seal-seat", "diameter", "42 mm", "depth", "5 mm"), "", no},
		{"seal seat depth missing", seal, made("seal-seat", "diameter", "42 mm"), "", open},
	})
}

// Sizes: stems and holes as a tube's own list has them, from memory; common practice, no source.
func TestValveInRim(t *testing.T) {
	stem, hole := made("shaft", "diameter", "7.8 mm"), made("bore", "diameter", "8.5 mm")
	stem.PartKind = tubeKind
	runCases(t, []ruleCase{
		{"a valve in its hole", stem, hole, "", yes},
		{"as loose as may be", stem, hole.with("diameter", "9 mm"), "", yes},
		{"near miss: in the hole of a thick valve", stem, hole.with("diameter", "9.1 mm"), "", open},
		{"too thick", stem, hole.with("diameter", "7.5 mm"), "", no},
		{"hole missing", stem, hole.with("diameter", ""), "", open},
	})
}

// Two sides may agree with each other and still want more bolts than their
// place had. Common practice, no source: a bolt for every hole.
func TestEnoughBolts(t *testing.T) {
	disc := made("bolt-pattern", "count", "6", "spacing", "80 mm", "hole", "8.4 mm")
	hub := made("bolt-pattern", "count", "6", "spacing", "80 mm", "thread", "M8")
	tests := []struct {
		name      string
		disc, hub string
		bolts     int
		want      graph.Verdict
	}{
		{"as many bolts as holes", "6", "6", 6, graph.Fits},
		{"a bolt too few", "6", "6", 5, graph.FitsWithChanges},
		{"a bolt left over", "5", "5", 6, graph.Fits},
		{"nobody said how many bolts", "6", "6", 0, graph.Fits},
		{"holes that do not meet", "6", "5", 5, graph.DoesNotFit},
		{"nobody counted the holes", "", "6", 5, graph.Unknown},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: disc.with("count", tt.disc), B: hub.with("count", tt.hub), BoltCount: tt.bolts}
			got := the(t, Judge(m), "bolt pattern")
			if got.Verdict != tt.want {
				t.Errorf("%s: %s, want %s", got.Verdict, got.Why, tt.want)
			}
			if tt.want == graph.FitsWithChanges && !slices.Equal(got.Do, []string{"fit 6 bolts instead of 5"}) {
				t.Errorf("to do: %v", got.Do)
			}
		})
	}
}

// A locating fit has play and no overlap (ISO 286, H7 over h6 or g6); how far each may be
// read wrong is common practice, no source.
func TestSpigotInItsHole(t *testing.T) {
	of := func(name, spigot, locates string) Side {
		s := made("bolt-pattern", "count", "6", "spacing", "80 mm", "hole", "8.4 mm", "locates", locates)
		s = s.with("spigot", spigot)
		s.Position = graph.PositionID(name)
		return s
	}
	for hole, want := range map[string]graph.Verdict{"64 mm": yes, "64.1 mm": yes, "63.98 mm": yes, "63.95 mm": open,
		"63.93 mm": mod, "63.9 mm": mod, "64.2 mm": no, "": open} {
		for _, m := range []Meeting{{A: of("disc", hole, "recess"), B: of("hub", "64 mm", "raised")},
			{A: of("hub", "64 mm", "raised"), B: of("disc", hole, "recess")}} {
			if c := the(t, Judge(m), "spigot"); c.Verdict != want {
				t.Errorf("a hole of %q on 64 mm: %s (%s), want %s", hole, c.Verdict, c.Why, want)
			}
		}
	}
}
