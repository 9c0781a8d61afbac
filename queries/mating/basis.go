package mating

import "sync"

// The bases that several rules share.
const (
	practice  = "common practice, no source"
	threads   = "ISO 261, ISO 724, ASME B1.1, ISO 228-1 for the sizes"
	rings     = "ISO 15, ISO 355 for the sizes; fits: " + practice
	geometric = "geometry; limits: " + practice
)

// basisOf says what the limits of a rule rest on, so that no band and no limit
// goes without its source. It is empty for a rule it does not know.
func basisOf(rule string) string {
	return basisByRule()[rule]
}

// basisByRule is made once and then only read: every check looks itself up.
var basisByRule = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"thread":            threads,
		"port thread":       threads + "; length in the port: " + practice,
		"thread engagement": "handbooks, from memory: 1 d in steel, 1.5 d in aluminium, 2 pitches off the bottom; ISO 898-2 for nuts, ISO 888 for plain shanks",
		"bolt class":        "ISO 898-2, ISO 3506-1",
		"washer":            "ISO 273",

		"port seat":         "the two must seal alike",
		"banjo eye":         practice,
		"sealing washers":   "one more than there are eyes, and new: " + practice,
		"banjo bolt":        "no published figure: 0.8 d as for a nut of ISO 898-2; 2 pitches off the bottom from handbooks, from memory",
		"bolt pattern":      "geometry; ISO 273 for the play of the bolts",
		"bolts in holes":    "ISO 273",
		"spigot":            practice,
		"caliper mount":     "geometry; ISO 273 for the play of the bolts",
		"caliper height":    "(D fitted - D design) / 2: practitioners' notes, recomputed; geometry",
		"caliper over disc": geometric,
		"disc in slot":      "the sizes given and the stamp on the disc; " + practice,
		"pads on disc":      practice,

		"shaft in bore":                  "the joint's own clearance, else " + practice,
		"bearing on shaft":               rings,
		"bearing in seat":                rings,
		"bearing between seat and shaft": rings,
		"bearing kind":                   "ISO 15, ISO 355",
		"bearing width":                  "geometry",
		"seal on shaft":                  "ISO 6194-1 for the play",
		"seal in seat":                   "ISO 6194-1 for the play",
		"clamp on tube":                  practice,
		"grip length":                    practice,
		"eye in clevis":                  practice,
		"bolt in eye":                    practice,
		"cable end":                      practice,
		"row width":                      geometric,
		"row centre":                     geometric,
		"disc line":                      geometric,
		"sprocket line":                  geometric,
		"tyre on rim":                    "UN R75, ISO 5751 for the size; rim widths: " + practice,

		"run length":        "geometry (triangle inequality); spare and loop: " + practice,
		"free inner":        practice,
		"bend":              "geometry; the hose's own least bend",
		"chain on sprocket": "ISO 606, ISO 10190; least width of tooth: " + practice,
		"chain length":      "formula of the chain handbooks",
		"chain line":        geometric,
		"spline":            practice,

		"plug":            "the two halves as marked",
		"pins":            "the two halves as measured",
		"bulb cap":        "UN R37 for which lamp has which cap",
		"bulb power":      "what is marked on the holder",
		"bulb voltage":    "what is marked",
		"beam side":       "common practice; local rules decide",
		"fluid":           "49 CFR 571.116 for DOT fluids; mixing: " + practice,
		"mounting points": "geometry; ISO 273 for the holes; " + practice,
		"scheme":          "the sources named",
	}
})
