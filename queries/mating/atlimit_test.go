package mating

import (
	"testing"

	"matewell/graph"
)

// What is just at a limit is no bare fit: teeth that fill a chain (ISO 606 for what
// they may be, from memory), a disc at the thickness stamped on it; and what is faced
// off a bush is never rounded to less than it must be.
func TestAtTheLimit(t *testing.T) {
	chain := made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "9.53 mm")
	teeth := func(width string) Side {
		return made("sprocket", "pitch", "15.875 mm", "roller", "10.16 mm", "width", width, "teeth", "40")
	}
	slot := made("caliper-slot", "disc-thickness", "5.5 mm", "pad-height", "30 mm")
	disc := func(thickness string) Side {
		return made("disc-rim", "diameter", "296 mm", "thickness", thickness, "minimum", "4.5 mm", "band", "32 mm")
	}
	clevis := made("clevis", "gap", "22.3 mm", "bolt", "10 mm")
	eye := func(width string) Side { return made("eye", "bore", "10.1 mm", "width", width) }
	for _, test := range []struct {
		name string
		a, b Side
		rule string
		want graph.Verdict
		does string
	}{
		{"teeth of 0.93", chain, teeth("8.9 mm"), "chain on sprocket", yes, ""},
		{"near miss: teeth of 0.97", chain, teeth("9.3 mm"), "chain on sprocket", yes, ""},
		{"teeth that fill the chain", chain, teeth("9.5 mm"), "chain on sprocket", open, ""},
		{"teeth nobody measured", chain, teeth(""), "chain on sprocket", open, ""},
		{"near miss: a disc above its least", slot, disc("4.6 mm"), "disc in slot", yes, ""},
		{"a disc at its least", slot, disc("4.5 mm"), "disc in slot", open, ""},
		{"a worn disc", slot, disc("4.4 mm"), "disc in slot", no, ""},
		{"a bush 1.7 mm too wide", eye("24 mm"), clevis, "eye in clevis", mod, "face 0.9 mm off each side of the bush"},
		{"a bush 1.6 mm too wide", eye("23.9 mm"), clevis, "eye in clevis", mod, "face 0.8 mm off each side of the bush"},
	} {
		c := the(t, Judge(Meeting{A: test.a, B: test.b}), test.rule)
		if c.Verdict != test.want || test.does != "" && (len(c.Do) == 0 || c.Do[0] != test.does) {
			t.Errorf("%s: %s (%s), %q; want %s, %q", test.name, c.Verdict, c.Why, c.Do, test.want, test.does)
		}
	}
}
