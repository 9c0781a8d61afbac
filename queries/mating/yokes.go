package mating

import (
	"math"

	"matewell/graph/measure"
)

// yokeMatch is how far two yokes may differ in offset or spacing, in mm: both
// are read to 0.1 mm over two bores each. Common practice, no source.
const yokeMatch = 0.3

// angleMatch is how far two angles may differ, in degrees: what reading the angle of
// the tubes to a tenth on each side leaves; a protractor, read to half a degree, does
// not settle it. Common practice, no source.
const angleMatch = 0.2

// tubesApart tells when two yokes that agree hold the tubes further apart, or closer, than
// those built in: what stands between the legs goes by that. Geometry.
func tubesApart(c *check, m Meeting) {
	was, known := asBuilt(m, m.A.Feature.Kind)
	now, okNow := c.peekLength(m.A, "spacing")
	built, okBuilt := c.peekLength(was, "spacing")
	if !known || !okNow || !okBuilt {
		return
	}
	off := now.minus(built)
	if off.against(-yokeMatch, yokeMatch) == inside {
		return
	}
	c.sizes(mm(now.nominal), mm(built.nominal), mm(math.Abs(off.nominal)))
	c.settle(askOf(m.A, "between", "room between the legs at the axle, for wheel, mudguard and brake", "vernier caliper",
		"0.1 mm"))
	c.unknown("the tubes stand %s apart, %s as built: wheel, spacers, discs and mudguard between the legs are made for "+
		"that", mm(now.nominal), mm(built.nominal))
}

// yokesTogether judges the two yokes of a fork: only with one offset, one
// spacing and one angle do the tubes stand parallel in all four clamps.
func yokesTogether(b *bench, m Meeting) {
	apart := b.check("tube spacing")
	equalSize(apart, m, "spacing", "spacing", yokeMatch, "between the tubes in the two yokes")
	tubesApart(apart, m)
	c := b.check("yokes together")
	equalSize(c, m, "offset", "offset", yokeMatch, "of offset in the two yokes")
	if !either(m, "angle") {
		return
	}
	a, okA := amount(c, m.A, "angle", measure.Angle)
	other, okB := amount(c, m.B, "angle", measure.Angle)
	if !okA || !okB {
		return
	}
	switch a.minus(other).against(-angleMatch, angleMatch) {
	case inside:
		c.fits("the tubes stand at %s in both", unitText(a, measure.Angle))
	case astride:
		askTwo(c, m, "angle", "angle")
		c.unknown("at the limits of their tolerances the tubes may stand askew")
	default:
		gap(c, a, other)
		c.Had, c.Wanted, c.Gap = unitText(a, measure.Angle), unitText(other, measure.Angle), ""
		c.no("the tubes stand at %s in one yoke, at %s in the other", unitText(a, measure.Angle), unitText(other,
			measure.Angle))
	}
}
