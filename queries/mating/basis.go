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
		"thread":      threads,
		"port thread": threads + "; length in the port: " + practice,
		"thread engagement": "fastener handbook's trials: 1 d in steel (1.25 d for 10.9), 2 d in aluminium; handbooks, " +
			"from memory: 1.5 d in aluminium, 2 pitches off the bottom; " +
			"ISO 898-2 for nuts, AC 43.13-1B for a thread out of the nut, ISO 888 for plain shanks; caps and ring nuts: " +
			practice,
		"bolt class": "ISO 898-1, ISO 898-2, ISO 3506-1",
		"washer":     "ISO 273",

		"bracket height":      geometric,
		BracketSideways:       geometric,
		"metal between holes": "EN 1993-1-8 table 3.3 at least; 2.4 holes in steel, 3 bolts in aluminium (AC 43.13-1B)",
		"metal to tap":        "as for thread engagement",
		"metal to edge": "EN 1993-1-8 table 3.3 at least; 1.5 holes for brackets (a student race-car rule), 2 bolts " +
			"in aluminium (AC 43.13-1B)",
		"sleeve on shaft":   "the joint's own clearance, else " + practice,
		"sleeve in bore":    "a bush maker's tolerance page and ISO 286 for pressed sleeves; sliding: " + practice,
		"sleeve in clamp":   practice,
		"sleeve wall":       "ISO 3547 for bushes, from memory; the least: " + practice,
		"circlip":           "DIN 471, DIN 472; play: from memory",
		"bearing fit":       "ISO 286-2, ISO 492; which class for which load: two fit tables",
		"bearing play":      "ISO 5753-1",
		"inner row":         geometric,
		"hub row":           geometric,
		"bearing depth":     geometric,
		"tyre load":         "UN R75: index and symbol each for itself",
		"tyre speed":        "UN R75: index and symbol each for itself",
		"tyre place":        "one country's motorcycle inspection manual, 4.1; local rules decide",
		"tyre to arm":       "UN R75 for the size; room to grow: " + practice,
		"tyre to mudguard":  "UN R75 for the size; room to grow: " + practice,
		"tyre under guard":  "geometry; UN R75 for a size that nobody measured; room to grow: " + practice,
		"tyre to chain":     "UN R75 for the size; room to grow: " + practice,
		"tyre construction": "one country's motorcycle inspection manual, 4.1; makers' and safety bodies' guides",
		"pad outline":       "laid on the old one: " + practice,
		"pad plate":         practice,
		"pad thickness":     practice,
		"pad pin":           practice,
		"bleed screw":       practice,
		"shoes in drum":     "the mark on the drum; " + practice,
		"shoe width":        practice,
		"shoe pivot":        practice,
		"shoe cam":          practice,
		"brake rod":         geometric,
		"brake leverage":    "Pascal's principle; how much is much: " + practice,
		"clutch leverage":   "Pascal's principle; how much is much: " + practice,
		"slave travel":      "Pascal's principle, the same fluid in and out; how much is much: " + practice,
		"bolt through":      "ISO 273 for clear holes; play of a pivot: " + practice,
		"bolt reach":        geometric,
		"shank in shear":    practice + "; length of thread: ISO 4014",

		"port seat":       "the two must seal alike",
		"banjo eye":       practice,
		"sealing washers": "one more than there are eyes, and new: " + practice,
		"seal material":   practice,
		"banjo bolt": "no published figure: 0.8 d as for a nut of ISO 898-2; 2 pitches off the bottom from " +
			"handbooks, from memory",
		"bolt pattern":   "geometry; ISO 273 for the play of the bolts",
		"bolts in holes": "ISO 273",
		"spigot":         practice,
		"caliper mount":  "geometry; ISO 273 for the play of the bolts",
		"caliper height": "(D fitted - D design) / 2, of lug, caliper and disc all three: published workshop " +
			"notes, recomputed; geometry",
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
		"clamp halves":                   practice,
		"axle length":                    geometric,
		"recorded twice":                 practice,
		"plain length":                   geometric,
		"spoke count":                    practice,
		"spoke holes":                    "geometry",
		"spoke length":                   geometric,
		"tube in tyre":                   practice,
		"tube on rim":                    practice,
		"adjuster":                       practice,
		"chain path":                     geometric,
		"front sprocket room":            practice,
		"rear sprocket room":             practice,
		"seal rubber":                    "seal makers' tables, from memory; letters: ISO 1629",
		"limit of wear":                  "the limit given with the part: its maker's, or the rules of the road",
		"wall of ring":                   practice,
		"thread on its shaft":            geometric,
		"yokes together":                 geometric,
		"steering stop":                  geometric,
		"room at full lock": "geometry; UK motorcycle inspection manual 2.1: nothing trapped, grips and " +
			"levers usable; room for a hand: " + practice,
		"lock as built":      geometric,
		"hand":               practice,
		"left and right":     practice,
		"spring in its bore": practice,
		"spring preload":     "the preload its maker gives; room before the coils close: " + practice,
		"spring rate":        "the rate its place is made for; spread of grading: " + practice,
		"springs of a set":   "as many as the place takes",
		"cap in its tube":    threads + "; turns that hold a cap: " + practice,
		"plate in basket":    practice,
		"plate on hub":       practice,
		"clutch pack":        "the pack its maker gives",
		"clutch springs":     practice,
		"cush rubbers":       practice,
		"joining link": "ISO 606, ISO 10190 for the sizes; strength of links: a chain maker's guide; " +
			"one make for riveted links: " + practice,
		"chain parity":        "chain makers' guides: an even number, and a cranked link carries about 35 % less",
		"sprocket fixing":     practice,
		"tab washer":          "new each time: from memory; the rest: " + practice,
		"tab washer on shaft": "new each time: from memory; the rest: " + practice,
		"fitting on bar":      practice,
		"peg of the switch":   practice,
		"bar weight":          "the range its maker gives",
		"room on the bar":     "arithmetic; gap beside a turning grip: " + practice,
		"cable travel":        "what it works must go all of its way; how much too far: " + practice,
		"end of the outer":    practice,
		"pushrod":             "what the adjuster allows; play in its bore: " + practice,
		"rod end":             threads,
		"rod threads":         threads,
		"rod length":          "geometry; one diameter of thread as for a bolt in steel",
		"pedal leverage":      "levers; what passes for the same: what the readings leave",
		"signal":              "the two as marked; spread of senders: " + practice,
		"speed shown":         "UN R39, 5.3; turns of the wheel; what a tyre varies: " + practice,
		"hose on pipe":        "the bore not above the pipe; stretch: " + practice,
		"hose kind":           "SAE J30, scope, for fuel hoses; else as marked",
		"hose clamp":          "its own range; a hose on its pipe keeps its section",
		"line ends":           "an end that nothing judges is not judged",
		"throats in a row":    practice,
		"tap in tank":         threads + "; the rest: " + practice,
		"fuse":                "what the place is made for: a fuse guards the thinnest wire behind it",
		"wire": "the wire's own rating, else two published tables that differ by a factor of " +
			"two; sections of ASTM B258",
		"load":                 "Ohm's law; about 1.5 times the load: pages on wiring",
		"voltage":              "what is marked",
		"stator and regulator": "two wires one phase, three wires three: trade pages; the rest as marked",
		"charging":             "what the battery's maker allows",
		"battery in box":       practice,
		"ignition coil":        "what its switch allows; Ohm's law",
		"clear of the exhaust": "the machine's own book, else as built: no published figure",
		"fit for the road":     "inspection manuals; local rules decide",
		"stand":                "geometry; as built, for no published lean was found",
		"rake and trail": "geometry; as built within what a worn tyre changes; a published overview of " +
			"street machines",
		"rear height": "levers; as built within what the readings leave",
		"link ratio":  "levers; as built within what the readings leave",
		"lever": "levers; as built within what the readings leave; 13 mm to the grip at the " +
			"hardest squeeze: a rider-training guide",
		"rear travel":   "as built: room at full bump was measured with it",
		"grip length":   practice,
		"eye in clevis": practice,
		"bolt in eye":   practice,
		"cable end":     practice,
		"row width":     geometric,
		"row centre":    geometric,
		"disc line":     geometric,
		SprocketLine:    geometric,
		"tyre on rim": "UN R75, ISO 5751 for the size; rim widths: one page that quotes a tyre maker, " +
			"rows from memory, else " + practice,

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
