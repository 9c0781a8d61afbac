package mating

import (
	"math"

	"matewell/graph"
)

// Keep is a member of a row that must stay where it was as built, whatever else
// is changed in the row: the carrier of the rear sprocket, for the chain to run
// straight.
type Keep struct {
	Name   string    // "sprocket"
	Member int       // place in the row, counted from 1
	Was    StackCase // the row as built
}

// keeps judges, in one check "sprocket line", where a member that did not change
// comes to stand against where it stood. Source: geometry.
func keeps(r *row, b *bench, k Keep) {
	c := b.check(SprocketLine)
	was, okWas := middleOf(rowAsMade(b, k.Was), c, k.Member)
	is, okIs := middleOf(r, c, k.Member)
	if !okWas || !okIs {
		return
	}
	moved := is.minus(was)
	gap := mm(math.Abs(moved.nominal))
	c.sizes("", "", gap)
	switch where := moved.against(-lineOff, lineOff); {
	case where == inside || same(moved.nominal, 0):
		c.Gap = ""
		c.fits("the %s stays in line within %s", k.Name, gap)
	case math.Abs(moved.nominal) <= lineOff:
		c.settle(askFor(r.in.Row[k.Member-1].Side, "width"))
		c.unknown("the %s stays in line by nominal sizes, but not at the limits of the tolerances: measure the chain line",
			k.Name)
	default:
		c.change(graph.EffortLatheWeld, "bring the "+k.Name+" "+leftOrRight(-moved.nominal)+" again, at its carrier or "+
			"with a spacer behind it, then measure the chain line",
			"the %s comes to stand %s of where it was", k.Name, leftOrRight(moved.nominal))
	}
}

// middleOf is where the middle of a member comes to stand once the spacers are
// made, from the middle of the gap, left positive. It is only told for what
// stands left of the centre member, with no spacer between the two.
func middleOf(r *row, c *check, member int) (span, bool) {
	gap, ok := c.length(r.in.Within, "width")
	if member < 1 || member >= r.in.Centre {
		c.unknown("nobody said where in the row it stands")
		return span{}, false
	}
	var left, between span
	for i, m := range r.in.Row { // all of them: the spacers are made by them
		w, okWidth := r.in.wide(c, m)
		ok = ok && okWidth
		if i >= r.in.Centre-1 {
			continue
		}
		left = left.plus(w)
		if i >= member {
			between = between.plus(w)
		}
		if i == member-1 {
			between = between.plus(w.times(0.5))
		}
	}
	if r.made {
		left = left.plus(exact(shift(r, true)))
	}
	return gap.times(0.5).minus(left).plus(between), ok
}
