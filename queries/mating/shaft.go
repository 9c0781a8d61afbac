package mating

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// The clearance a shaft wants in its bore when the joint does not say, and the
// thinnest wall a sleeve may have, in mm. Common practice, no source.
const (
	slidingPlay = 0.30
	leastWall   = 1.0
)

// shaftInBore is rule 4 for a plain shaft, spigot or axle in a hole.
func shaftInBore(b *bench, m Meeting) {
	c := b.check("shaft in bore")
	shaft, okShaft := c.length(m.A, "diameter")
	hole, okHole := c.length(m.B, "diameter")
	if !okShaft || !okHole {
		return
	}
	if m.A.PartKind == tubeKind {
		valveInRim(c, m, shaft, hole)
		return
	}
	low, high := 0.0, slidingPlay
	if q, err := measure.ParseQuantity(m.Allow, measure.Length); err == nil {
		low, high = q.Low, q.High
	}
	play := hole.minus(shaft)
	c.sizes(mm(shaft.nominal), mm(hole.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(low, high); {
	case where == inside || same(play.nominal, 0) && low <= 0:
		c.Gap = ""
		c.fits("%s shaft in a %s bore, %s of play", mm(shaft.nominal), mm(hole.nominal), mm(play.nominal))
	case where == astride:
		askTwo(c, m, "diameter", "diameter")
		c.unknown("play %s, %s wanted: at the limits it may be outside", mmRange(play.low, play.high), mmRange(low, high))
	case where == below && play.nominal < 0:
		c.no("the shaft is %s too thick for the bore", c.Gap)
	case where == below:
		c.no("%s of play is too tight, %s wanted", mm(play.nominal), mmRange(low, high))
	default:
		sleeveInBore(c, m.B, shaft.nominal, hole.nominal, low)
	}
}

// valvePlay is the most by which the hole of a rim may be wider than the stem of a tube's
// valve, in mm: stems of 7.7 to 7.9 mm go in holes of 8.3 to 8.8 mm. Common practice, no
// source.
const valvePlay = 1.2

// valveInRim judges the stem of an inner tube in its hole: nothing runs there, and a nut
// holds it.
func valveInRim(c *check, m Meeting, stem, hole span) {
	play := hole.minus(stem)
	c.sizes(mm(stem.nominal), mm(hole.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(0, valvePlay); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s valve in a %s hole", mm(stem.nominal), mm(hole.nominal))
	case where == below:
		c.no("the valve is %s too thick for the hole of the rim", c.Gap)
	default:
		askTwo(c, m, "diameter", "diameter")
		c.unknown("the valve has %s of room in the hole of the rim: it may tear off where the tube creeps", c.Gap)
	}
}

// sleeveInBore takes up the room around a shaft that is too thin, with at least
// the play that the joint wants.
func sleeveInBore(c *check, hole Side, shaft, diameter, least float64) {
	inside := shaft + least // the one bore it is turned with
	if (diameter-inside)/2 < leastWall-eps {
		c.no("%s of play: too loose to run, too little room for a sleeve of %s wall", c.Gap, mm(leastWall))
		return
	}
	if !canSleeve(c, shaft) {
		return
	}
	c.change(graph.EffortLatheWeld, "turn a sleeve for the bore", "the shaft is %s too thin for the bore", c.Gap)
	spec, long := []Field{{"inside", mm(inside)}, {"outside", mm(diameter)}}, ""
	text := "sleeve " + mm(inside) + " inside, " + mm(diameter) + " outside"
	if length, ok := c.peekLength(hole, "length"); ok {
		long = mm(length.nominal)
		spec, text = append(spec, Field{"length", long}), text+", "+long+" long"
	} else {
		spec = append(spec, Field{"length", "length of the bore: measure it"})
	}
	spec = append(append(spec, boreOver(runsOn, shaft, least)...), outsideFor(diameter)...)
	o := c.order("sleeve", text, append(spec, sleeveFields(inside, diameter)...)...)
	o.Place = hole.Position
	o.Stands = []graph.Feature{feature("sleeve", "sleeve", "inside", mm(inside), "outside", mm(diameter), "length",
		long)}
}

// askTwo names one dimension of each side as what settles an unknown.
func askTwo(c *check, m Meeting, dimA, dimB string) {
	c.settle(askFor(m.A, dimA))
	c.settle(askFor(m.B, dimB))
}

// sealMatch is how far seal and shaft, or seal and seat, may differ, in mm: the
// h11 shaft of ISO 6194-1 reaches 0.16 mm below its nominal size at 50 mm.
const sealMatch = 0.2

// sealOnShaft judges the lip of a seal on the shaft it runs on.
func sealOnShaft(b *bench, m Meeting) {
	c := b.check("seal on shaft")
	lip, okLip := c.length(m.A, "inside")
	shaft, okShaft := c.length(m.B, "diameter")
	if !okLip || !okShaft {
		return
	}
	switch matched(c, m, lip, shaft, "inside", "diameter") {
	case inside:
		c.fits("a %s seal on a %s shaft", mm(lip.nominal), mm(shaft.nominal))
	case below, above:
		c.no("a %s seal does not seal on a %s shaft", mm(lip.nominal), mm(shaft.nominal))
		orderSeal(c, m.A, shaft.nominal, acrossSeal(c, m, "seal-seat", "outside"), sealDim(c, m.A, "width"))
	}
}

// sealDeep is how much deeper than its seal a seat may be, in mm, unless the machine was built with more, which
// then counts and may be misread by sealMatch: what holds a seal endwise stands at the mouth of its seat. Common
// practice, no source.
const sealDeep = 2.0

// sealInSeat judges the outside of a seal in its housing, and whether it is held there.
func sealInSeat(b *bench, m Meeting) {
	c := b.check("seal in seat")
	outside, okOutside := c.length(m.A, "outside")
	seat, okSeat := c.length(m.B, "diameter")
	width, okWidth := c.length(m.A, "width")
	depth, okDepth := c.length(m.B, "depth")
	if okWidth && okDepth && width.low > depth.high+sealMatch+eps {
		c.no("the seal is %s wide, its seat %s deep: it stands proud", mm(width.nominal), mm(depth.nominal))
	}
	if free := depth.minus(width); okWidth && okDepth && free.nominal > sealFree(c, m)+eps {
		c.sizes(mm(width.nominal)+" wide", mm(depth.nominal)+" deep", mm(free.nominal))
		c.settle(lookAt(m.B, "depth", "what holds the seal in its seat endwise, and how far it can move"))
		c.unknown("the seal is %s wide, its seat %s deep: what holds it endwise may not reach it", mm(width.nominal),
			mm(depth.nominal))
	}
	if !okOutside || !okSeat {
		return
	}
	switch matched(c, m, outside, seat, "outside", "diameter") {
	case inside:
		c.fits("a %s seal in a %s seat", mm(outside.nominal), mm(seat.nominal))
		notMuchLess(c, m, m.A, "width", measure.Length, "look what keeps a narrower seal in its place")
	case below, above:
		c.no("a %s seal does not hold in a %s seat", mm(outside.nominal), mm(seat.nominal))
		orderSeal(c, m.A, acrossSeal(c, m, "shaft", "inside"), seat.nominal, sealDim(c, m.A, "width"))
	}
}

// sealFree is how much deeper than its seal this seat may be.
func sealFree(c *check, m Meeting) float64 {
	if built, known := builtRoom(c, m, "seal", "width", "seal-seat", "depth"); known {
		return max(sealDeep, built.nominal+sealMatch)
	}
	return sealDeep
}

// matched compares two seal sizes: inside when they match. It asks for both when
// their tolerances leave it open.
func matched(c *check, m Meeting, a, b span, dimA, dimB string) lying {
	diff := a.minus(b)
	c.sizes(mm(a.nominal), mm(b.nominal), mm(math.Abs(diff.nominal)))
	where := diff.against(-sealMatch, sealMatch)
	switch {
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		return inside
	case where == astride:
		askTwo(c, m, dimA, dimB)
		c.unknown("at the limits of their tolerances the seal may not seal")
	}
	return where
}

func sealDim(c *check, s Side, dim string) float64 {
	v, _ := c.peekLength(s, dim)
	return v.nominal
}

// acrossSeal is what the seal meets on its other side, a seat or a shaft, else the
// size that it has itself there.
func acrossSeal(c *check, m Meeting, kind, own string) float64 {
	if m.Across.Feature.Kind == kind {
		if v := sealDim(c.bench.aside().check(c.Rule), m.Across, "diameter"); v > 0 {
			return v
		}
	}
	return sealDim(c, m.A, own)
}

// thinnestSeal is how much more a shaft seal is outside than inside at the least, in mm:
// lip, spring and case take that up. Common practice, no source.
const thinnestSeal = 4.0

// orderSeal writes the order for a seal, where one can be that small; a size of 0 is one
// nobody knows.
func orderSeal(c *check, seal Side, inside, outside, width float64) {
	if inside > 0 && outside > 0 && outside < inside+thinnestSeal-eps {
		return
	}
	size := func(v float64) string {
		if v == 0 {
			return "measure it"
		}
		return mm(v)
	}
	o := c.order("seal", "shaft seal "+size(inside)+" inside, "+size(outside)+" outside, "+size(width)+" wide",
		Field{"inside", size(inside)}, Field{"outside", size(outside)}, Field{"width", size(width)},
		Field{"form", "lips and case as the one there has: with a dust lip or without, for the same grease or oil"})
	o.Place = seal.Position
	for dim, v := range map[string]float64{"inside": inside, "outside": outside, "width": width} {
		if v > 0 {
			makes(o, seal, dim, mm(v))
		}
	}
	slices.Sort(o.Dims)
}
