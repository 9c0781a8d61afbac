package mating

import (
	"strings"
	"testing"

	"matewell/graph"
)

// What turns between its cheeks keeps its play when it is faced or packed: that of the pair
// built in, or two tenths. What is clamped has none. Common practice, no source.
func TestPlayOfWhatTurns(t *testing.T) {
	eye, clevis := made("eye", "bore", "6.1 mm", "width", "14 mm"), made("clevis", "gap", "14.2 mm", "bolt", "6 mm")
	lever, stay := eye, eye
	lever.PartKind, stay.PartKind = "brake-lever", "torque-rod"
	built := &Meeting{A: lever, B: clevis}
	for _, tt := range []struct {
		name  string
		m     Meeting
		want  graph.Verdict
		says  string // of what is to be done, else of why
		width string // that it then has
	}{
		{"as built", Meeting{A: lever, B: clevis, Built: built}, yes, "14 mm eye", ""},
		{"0.8 mm too wide", Meeting{A: lever.with("width", "15 mm"), B: clevis, Built: built}, mod, "face 0.5 mm", ""},
		{"1.2 mm too narrow", Meeting{A: lever, B: clevis.with("gap", "15.2 mm"), Built: built}, mod, "0.5 mm", "15 mm"},
		{"1.2 mm too narrow, nobody knows the pair built in", Meeting{A: lever, B: clevis.with("gap", "15.2 mm")}, mod,
			"0.5 mm", "15 mm"},
		{"near miss: no play at all", Meeting{A: lever.with("width", "14.2 mm"), B: clevis, Built: built}, open, "bind", ""},
		{"a tenth of play", Meeting{A: lever.with("width", "14.1 mm"), B: clevis, Built: built}, yes, "", ""},
		{"what is clamped fills its gap", Meeting{A: stay, B: clevis.with("gap", "15.2 mm")}, mod, "0.6 mm", "15.2 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(tt.m), "eye in clevis")
			width := ""
			for _, o := range c.Orders {
				width = o.Makes.Dims["width"][0].Text
			}
			if c.Verdict != tt.want || !contains(strings.Join(c.Do, "; ")+c.Why, tt.says) || width != tt.width {
				t.Errorf("%s, %s (%s), %q wide", c.Verdict, c.Do, c.Why, width)
			}
		})
	}
}

// Common practice, no source, but for the pitches (ISO 606, ISO 10190).
func TestClampsEyesAndChains(t *testing.T) {
	clamp := made("clamp", "diameter", "22.2 mm", "length", "40 mm", "split", "yes")
	tube := made("tube", "diameter", "22.2 mm", "length", "60 mm")
	lampClamp := clamp
	lampClamp.PartKind = "headlamp-bracket"
	eye, clevis := made("eye", "bore", "10 mm", "width", "30 mm"), made("clevis", "gap", "30 mm", "bolt", "10 mm")
	nipple, seat := made("nipple", "diameter", "8 mm", "form", "barrel"), made("nipple-seat", "diameter", "8 mm", "form",
		"barrel")
	chain := made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "6.35 mm", "links", "110")
	sprocket := made("sprocket", "pitch", "5/8 in", "roller", "10.16 mm", "width", "5.9 mm", "teeth", "15", "line", "0 mm")
	spline := made("spline", "teeth", "13", "major", "25 mm", "minor", "22 mm")
	runCases(t, []ruleCase{
		{"clamp as built", clamp, tube, "", yes},
		{"clamp bored 0.05 over", clamp.with("diameter", "22.25 mm"), tube, "", yes},
		{"tube too thick", clamp, tube.with("diameter", "25.4 mm"), "", no},
		{"thin tube, sleeve", clamp.with("diameter", "25.4 mm"), tube, "clamp on tube", mod},
		{"thin tube, a bar in the clamp of a thick one", clamp.with("diameter", "28.6 mm"), tube, "clamp on tube", mod},
		{"thin tube, near miss: more wall than a sleeve closes", clamp.with("diameter", "30.4 mm"), tube, "clamp on tube",
			no},
		{"thin tube, a lamp's bracket takes more", lampClamp.with("diameter", "30.4 mm"), tube, "clamp on tube", mod},
		{"thin tube, near miss: too much for that too", lampClamp.with("diameter", "34.4 mm"), tube, "clamp on tube", no},
		{"thin tube, solid clamp", clamp.with("diameter", "25.4 mm").with("split", "no"), tube, "clamp on tube", no},
		{"thin tube, split or not?", clamp.with("diameter", "25.4 mm").with("split", ""), tube, "clamp on tube", open},
		{"thin tube, sleeve not full length", clamp.with("diameter", "25.4 mm"), tube.with("length", "30 mm"),
			"clamp on tube", no},
		{"thin tube, no room", clamp.with("diameter", "23 mm"), tube, "clamp on tube", no},
		{"tube missing", clamp, tube.with("diameter", ""), "", open},
		{"eye as built", eye, clevis, "", yes},
		{"eye 2 mm narrow", eye, clevis.with("gap", "32 mm"), "eye in clevis", mod},
		{"eye 1 mm wide", eye, clevis.with("gap", "29 mm"), "eye in clevis", mod},
		{"eye 4 mm wide", eye, clevis.with("gap", "26 mm"), "eye in clevis", no},
		{"bolt too thick", eye, clevis.with("bolt", "12 mm"), "bolt in eye", no},
		{"bolt loose, bush", eye, clevis.with("bolt", "8 mm"), "bolt in eye", mod},
		{"cable end as built", nipple, seat, "", yes},
		{"cable end too thick", nipple.with("diameter", "9 mm"), seat, "", no},
		{"cable end of another form", nipple.with("form", "ball"), seat, "", no},
		{"cable end form missing", nipple.with("form", ""), seat, "", open},
		{"chain on its sprocket", chain, sprocket, "", yes},
		{"428 on 520", chain.with("pitch", "12.7 mm"), sprocket, "", no},
		{"525 on 520", chain.with("inner-width", "7.94 mm"), sprocket, "", no},
		{"520 on 525", chain, sprocket.with("width", "7.3 mm"), "", no},
		{"roller 0.2 mm thicker than its gap is cut for", chain.with("roller", "10.36 mm"), sprocket, "", open},
		{"roller 0.3 mm thicker", chain.with("roller", "10.46 mm"), sprocket, "", no},
		{"near miss: roller 0.05 mm thicker by the caliper", chain.with("roller", "10.21 mm"), sprocket, "", yes},
		{"roller missing", chain.with("roller", ""), sprocket, "", open},
		{"spline as built", spline, spline, "", yes},
		{"one spline less", spline, spline.with("teeth", "12"), "", no},
		{"spline 1 mm wider", spline, spline.with("major", "26 mm"), "", no},
		{"spline roots on one side only", spline.with("minor", ""), spline, "", open},
	})
}

// Sources: UN R37 (caps), 49 CFR 571.116 (fluids).
func TestLampsPlugsAndFluids(t *testing.T) {
	bulb := made("lamp-cap", "cap", "BA15s", "power", "21 W", "voltage", "12 V")
	holder := made("lamp-holder", "cap", "BA15s", "power", "21 W", "voltage", "12 V")
	plug := made("connector", "family", "sealed 3-way", "gender", "pins", "pins", "1 feed 12 V, 2 earth, 3 speed pulse")
	socket := plug.with("gender", "sockets")
	fluid := func(allows string) Side { return made("fluid").with("allows", allows) }
	runCases(t, []ruleCase{
		{"P21W in BA15s", bulb, holder, "", yes},
		{"P21/5W in BA15s", bulb.with("cap", "BAY15d"), holder, "bulb cap", no},
		{"cap written small", bulb.with("cap", "ba15s"), holder, "bulb cap", yes},
		{"cap by its full designation", bulb.with("cap", "P43t-38"), holder.with("cap", "P43t"), "bulb cap", yes},
		{"another cap of three pins", bulb.with("cap", "P45t-41"), holder.with("cap", "P43t-38"), "bulb cap", no},
		{"near miss: another size", bulb.with("cap", "P43t-33"), holder.with("cap", "P43t"), "bulb cap", no},
		{"weaker bulb", bulb.with("power", "10 W"), holder, "bulb power", yes},
		{"stronger bulb", bulb.with("power", "35 W"), holder, "bulb power", no},
		{"power missing", bulb.with("power", ""), holder, "bulb power", open},
		{"6 V on 12 V", bulb.with("voltage", "6 V"), holder, "bulb voltage", no},
		{"beam for this side", made("beam", "kick", "left"), made("traffic", "kick", "left"), "", yes},
		{"beam for the other", made("beam", "kick", "right"), made("traffic", "kick", "left"), "", no},
		{"beam for both", made("beam", "kick", "both"), made("traffic", "kick", "left"), "", yes},
		{"beam not known", made("beam"), made("traffic", "kick", "left"), "", open},
		{"plug as built", plug, socket, "", yes},
		{"two halves with pins", plug, plug, "plug", mod},
		{"other family", plug.with("family", "open 3-way"), socket, "plug", mod},
		{"pins moved", plug.with("pins", "1 earth, 2 feed 12 V, 3 speed pulse"), socket, "pins", mod},
		{"pins of another sort", plug.with("pins", "1 feed 12 V, 2 earth, 3 oil switch"), socket, "pins", no},
		{"other signal", plug.with("pins", "1 feed 12 V, 2 earth, 3 speed CAN"), socket, "pins", no},
		{"signal kind not said", plug.with("pins", "1 feed 12 V, 2 earth, 3 speed"), socket, "pins", open},
		{"one pin short, of the speed", plug.with("pins", "1 feed 12 V, 2 earth"), socket, "pins", open},
		{"one pin more, of the brake lamp", plug.with("pins", "1 feed 12 V, 2 earth, 3 speed pulse, 4 brake lamp"), socket,
			"pins", open},
		{"near miss: one pin more, of the clock", plug.with("pins", "1 feed 12 V, 2 earth, 3 speed pulse, 4 clock 12 V"),
			socket, "pins", mod},
		{"pins missing", plug.with("pins", ""), socket, "pins", open},
		{"same fluid", fluid("DOT 4"), fluid("DOT 4"), "", yes},
		{"one fluid shared", fluid("DOT 4, DOT 5.1"), fluid("DOT 3, DOT 4"), "", yes},
		{"spelled together", fluid("dot5.1"), fluid("DOT 5.1"), "", yes},
		{"5 is not 5.1", fluid("DOT 5"), fluid("DOT 5.1"), "", no},
		{"5 with 4", fluid("DOT 5"), fluid("DOT 4"), "", no},
		{"5 with 3", fluid("DOT 5"), fluid("DOT 3"), "", no},
		{"5 with 5", fluid("DOT 5"), fluid("DOT 5"), "", yes},
		{"mineral with 4", fluid("mineral oil"), fluid("DOT 4"), "", no},
		{"mineral with mineral", fluid("mineral"), fluid("mineral oil"), "", yes},
		{"mix, but on no common list", fluid("DOT 4"), fluid("DOT 5.1"), "", open},
		{"5.1 alone where one side allows 4 as well", fluid("DOT 4, DOT 5.1"), fluid("DOT 5.1"), "", yes},
		{"not marked", fluid(""), fluid("DOT 4"), "", open},
	})
}

// Sources: UN R75 and ISO 5751 for the form of a size; rim widths common
// practice, no source.
func TestPanelsAndTyres(t *testing.T) {
	panel := made("points", "points", "A: 6.5 mm at 0,0; B: 6.5 mm at 100,0; C: 6.5 mm at 0,50")
	stay := made("points", "points", "A: M6 at 5,5; B: M6 at 105,5; C: M6 at 5,55")
	tyre, rim := made("tyre", "size", "120/70-17"), made("rim", "diameter", "17 in", "width", "3 1/2 in")
	ash, kelp := made("finish", "scheme", "ash"), made("finish", "scheme", "kelp")
	runCases(t, []ruleCase{
		{"panel as built", panel, stay, "", yes},
		{"1 mm off", panel, stay.with("points", "A: M6 at 5,5; B: M6 at 106,5; C: M6 at 5,55"), "", yes},
		{"3 mm off", panel, stay.with("points", "A: M6 at 5,5; B: M6 at 108,5; C: M6 at 5,55"), "", mod},
		{"one point more", panel, stay.with("points", "A: M6 at 5,5; B: M6 at 105,5"), "", mod},
		{"thicker screw", panel, stay.with("points", "A: M8 at 5,5; B: M6 at 105,5; C: M6 at 5,55"), "", mod},
		{"nothing meets", panel.with("points", "A: 6.5 mm at 0,0"), stay.with("points", "A: M10 at 5,5"), "", no},
		{"no positions, names agree", made("points", "points", "A: 6.5 mm; B: 6.5 mm"), made("points", "points",
			"A: M6; B: M6"), "", yes},
		{"no positions, names differ", made("points", "points", "A: 6.5 mm; B: 6.5 mm"), made("points", "points",
			"A: M6; Q: M6"), "", open},
		{"seen from two sides", panel.with("seen-from", "side"), stay.with("seen-from", "top"), "", open},
		{"seen from one side", panel.with("seen-from", "top"), stay.with("seen-from", "top"), "", yes},
		{"points missing", panel, made("points"), "", open},
		{"one scheme", ash, ash, "", yes},
		{"two schemes", ash, kelp, "", mod},
		{"scheme missing", ash, made("finish"), "", open},
		{"one paint, no scheme", made("finish", "paint", "W12"), made("finish", "paint", "W12"), "", yes},
		{"120/70 on 3.50", tyre, rim, "", yes},
		{"180/55 on 5.50", tyre.with("size", "180/55 ZR 17"), rim.with("width", "5 1/2 in"), "", yes},
		{"120/70 on 2.50", tyre, rim.with("width", "2 1/2 in"), "", open},
		{"180/55 on 2.50", tyre.with("size", "180/55-17"), rim.with("width", "2 1/2 in"), "", no},
		{"17 in on 18 in", tyre, rim.with("diameter", "18 in"), "", no},
		{"3.00-18 on 1.85", tyre.with("size", "3.00-18"), made("rim", "diameter", "18 in", "width", "1.85 in"), "", yes},
		{"size not readable", tyre.with("size", "sixteen"), rim, "", open},
		{"rim width missing", tyre, rim.with("width", ""), "", open},
	})
	if got := Judge(Meeting{A: made("pistons"), B: made("tyre")}); len(got) != 1 || got[0].Verdict != graph.Unknown {
		t.Errorf("two kinds without a rule give %+v, want one unknown", got)
	}
}

// No seal is ordered that could not be: one whose case has no room round its lip.
func TestNoSealWithoutAWall(t *testing.T) {
	seal := made("seal", "inside", "28 mm", "outside", "40 mm", "width", "7 mm")
	for shaft, orders := range map[string]int{"30 mm": 1, "36 mm": 1, "36.5 mm": 0, "41 mm": 0} {
		m := Meeting{A: seal, B: made("shaft", "diameter", shaft), Across: made("seal-seat", "diameter", "40 mm")}
		c := the(t, Judge(m), "seal on shaft")
		if c.Verdict != no || len(c.Orders) != orders {
			t.Errorf("shaft of %s: %s with %d orders, want %d", shaft, c.Verdict, len(c.Orders), orders)
		}
	}
}
