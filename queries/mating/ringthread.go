package mating

import (
	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// ringTurns is how many turns a cap or ring nut must have in its thread to be
// called engaged. Common practice, no source; fewer is not called wrong, but
// left to the maker's manual.
const ringTurns = 5.0

// ringDuty reports whether a thread closes a tube or sets play instead of
// holding parts together: by what it is said to do, else by its size
// (trade.RingThread).
func ringDuty(c *check, bolt, into Side, thread measure.ThreadSize) bool {
	for _, side := range []Side{bolt, into} {
		if duty, ok := c.peek(side, "duty", measure.Word); ok {
			return duty.Text != "bolt"
		}
	}
	return trade.RingThread(thread.Nominal, thread.Pitch)
}

// ring judges the thread of a cap, a ring nut or a steering nut. Nothing asks
// for 1 d of it: that much a bolt needs to break before its thread strips, and
// these are not drawn up that hard. All that the shorter of the two has must be
// in but for its last turn, or as much as carries any bolt, or as it was built with: the
// cap's whole thread or the whole nut. In a hole with a bottom it must not
// meet that before it clamps. A nut that is drawn up on it is held to its height.
func ring(e engaged, c *check, t threading, length span, hole string) {
	shorter := min(length.nominal, e.depth.nominal)
	in := min(e.reach.nominal, e.depth.nominal)
	e.sizes(c, mm(in)+" engaged", mm(shorter)+", all there is")
	if len(c.missing) > 0 {
		return
	}
	turns, read := in/e.pitch, max(e.pitch, lengthRead)
	less, known := e.lessThanBuilt(c, t)
	switch {
	case e.bottoms(c, t, hole):
	case in < e.pitch-eps:
		c.no("%s of %s engaged: it does not hold by a full turn", mm(max(0, in)), e.thread)
	case e.isThinNut(c, t):
	case in >= nutHeight*e.d-eps, known && less <= read+eps:
		e.ringTurns(c, in, shorter, turns)
	case known:
		c.Gap = mm(less)
		c.settle(askFor(t.bolt, "length"), askFor(t.into, tappedBy(t.into).depth))
		c.unknown("%s of %s engaged, %s less than it was built with", mm(in), e.thread, c.Gap)
	case in < shorter-read-eps:
		c.Gap = mm(shorter - in)
		c.settle(askFor(t.bolt, "length"), askFor(t.into, tappedBy(t.into).depth))
		c.unknown("%s of %s engaged where %s could be: %s of thread does not carry", mm(in), e.thread, mm(shorter),
			c.Gap)
	default:
		e.ringTurns(c, in, shorter, turns)
	}
}

// ringTurns judges what is engaged by how many turns it is.
func (e engaged) ringTurns(c *check, in, shorter, turns float64) {
	if turns < ringTurns-eps && !e.asBuilt {
		c.settle(Ask{Dim: "engagement", What: "turns the maker wants there", Where: "the maker's manual",
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("only %.1f turns of %s engaged: the maker's manual decides", turns, e.thread)
		return
	}
	all := ""
	if in >= shorter-eps {
		all = "all "
	}
	c.fits("%s%s of %s engaged, %.0f turns: a cap or ring nut, not a bolt", all, mm(in), e.thread, turns)
}

// isThinNut says no to a nut that is drawn up and is lower than the one built in, and than
// a nut that carries its bolt: by its size alone such a thread might be a cap's. A nut of
// another duty sets play, and is held to its turns.
func (e engaged) isThinNut(c *check, t threading) bool {
	aside := c.bench.aside().check(c.Rule)
	_, saidBolt := aside.peek(t.bolt, "duty", measure.Word)
	_, saidNut := aside.peek(t.into, "duty", measure.Word)
	was, known := aside.peekLength(t.oldInto, tappedBy(t.into).depth)
	if saidBolt || saidNut || !known || !isNut(aside, t.into) || e.depth.high >= nutHeight*e.d-eps ||
		e.depth.nominal >= was.nominal-lengthRead-eps {
		return false
	}
	c.sizes(mm(e.depth.nominal), mm(was.nominal), mm(was.nominal-e.depth.nominal))
	c.no("a thin nut, %s: less than the 0.8 d of ISO 898-2, and %s lower than the one built in", mm(e.depth.nominal),
		c.Gap)
	return true
}

// lessThanBuilt is how much less of the thread carries than the machine was built with, in
// mm; false when that is not known.
func (e engaged) lessThanBuilt(c *check, t threading) (float64, bool) {
	depth, ok := c.bench.aside().check(c.Rule).peekLength(t.oldInto, tappedBy(t.into).depth)
	if !ok || !t.built {
		return 0, false
	}
	return min(t.was.nominal, depth.nominal) - min(e.reach.nominal, e.depth.nominal), true
}
