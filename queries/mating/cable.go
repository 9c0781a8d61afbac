package mating

import (
	"cmp"
	"math"

	"matewell/graph/measure"
	"matewell/queries/trade"
)

// innerMatch is how far the free inner may be off without an adjuster, in mm:
// what reading it with a tape to 1 mm leaves. The reading is common practice, no
// source.
const innerMatch = 1.0

// freeInner judges the inner that stands out of a cable's outer: it must be
// right within half the adjuster's travel to either side.
func freeInner(b *bench, in RunCase) {
	c := b.check("free inner")
	has, okHas := c.length(in.Line, "inner")
	at := place{position: in.Line.Position, part: in.Line.Part, feature: "run", dim: "inner"}
	ask := Ask{Position: in.Line.Position, Part: in.Line.Part, Feature: "run", Dim: "inner",
		What: "free inner the controls need, lever at rest", Where: label(in.Line), Gauge: "steel tape", Accuracy: "1 mm"}
	v, okWants := c.value(at, in.Inner, func() Ask { return ask }, measure.Length)
	if !okWants {
		c.ask(ask)
	}
	if !okHas || !okWants {
		return
	}
	wants := spanOf(v.Quantity)
	diff := has.minus(wants)
	c.Had, c.Wanted, c.Gap = mm(has.nominal), mm(v.Quantity.Nominal), mm(math.Abs(diff.nominal))
	adjust, okAdjust := c.peekLength(in.Line, "adjust")
	reach := max(innerMatch, adjust.nominal/2)
	left, err := leftOver(has, wants, 2*reach)
	switch where := left.against(0, 0); {
	case err != nil:
		c.settle(askFor(in.Line, "inner"))
		c.cantTell("the free inner", err)
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		c.fits("%s of free inner, %s wanted", mm(has.nominal), mm(v.Quantity.Nominal))
	case !okAdjust:
		c.settle(askFor(in.Line, "adjust"))
		c.unknown("%s off: the travel of the adjuster decides", c.Gap)
	case where == astride:
		c.settle(askFor(in.Line, "inner"))
		c.unknown("close to the end of the adjuster: measure the free inner")
	case diff.nominal < 0:
		c.no("the inner is %s too short, the adjuster takes up %s: the control stays pulled", c.Gap, mm(reach))
	default:
		c.no("the inner is %s too long, the adjuster takes up %s: the control has not its full travel", c.Gap, mm(reach))
	}
}

// leftOver is what an adjuster does not take up (trade.FreeInnerGap), as far as the
// limits of both lengths reach.
func leftOver(has, wants span, adjust float64) (span, error) {
	nominal, err := trade.FreeInnerGap(has.nominal, wants.nominal, adjust)
	low, errLow := trade.FreeInnerGap(has.low, wants.high, adjust)
	high, errHigh := trade.FreeInnerGap(has.high, wants.low, adjust)
	return span{nominal, low, high}, cmp.Or(err, errLow, errHigh)
}
