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
