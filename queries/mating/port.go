package mating

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

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
	washerOver(c, m.A, hole, exact(thread.Nominal), thread.String())
}

// washerOver judges a washer with what goes through it, which is called by what. One that seals may be no looser than
// that of a banjo: it must lie all round under a narrow face. Common practice, no source.
func washerOver(c *check, washer Side, hole, thick span, what string) {
	play := hole.minus(thick)
	c.sizes(mm(hole.nominal), what, "")
	most := coarsePlay(thick.nominal)
	if washer.PartKind == "seal-washer" {
		most = min(most, banjoPlay)
	}
	switch play.against(0, most) {
	case inside:
		c.fits("a %s washer on %s", mm(hole.nominal), what)
	case below:
		c.no("a washer of %s does not go over %s", mm(hole.nominal), what)
	case above:
		c.no("a washer of %s is too wide for %s", mm(hole.nominal), what)
	default:
		c.settle(askFor(washer, "inside"))
		c.unknown("at the limit of its tolerance the washer may not suit")
	}
}

// washersOver judges, in one check "washer", the washers that lie under the bolt of a
// joint or go on new with it, where they or that bolt are others than built in: seal and
// plain ones alike must go over it and not much more. Banjos have a check of their own.
// Source: ISO 273.
func washersOver(b *bench, m Meeting) {
	if m.Built == nil || m.A.Feature.Kind == "banjo" || m.A.Feature.Kind == "washer" {
		return
	}
	aside := b.aside().check("washer")
	thick, what, ok := m.goesThrough(aside)
	was, _, okWas := m.Built.goesThrough(aside)
	if !ok {
		return
	}
	var c *check
	seen := map[graph.PositionID]bool{}
	for _, w := range slices.Concat(m.Washers, m.Sealing) {
		isBuilt := slices.ContainsFunc(slices.Concat(m.Built.Washers, m.Built.Sealing), func(o Side) bool {
			return o.Position == w.Position && o.Part == w.Part
		})
		if seen[w.Position] || !liesUnderBolts(w) || isBuilt && okWas && same(thick.nominal, was.nominal) {
			continue
		}
		if seen[w.Position] = true; c == nil {
			c = b.check("washer")
			m.goesThrough(c)
		}
		hole, okHole := c.length(w, "inside")
		if !okHole {
			continue
		}
		if washerOver(c, w, hole, thick, what); c.verdict() == graph.DoesNotFit {
			c.newWasher("a washer for " + what)
		}
	}
}

// liesUnderBolts reports whether a ring lies under the head of a bolt or a nut, by its
// kind: gaskets and O-rings lie round something else.
func liesUnderBolts(w Side) bool { return w.PartKind == "washer" || w.PartKind == "seal-washer" }
