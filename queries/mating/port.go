package mating

import "matewell/graph/measure"

// screwedEndInPort is rule 2 for a line end that screws in itself.
func screwedEndInPort(b *bench, m Meeting) {
	seat(b, m, "")
	c := b.check("port thread")
	male, okMale := c.thread(m.A, "thread")
	female, okFemale := c.thread(m.B, "thread")
	if okMale && okFemale && !meetThreads(c, m.A, male, m.B, female) {
		return
	}
	flat, ok := c.peek(m.B, "seat", measure.Word)
	if !ok || flat.Text != "flat washer" {
		return // a flare seats on its cone: its thread never meets the bottom
	}
	c.newWasher("1 new sealing washer")
	length, okLength := c.length(m.A, "length")
	depth, okDepth := c.length(m.B, "depth")
	if !okLength || !okDepth || !okMale || !okFemale {
		return
	}
	washer := span{(thinWasher + thickWasher) / 2, thinWasher, thickWasher}
	reach := length.minus(washer)
	least, most := banjoEngage*female.Nominal, depth.minus(exact(tipPitches*female.Pitch))
	switch {
	case reach.against(least, most.nominal) == inside:
		c.fits("%s of thread goes in", mm(length.nominal))
	case reach.high < least-eps:
		c.Gap = mm(least - reach.nominal)
		c.no("the thread is %s too short to carry", c.Gap)
	case reach.low > most.high+eps:
		c.Gap = mm(reach.nominal - most.nominal)
		c.no("the thread is %s too long: it bottoms before it seals", c.Gap)
	default:
		c.settle(askFor(m.A, "length"))
		c.settle(askFor(m.B, "depth"))
		c.unknown("the thread is close to the limit: measure it and the depth")
	}
}

// washerOnThread judges a washer on the bolt or port it belongs to.
func washerOnThread(b *bench, m Meeting) {
	c := b.check("washer")
	hole, okHole := c.length(m.A, "inside")
	thread, okThread := c.thread(m.B, "thread")
	if !okHole || !okThread {
		return
	}
	play := hole.minus(exact(thread.Nominal))
	c.sizes(mm(hole.nominal), thread.String(), "")
	switch play.against(0, coarsePlay(thread.Nominal)) {
	case inside:
		c.fits("a %s washer on %s", mm(hole.nominal), thread)
	case below:
		c.no("a washer of %s does not go over %s", mm(hole.nominal), thread)
	case above:
		c.no("a washer of %s is too wide for %s", mm(hole.nominal), thread)
	default:
		c.settle(askFor(m.A, "inside"))
		c.unknown("at the limit of its tolerance the washer may not suit")
	}
}
