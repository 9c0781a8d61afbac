package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: fuel hoses of 5.5 mm are pushed on pipes of 6 mm.
func TestSmallHoseOnItsPipe(t *testing.T) {
	for _, tt := range []struct {
		name, hose, pipe string
		direct           bool
		want             graph.Verdict
	}{
		{"a fuel hose", "5.5 mm", "6 mm", true, yes},
		{"near miss: stretched by more than a fifth", "5.5 mm", "7 mm", true, no},
		{"a clamp of metal", "5.5 mm", "6 mm", false, no},
		{"a moulded hose", "28 mm", "30 mm", true, no},
		{"bore missing", "", "6 mm", true, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: made("clamp").with("diameter", tt.hose), B: made("tube").with("diameter", tt.pipe),
				Direct: tt.direct}
			if c := the(t, Judge(m), "clamp on tube"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// What a machine was built with is less than a rule asks now and then: a thin nut, a
// short thread in a casting. Source of the least: ISO 898-2, and as for engagement.
func TestAsMuchThreadAsBuilt(t *testing.T) {
	bolt := made("male-thread", "thread", "M8x1.25", "length", "22 mm", "grip", "8 mm", "class", "8.8")
	nut := made("female-thread", "thread", "M8x1.25", "depth", "4 mm", "hole", "through", "material", "steel", "grip",
		"16 mm", "class", "8")
	hole := made("female-thread", "thread", "M8x1.25", "depth", "10 mm", "hole", "through", "material", "aluminium",
		"grip", "12 mm")
	for _, tt := range []struct {
		name      string
		into, was Side
		bolt      Side
		unbuilt   bool
		want      graph.Verdict
	}{
		{"a thin nut as built", nut, nut, bolt, false, yes},
		{"a thin nut, nobody knows how it was built", nut, nut, bolt, true, no},
		{"a thin nut where a full one was", nut, nut.with("depth", "7 mm"), bolt, false, no},
		{"a short thread in a casting as built", hole, hole, bolt, false, yes},
		{"the same in another metal", hole, hole.with("material", "steel"), bolt, false, no},
		{"near miss: a bolt 0.5 mm shorter", hole, hole, bolt.with("length", "21.5 mm"), false, yes},
		{"a bolt 4 mm shorter", hole, hole, bolt.with("length", "18 mm"), false, no},
		{"depth missing", hole.with("depth", ""), hole, bolt, false, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: tt.bolt, B: tt.into, Built: &Meeting{A: bolt, B: tt.was}}
			if tt.unbuilt {
				m.Built = nil
			}
			if c := the(t, Judge(m), "thread engagement"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// A tube is marked with all widths that it is for.
func TestTubeForSeveralWidths(t *testing.T) {
	tube := made("tyre", "size", "2.75/3.00-18")
	rim := made("rim", "diameter", "457 mm", "width", "41 mm")
	for _, tt := range []struct {
		name string
		rim  Side
		want graph.Verdict
	}{
		{"its rim", rim, yes},
		{"a rim of 17 in", rim.with("diameter", "432 mm"), no},
		{"width missing", rim.with("width", ""), open},
	} {
		if c := the(t, Judge(Meeting{A: tube, B: tt.rim}), "tyre on rim"); c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.want)
		}
	}
}

// Bulbs of two filaments are marked with both powers.
func TestBulbOfTwoFilaments(t *testing.T) {
	holder := made("lamp-holder", "cap", "P45t", "power", "45/40 W", "voltage", "12 V")
	bulb := made("lamp-cap", "cap", "P45t", "voltage", "12 V")
	for power, want := range map[string]graph.Verdict{"45/40 W": yes, "40/45 W": yes, "35/35 W": yes, "60/55 W": no,
		"45 W": open, "": open} {
		if c := the(t, Judge(Meeting{A: bulb.with("power", power), B: holder}), "bulb power"); c.Verdict != want {
			t.Errorf("%q: %s (%s), want %s", power, c.Verdict, c.Why, want)
		}
	}
}

// No chain is too long by less than a tenth of a millimetre: 110 links of 5/8 in on 15 and
// 43 teeth put the axle 639.02 mm from the output shaft. Source: the formula of chain
// handbooks.
func TestChainAtTheEndOfItsAdjusters(t *testing.T) {
	for centre, want := range map[string]graph.Verdict{
		"620-640 mm": yes, "620-638.99 mm": yes, "620-638.9 mm": mod, "600-636 mm": mod} {
		in := ChainCase{NoLine: true, Chain: made("chain", "pitch", "15.875 mm", "links", "110"),
			Front: made("sprocket", "teeth", "15"), Rear: made("sprocket", "teeth", "43"),
			Centre: []graph.Reading{{Text: centre}}}
		if c := the(t, JudgeChain(in), "chain length"); c.Verdict != want {
			t.Errorf("%s: %s (%s), want %s", centre, c.Verdict, c.Why, want)
		}
	}
}
