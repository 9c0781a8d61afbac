package mating

import (
	"cmp"
	"math"
	"slices"

	"matewell/graph"
)

// Keep is a member of a row that must stay where it was as built, whatever else
// is changed in the row: the carrier of the rear sprocket, for the chain to run
// straight.
type Keep struct {
	Name   string    // "sprocket"
	Member int       // place in the row, counted from 1
	Was    StackCase // the row as built
	// WasMember is its place in that, where something else was in the row; else 0.
	WasMember int
	// Plane and WasPlane are the faces (kind sprocket-plane) of the member now and as built
	// where it is another part: its face was measured in a row of its own. Zero where it is
	// the one built in.
	Plane, WasPlane Side
}

// keeps judges, in one check "sprocket line", where a member that did not change
// comes to stand against where it stood. Source: geometry.
func keeps(r *row, b *bench, k Keep) {
	c := b.check(SprocketLine)
	was, okWas := middleOf(rowAsMade(b, k.Was), c, k.before())
	is, okIs := middleOf(r, c, k.Member)
	if !okWas || !okIs {
		return
	}
	if !k.Plane.IsZero() && !k.isAlike(c, r) {
		wider := half(c, r.in, k.Member).minus(half(c, k.Was, k.before()))
		if k.Member > r.in.Centre {
			wider = wider.times(-1)
		}
		k.faceInRow(c, is.plus(wider).minus(was))
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

// before is the place of the member in the row as built.
func (k Keep) before() int { return cmp.Or(k.WasMember, k.Member) }

// half is half the width of a member in a row that gave it already.
func half(c *check, in StackCase, member int) span {
	w, _ := in.wide(c, in.Row[member-1])
	return w.times(0.5)
}

// isAlike reports whether another member is as wide as the one built in, with its face as far
// from the middle: then it stands where that stood when the row puts it there.
func (k Keep) isAlike(c *check, r *row) bool {
	is, okIs := c.peekLength(k.Plane, "plane")
	was, okWas := c.peekLength(k.WasPlane, "plane")
	return okIs && okWas && math.Abs(is.minus(was).nominal) <= lengthRead+eps &&
		math.Abs(half(c, r.in, k.Member).minus(half(c, k.Was, k.before())).nominal) <= lengthRead+eps
}

// faceInRow judges another member by the face that was measured in a row of its own: where
// its outer end comes to stand elsewhere than that of the one built in, its face must be as
// much elsewhere by its own measure, or that measure belongs to another row. The face itself
// is judged by the chain line.
func (k Keep) faceInRow(c *check, moved span) {
	c.sizes("", "", mm(math.Abs(moved.nominal)))
	if moved.against(-lineOff, lineOff) == inside || same(moved.nominal, 0) {
		c.Gap = ""
		c.fits("the outer end of its carrier stands where it stood, within %s", mm(math.Abs(moved.nominal)))
		return
	}
	is, okIs := c.length(k.Plane, "plane")
	was, okWas := c.length(k.WasPlane, "plane")
	if !okIs || !okWas {
		return
	}
	if off := moved.minus(is.minus(was)); off.against(-lineOff, lineOff) == inside || same(off.nominal, 0) {
		c.Gap = ""
		c.fits("the face of its carrier stands %s of where it was, as its outer end does", leftOrRight(is.minus(was).nominal))
		return
	}
	c.settle(askFor(k.Plane, "plane"))
	c.unknown("the outer end of its carrier comes to stand %s of where it was, and its face was measured in another row: "+
		"measure the chain line in this one", leftOrRight(moved.nominal))
}

// middleOf is where the middle of a member comes to stand once the spacers are
// made, from the middle of the gap, left positive. It is not told of the centre member, nor of
// none.
func middleOf(r *row, c *check, member int) (span, bool) {
	gap, ok := c.length(r.in.Within, "width")
	members, centre, onLeft := r.in.Row, r.in.Centre, member < r.in.Centre
	if member < 1 || member == centre || member > len(members) {
		c.unknown("nobody said where in the row it stands")
		return span{}, false
	}
	if !onLeft { // seen from behind
		members = slices.Clone(members)
		slices.Reverse(members)
		member, centre = len(members)+1-member, len(members)+1-centre
	}
	var side, between span
	for i, m := range members { // all of them: the spacers are made by them
		w, okWidth := r.in.wide(c, m)
		ok = ok && okWidth
		if i >= centre-1 {
			continue
		}
		side = side.plus(w)
		if i >= member {
			between = between.plus(w)
		}
		if i == member-1 {
			between = between.plus(w.times(0.5))
		}
	}
	if r.made {
		side = side.plus(exact(shift(r, onLeft)))
	}
	middle := gap.times(0.5).minus(side).plus(between)
	if !onLeft {
		middle = middle.times(-1)
	}
	return middle, ok
}
