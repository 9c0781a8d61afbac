package mating

import (
	"testing"

	"matewell/graph"
)

// What only must not be too much is held against what was built in as well: half a
// lining goes into the drum, and brakes half as well.
func TestClearlyLessThanBuilt(t *testing.T) {
	shoes := made("shoes", "diameter", "160 mm", "width", "28 mm")
	drum := made("drum", "diameter", "160 mm", "width", "30 mm")
	seal := made("seal", "inside", "30 mm", "outside", "42 mm", "width", "11 mm")
	seat := made("seal-seat", "diameter", "42 mm", "depth", "12 mm")
	bulb := made("lamp-cap", "cap", "BA15s", "power", "21 W", "voltage", "12 V")
	holder := made("lamp-holder", "cap", "BA15s", "power", "21 W", "voltage", "12 V")
	tests := []struct {
		name   string
		a, b   Side
		was    Side
		rule   string
		wanted graph.Verdict
	}{
		{"linings as built", shoes, drum, shoes, "shoe width", yes},
		{"near miss: a millimetre less", shoes.with("width", "27 mm"), drum, shoes, "shoe width", yes},
		{"narrower linings", shoes.with("width", "25 mm"), drum, shoes, "shoe width", open},
		{"nobody knows what was built in", shoes.with("width", "26 mm"), drum, Side{}, "shoe width", yes},
		{"a seal as built", seal, seat, seal, "seal in seat", yes},
		{"a narrower seal", seal.with("width", "8 mm"), seat, seal, "seal in seat", open},
		{"a bulb as built", bulb, holder, bulb, "bulb power", yes},
		{"a weaker bulb", bulb.with("power", "5 W"), holder, bulb, "bulb power", open},
		{"a bulb whose power nobody recorded", bulb.with("power", ""), holder, bulb, "bulb power", open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: tt.a, B: tt.b}
			if tt.was.Feature.Kind != "" {
				m.Built = &Meeting{A: tt.was, B: tt.b}
			}
			if c := the(t, Judge(m), tt.rule); c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
}

// What holds a seal endwise stands at the mouth of its seat. Common practice, no source.
func TestSealIsHeld(t *testing.T) {
	seal := made("seal", "inside", "43 mm", "outside", "54 mm", "width", "11 mm")
	seat := func(depth string) Side { return made("seal-seat", "diameter", "54 mm", "depth", depth) }
	for _, tt := range []struct {
		name, depth, built string
		want               graph.Verdict
	}{
		{"as built", "11.5 mm", "11.5 mm", yes},
		{"near miss: 2 mm deeper than the seal", "13 mm", "11.5 mm", yes},
		{"much deeper", "25 mm", "11.5 mm", open},
		{"as deep as built", "16 mm", "16 mm", yes},
		{"deeper than a deep one", "18 mm", "16 mm", open},
		{"nobody knows what was built in", "18 mm", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: seal, B: seat(tt.depth)}
			if tt.built != "" {
				m.Built = &Meeting{A: seal, B: seat(tt.built)}
			}
			if c := the(t, Judge(m), "seal in seat"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Two sides that are changed alike agree with one another; what both are less or more than
// was built in is told all the same. The limits are common practice, no source.
func TestBothOtherThanBuilt(t *testing.T) {
	slot := made("caliper-slot", "disc-thickness", "5 mm", "pad-height", "36 mm")
	disc := made("disc-rim", "diameter", "300 mm", "thickness", "5 mm", "minimum", "4.5 mm", "band", "38 mm")
	shoes := made("shoes", "diameter", "160 mm", "width", "28 mm", "pivot", "12.1 mm", "cam", "32 mm")
	plate := made("shoe-carrier", "pivot", "12 mm", "cam", "32 mm")
	holes := made("bolt-pattern", "count", "5", "spacing", "100 mm", "hole", "8.5 mm")
	tapped := made("bolt-pattern", "count", "5", "spacing", "100 mm", "thread", "M8x1.25")
	for _, tt := range []struct {
		name       string
		a, b       Side
		wasA, wasB Side
		rule       string
		wanted     graph.Verdict
	}{
		{"a disc as built", slot, disc, slot, disc, "disc size", yes},
		{"near miss: a tenth larger", slot, disc.with("diameter", "330 mm"), slot, disc, "disc size", yes},
		{"near miss: a tenth smaller", slot, disc.with("diameter", "270 mm"), slot, disc, "disc size", yes},
		{"a larger disc", slot, disc.with("diameter", "340 mm"), slot, disc, "disc size", open},
		{"a smaller disc", slot, disc.with("diameter", "200 mm"), slot, disc, "disc size", open},
		{"pads as built", slot, disc, slot, disc, "pads on disc", yes},
		{"near miss: pads a little lower", slot.with("pad-height", "33 mm"), disc, slot, disc, "pads on disc", yes},
		{"pads of a quarter of the height", slot.with("pad-height", "9 mm"), disc, slot, disc, "pads on disc", open},
		{"near miss: as thin as the old one may wear", slot.with("disc-thickness", "4.5 mm"),
			disc.with("thickness", "4.5 mm").with("minimum", "4 mm"), slot, disc, "disc in slot", yes},
		{"thinner than the old one may wear", slot.with("disc-thickness", "4 mm"),
			disc.with("thickness", "4 mm").with("minimum", "3.5 mm"), slot, disc, "disc in slot", open},
		{"a cam as built", shoes, plate, shoes, plate, "shoe cam", yes},
		{"near miss: a cam a little wider", shoes, plate.with("cam", "35 mm"), shoes, plate, "shoe cam", yes},
		{"a cam twice as wide", shoes, plate.with("cam", "60 mm"), shoes, plate, "shoe cam", open},
		{"five bolts as built", holes, tapped, holes, tapped, "bolt pattern", yes},
		{"three bolts where five held", holes.with("count", "3"), tapped.with("count", "3"), holes, tapped, "bolt pattern",
			open},
		{"near miss: six where five held", holes.with("count", "6"), tapped.with("count", "6"), holes, tapped,
			"bolt pattern", yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: tt.a, B: tt.b, Built: &Meeting{A: tt.wasA, B: tt.wasB}}
			if c := the(t, Judge(m), tt.rule); c.Verdict != tt.wanted {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.wanted)
			}
		})
	}
	bare := Meeting{A: slot, B: disc.with("diameter", ""), Built: &Meeting{A: slot, B: disc}}
	if c, judged := named(Judge(bare), "disc size"); judged {
		t.Errorf("a disc of no known diameter: %s (%s)", c.Verdict, c.Why)
	}
}
