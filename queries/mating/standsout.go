package mating

import "matewell/graph"

// usualOut is how far a bolt usually stands out of its nut or hole, in pitches, and
// moreOut how much further than the one built in it may, in mm: a washer more or less.
// Common practice, no source.
const usualOut, moreOut = 3.0, 3.0

// standsOut judges a tip that stands further out of its nut, or of a hole that goes
// through, than is usual and than it did when built: nobody recorded what is beside it,
// and what moves there may meet it. Nothing is said of the joint as built.
func (e engaged) standsOut(c *check, t threading) {
	out := e.reach.minus(e.depth)
	most := usualOut * e.pitch
	if t.isBuilt || len(c.missing) > 0 || c.verdict() == graph.DoesNotFit ||
		out.nominal <= most+lengthRead+eps {
		return
	}
	how := "one to three threads are usual"
	if before, known := t.outAsBuilt(c); known {
		if most = max(most, before+moreOut); out.nominal <= most+eps {
			return
		}
		how = mm(max(0, before)) + " as built"
	}
	c.Gap = mm(out.nominal - most)
	c.settle(roomBeyond(t.bolt))
	c.unknown("it stands %s out, %s, and may touch what is beside it: measure there, or take one of %s at most",
		tenth(out.nominal), how, tenth(e.clamped.nominal+e.depth.nominal+most))
}

// outAsBuilt is how far the bolt of the joint as built stood out, in mm, less than zero
// where it ended within; false when not known.
func (t threading) outAsBuilt(c *check) (float64, bool) {
	c = c.bench.aside().check(c.Rule)
	depth, ok := c.peekLength(t.oldInto, tappedBy(t.oldInto).depth)
	return t.was.nominal - depth.nominal, t.built && ok
}
