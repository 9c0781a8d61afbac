package mating

// What a sprocket may be off the seat that holds it endwise, in mm. Common
// practice, no source: loose ones knock their splines out; a nut or circlip that
// does not come down holds nothing.
const (
	bossLoose = 0.5
	bossProud = 0.1
)

// sprocketInSeat judges a sprocket between its shoulder and what holds it.
func sprocketInSeat(b *bench, m Meeting) {
	c := b.check("sprocket fixing")
	if _, ok := alike(c, m, "form", "held by a", "it is made to be held another way"); !ok {
		c.length(m.A, "width")
		c.length(m.B, "width")
		return
	}
	inOver{"width", "width", -bossProud, bossLoose, "it is held without play",
		"the boss is too wide: what holds it does not come down",
		"the boss is too narrow: it slides and knocks"}.judge(c, m)
}

// tabWasherOnNut judges a tab washer under the nut that it locks.
func tabWasherOnNut(b *bench, m Meeting) {
	c := b.check("tab washer")
	flat, okFlat := c.length(m.A, "flat")
	nut, okNut := c.length(m.B, "across-flats")
	c.newWasher("1 new tab washer")
	if !okFlat || !okNut {
		return
	}
	equalSpans(c, m, flat, nut)
}

// tabMatch is how far nut and tab washer may differ across flats, in mm: less than
// half the 1 mm to the next spanner (ISO 272, from memory), so that no other size
// passes. Where below that it lies is common practice, no source.
const tabMatch = 0.4

func equalSpans(c *check, m Meeting, flat, nut span) {
	switch flat.minus(nut).against(-tabMatch, tabMatch) {
	case inside:
		c.fits("its tab lies against a nut of %s", mm(nut.nominal))
	case astride:
		askTwo(c, m, "flat", "across-flats")
		c.unknown("at the limits of their tolerances the tab may miss the nut")
	default:
		gap(c, flat, nut)
		c.no("made for a nut of %s across flats, this one has %s: the tab does not lie against it", mm(flat.nominal),
			mm(nut.nominal))
	}
}

const (
	// tabKeys is how much wider than the roots of the splines a splined tab washer
	// may be inside and still hold, and how much narrower than the shaft one with
	// another key may be and still go over its thread, in mm: splines of such shafts
	// are some 1.5 mm high all round. Common practice, no source.
	tabKeys = 3.0
	// tabPlay is the least play that lets it go over the roots, in mm. Common
	// practice, no source.
	tabPlay = 0.05
)

// tabWasherOnShaft judges a tab washer on the splined shaft whose nut it locks:
// it must go over it, and something of it must keep it from turning.
func tabWasherOnShaft(b *bench, m Meeting) {
	c := b.check("tab washer on shaft")
	c.newWasher("1 new tab washer")
	key, ok := c.word(m.A, "key")
	if !ok {
		return
	}
	switch key {
	case "splines":
		counts(c, m, "teeth", "teeth", "splines", "it does not go over the shaft, or turns on it")
		inOver{"inside", "minor", -tabKeys, -tabPlay, "it goes over the roots",
			"it is too wide inside: its splines do not hold", "it is too narrow inside to go over the roots"}.judge(c, m)
	case "none":
		c.no("nothing keeps it from turning with the nut: it locks nothing")
	default:
		inside, okInside := c.length(m.A, "inside")
		major, okMajor := c.length(m.B, "major")
		if okInside && okMajor && inside.high < major.low-tabKeys {
			gap(c, inside, major)
			c.no("of %s inside it does not go over a shaft of %s", mm(inside.nominal), mm(major.nominal))
			return
		}
		c.settle(lookAt(m.A, "key", "whether the shaft has the hole or slot for its "+key))
		c.unknown("its %s wants a hole or slot in the shaft", key)
	}
}
