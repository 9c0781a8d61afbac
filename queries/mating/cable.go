package mating

import (
	"math"

	"matewell/graph/measure"
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
	diff := has.minus(spanOf(v.Quantity))
	c.Had, c.Wanted, c.Gap = mm(has.nominal), mm(v.Quantity.Nominal), mm(math.Abs(diff.nominal))
	adjust, okAdjust := c.peekLength(in.Line, "adjust")
	reach := max(innerMatch, adjust.nominal/2)
	switch where := diff.against(-reach, reach); {
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
