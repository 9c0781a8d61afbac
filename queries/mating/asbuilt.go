package mating

import (
	"matewell/graph/measure"
)

// clearlyLess is which share of what was built in a part may lack before somebody
// must say whether that is enough. Common practice, no source: a tenth is more than
// the makers of like parts differ among each other.
const clearlyLess = 0.1

// asBuilt is the side with a feature of a kind of the joint as built; false when
// that is not known.
func asBuilt(m Meeting, kind string) (Side, bool) {
	if m.Built == nil {
		return Side{}, false
	}
	for _, s := range []Side{m.Built.A, m.Built.B} {
		if s.Feature.Kind == kind {
			return s, true
		}
	}
	return Side{}, false
}

// builtRoom is by how much a dimension of one side exceeded one of the other, each by its kind, as the machine was
// built, in mm; false where that is not known.
func builtRoom(c *check, m Meeting, in, inDim, over, overDim string) (span, bool) {
	inner, okIn := asBuilt(m, in)
	outer, okOver := asBuilt(m, over)
	if !okIn || !okOver {
		return span{}, false
	}
	has, okHas := c.peekLength(inner, inDim)
	room, okRoom := c.peekLength(outer, overDim)
	return room.minus(has), okHas && okRoom
}

// notMuchLess tells when a dimension of a part, which passes its limit, is clearly
// less than that of the part built in: the limit says only that it is not too much.
// effect is what less of it does.
func notMuchLess(c *check, m Meeting, side Side, dim string, t measure.Type, effect string) {
	notFarOff(c, m, side, dim, t, "less", effect)
}

// notMuchMore tells when a dimension of a part, which passes its limit, is clearly more
// than that of the part built in: the limit says only that it is not too little. effect
// is what more of it does.
func notMuchMore(c *check, m Meeting, side Side, dim string, t measure.Type, effect string) {
	notFarOff(c, m, side, dim, t, "more", effect)
}

// notFarOff is notMuchLess, or notMuchMore, as way says.
func notFarOff(c *check, m Meeting, side Side, dim string, t measure.Type, way, effect string) {
	was, known := asBuilt(m, side.Feature.Kind)
	if !known {
		return
	}
	now, okNow := c.peek(side, dim, t)
	built, okBuilt := c.peek(was, dim, t)
	if !okNow || !okBuilt {
		return
	}
	small, large := now.Quantity, built.Quantity
	if way == "more" {
		small, large = large, small
	}
	if small.High > large.Low*(1-clearlyLess)+eps {
		return
	}
	c.Had, c.Wanted = now.Quantity.String(), built.Quantity.String()
	c.Gap = measure.Format(large.Nominal-small.Nominal, t)
	c.settle(askFor(side, dim))
	c.unknown("%s %s than was built in: %s", c.Gap, way, effect)
}
