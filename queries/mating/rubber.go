package mating

import (
	"strings"

	"matewell/graph"
)

// rubberIn says what a rubber does in a fluid: true where it stands it. What is not in
// it nobody here can say. Source: seal makers' tables of resistance, from memory, and
// common practice.
var rubberIn = map[string]map[string]bool{
	"fuel": {"NBR": true, "FKM": true, "EPDM": false, "SILICONE": false, "NATURAL RUBBER": false},
	"brake fluid": {"EPDM": true, "SBR": true, "NATURAL RUBBER": true, "NBR": false, "FKM": false,
		"SILICONE": false},
}

// rubberNames are other names of a rubber, in capitals. Source: ISO 1629 for the letters.
var rubberNames = map[string]string{"NITRILE": "NBR", "NITRILE RUBBER": "NBR", "BUNA": "NBR", "FPM": "FKM",
	"FLUORO RUBBER": "FKM", "FLUORORUBBER": "FKM", "EPM": "EPDM", "VMQ": "SILICONE", "MVQ": "SILICONE",
	"SILICONE RUBBER": "SILICONE", "NR": "NATURAL RUBBER"}

// SealRubberCase is a rubber ring and what it keeps in.
type SealRubberCase struct {
	Ring   Side   // of kind washer
	Fluid  string // "fuel" or "brake fluid"
	Safety graph.Safety
}

// JudgeSealRubber judges, in one check "seal rubber", whether the rubber of a ring
// stands what it seals: one that does not swells or cracks, and what leaks is fuel or
// brake fluid. Source: as rubberIn.
func JudgeSealRubber(in SealRubberCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("seal rubber")
		material, ok := c.phrase(in.Ring, "material")
		if !ok {
			return
		}
		stands, known := rubberIn[in.Fluid][rubber(material)]
		c.sizes(material, "stands "+in.Fluid, "")
		switch {
		case !known:
			c.settle(askFor(in.Ring, "material"))
			c.unknown("whether %s stands %s is not known here: its maker says", material, in.Fluid)
		case stands:
			c.fits("%s stands %s", material, in.Fluid)
		default:
			c.no("%s does not stand %s: it swells or cracks, and what it seals leaks", material, in.Fluid)
		}
	})
}

// rubber is the one name of a rubber by its letters or what people call it.
func rubber(text string) string {
	name := strings.ToUpper(strings.Join(strings.Fields(text), " "))
	if short, ok := rubberNames[name]; ok {
		return short
	}
	return name
}
