package mating

// Turns of thread that hold a cap. A cap carries a spring and some air, not a
// clamped joint: the rule of 1 d of engagement is for bolts, and a 32 mm fine
// thread never has it. Common practice, no source: five turns are plenty, three
// the least.
const (
	capTurns      = 5.0
	capTurnsLeast = 3.0
)

// capPlay is how much smaller the sealed land of a cap may be than its bore, in
// mm. Common practice, no source: an O-ring of 2 to 3 mm bridges it.
const capPlay = 0.5

// capInSeat judges the cap of a fork tube or the like.
func capInSeat(b *bench, m Meeting) {
	c := b.check("cap in its tube")
	form, ok := alike(c, m, "form", "form", "one does not go into the other")
	if !ok {
		return
	}
	if form == "screwed" {
		capThread(c, m)
	}
	if form == "ringed" || either(m, "diameter") {
		inOver{"diameter", "diameter", 0, capPlay, "its seal sits in the bore",
			"the cap is too thick for the bore", "its seal does not reach the bore"}.judge(c, m)
	}
	if form == "ringed" {
		c.Renew = append(c.Renew, "the ring that holds the cap, if it is bent")
	}
}

func capThread(c *check, m Meeting) {
	male, okMale := c.thread(m.A, "thread")
	female, okFemale := c.thread(m.B, "thread")
	length, okLength := c.length(m.A, "length")
	depth, okDepth := c.length(m.B, "depth")
	if !okMale || !okFemale || !meetThreads(c, m.A, male, m.B, female) {
		return
	}
	if !okLength || !okDepth || male.Pitch == 0 {
		return
	}
	engaged := length
	if depth.nominal < length.nominal {
		engaged = depth
	}
	turns := engaged.times(1 / male.Pitch)
	switch {
	case turns.low >= capTurns-eps:
		c.fits("%.0f turns of thread hold it", turns.nominal)
	case turns.high < capTurnsLeast-eps:
		c.no("only %.1f turns of thread hold it", turns.nominal)
	default:
		askTwo(c, m, "length", "depth")
		c.unknown("%.1f turns of thread hold it: %g are plenty, %g the least", turns.nominal, capTurns, capTurnsLeast)
	}
}
