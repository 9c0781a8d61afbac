package mating

import "matewell/graph"

// TwiceCase is one size of a part that is recorded at two of its features, as the pin of
// a caliper's pads is.
type TwiceCase struct {
	One, Other       Side
	OneDim, OtherDim string
	Safety           graph.Safety
}

// twiceOff is how far two readings of one size may lie apart, in mm: as much as a pin may
// be loose in its hole. Common practice, no source.
const twiceOff = pinOff

// JudgeTwice judges, in one check "recorded twice", whether a part says the same of one
// size at both places; what is held against either says nothing where it does not. It makes
// no check where one of them is not recorded.
func JudgeTwice(in TwiceCase) []Check {
	return judge(false, func(b *bench) {
		aside := b.aside().check("recorded twice")
		_, okOne := aside.peekLength(in.One, in.OneDim)
		_, okOther := aside.peekLength(in.Other, in.OtherDim)
		if !okOne || !okOther {
			return
		}
		c := b.check("recorded twice")
		one, _ := c.length(in.One, in.OneDim)
		other, _ := c.length(in.Other, in.OtherDim)
		off := one.minus(other)
		if off.against(-twiceOff, twiceOff) != below && off.against(-twiceOff, twiceOff) != above {
			c.fits("%s and %s, recorded of one thing", mm(one.nominal), mm(other.nominal))
			return
		}
		c.sizes(mm(one.nominal), mm(other.nominal), "")
		c.settle(askFor(in.One, in.OneDim), askFor(in.Other, in.OtherDim))
		c.unknown("one and the same size is recorded as %s (%s of %s) and as %s (%s of %s): measure it", mm(one.nominal),
			in.OneDim, in.One.Feature.Name, mm(other.nominal), in.OtherDim, in.Other.Feature.Name)
	})
}
