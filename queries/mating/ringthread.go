package mating

import (
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// ringTurns is how many turns a cap or ring nut must have in its thread to be
// called engaged. Common practice, no source; fewer is not called wrong, but
// left to the maker's manual.
const ringTurns = 5.0

// capFurther is how much further in than the one built in the cap of a fork may reach, in mm. Common practice, no
// source: springs are set up to some millimetres.
const capFurther = 3.0

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
	further := e.reach.nominal - e.was.nominal
	switch {
	case e.bottoms(c, t, hole):
	case e.built && further > capFurther+eps && !isNut(c, t.into) && t.bolt.PartKind == "fork-cap":
		c.Gap = mm(further)
		c.settle(sideBySideOf(t.bolt))
		c.unknown("it reaches %s further in than the one built in: it draws the spring up by as much, or stands proud", c.Gap)
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
