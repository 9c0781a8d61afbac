package mating

import (
	"math"

	"matewell/graph"
)

// What chain and sprocket may differ, in mm.
const (
	// A pitch read with a caliper is good to 0.05 mm; the next chain's is 3.2
	// mm away (ISO 606).
	pitchMatch = 0.1
	// A roller is given by its greatest diameter, and the next one is 0.7 mm away (ISO
	// 606, ISO 10190: 7.77, 8.51, 10.16). rollerThin is what it may be below that and a
	// caliper may misread, rollerThick what a caliper alone may misread.
	rollerThin, rollerThick = 0.2, 0.05
)

// toothLeast is how much of the chain's inner width the teeth must fill. ISO
// 606 makes a tooth 0.93 to 0.95 of it; a narrower chain's sprocket fills 0.77
// at most (525 in 530). The bound between them is ours.
const toothLeast = 0.85

// toothMost is how much of it they may fill. ISO 606 makes a tooth 0.95 of it at most
// (from memory); what is read with a caliper adds a little.
const toothMost = 0.98

// chainOnSprocket is rule 8 for a chain on the teeth of one sprocket.
func chainOnSprocket(b *bench, m Meeting) {
	c := b.check("chain on sprocket")
	equalSize(c, m, "pitch", "pitch", pitchMatch, "pitch")
	rollersInTeeth(c, m)
	inner, okInner := c.length(m.A, "inner-width")
	tooth, okTooth := c.length(m.B, "width")
	if !okInner || !okTooth {
		return
	}
	least, most := inner.times(toothLeast), inner.times(toothMost)
	switch room := inner.minus(tooth); {
	case room.low >= -eps && tooth.high > most.high+eps:
		c.sizes(mm(inner.nominal)+" inside", mm(tooth.nominal)+" teeth", mm(room.nominal))
		askTwo(c, m, "inner-width", "width")
		c.unknown("teeth of %s fill a chain %s wide inside: they want some hundredths of it free", mm(tooth.nominal),
			mm(inner.nominal))
	case room.low >= -eps && tooth.low >= least.high-eps:
		c.fits("%s teeth in a chain %s wide inside", mm(tooth.nominal), mm(inner.nominal))
	case room.high < -eps:
		c.sizes(mm(inner.nominal)+" inside", mm(tooth.nominal)+" teeth", mm(-room.nominal))
		c.no("the teeth are %s too wide for the chain: it rides up on them", mm(-room.nominal))
	case tooth.high < least.low-eps:
		c.sizes(mm(inner.nominal)+" inside", mm(tooth.nominal)+" teeth", mm(room.nominal))
		c.no("the teeth are %s narrower than the chain is inside: it wanders and wears sideways", mm(room.nominal))
	case same(room.nominal, 0):
		c.fits("%s teeth in a chain %s wide inside", mm(tooth.nominal), mm(inner.nominal))
	default:
		askTwo(c, m, "inner-width", "width")
		c.unknown("teeth and chain are close to the limit: measure both")
	}
}

// rollersInTeeth judges the rollers in the gaps between the teeth, which are cut for
// the greatest roller of their chain: a thicker one rides on the flanks.
func rollersInTeeth(c *check, m Meeting) {
	roller, okRoller := c.length(m.A, "roller")
	teeth, okTeeth := c.length(m.B, "roller")
	if !okRoller || !okTeeth {
		return
	}
	diff := roller.minus(teeth)
	switch where := diff.against(-rollerThin, rollerThick); {
	case where == inside || same(diff.nominal, 0):
		c.fits("%s rollers", mm(roller.nominal))
	case where == astride, where == above && diff.nominal <= rollerThin+eps:
		c.sizes(mm(roller.nominal), mm(teeth.nominal), mm(math.Abs(diff.nominal)))
		askTwo(c, m, "roller", "roller")
		c.unknown("rollers of %s in teeth for %s: close to the limit, measure both", mm(roller.nominal), mm(teeth.nominal))
	default:
		c.sizes(mm(roller.nominal), mm(teeth.nominal), mm(math.Abs(diff.nominal)))
		c.no("rollers of %s against %s", mm(roller.nominal), mm(teeth.nominal))
	}
}

// equalSize judges one size that both sides must share.
func equalSize(c *check, m Meeting, dimA, dimB string, within float64, what string) {
	a, okA := c.length(m.A, dimA)
	b, okB := c.length(m.B, dimB)
	if !okA || !okB {
		return
	}
	diff := a.minus(b)
	switch where := diff.against(-within, within); {
	case where == inside || same(diff.nominal, 0):
		c.fits("%s %s", mm(a.nominal), what)
	case where == astride:
		askTwo(c, m, dimA, dimB)
		c.unknown("%s against %s %s, which may differ at the limits of their tolerances", mm(a.nominal), mm(b.nominal), what)
	default:
		c.sizes(mm(a.nominal), mm(b.nominal), mm(math.Abs(diff.nominal)))
		c.no("%s against %s %s", mm(a.nominal), mm(b.nominal), what)
	}
}

// splineMatch is how far diameters of splines may differ, in mm. Common
// practice, no source: both are read to 0.1 mm and need a little play.
const splineMatch = 0.3

// splineOnSpline judges a splined bore on a splined shaft.
func splineOnSpline(b *bench, m Meeting) {
	c := b.check("spline")
	teethA, okA := c.count(m.A, "teeth")
	teethB, okB := c.count(m.B, "teeth")
	if okA && okB {
		if teethA == teethB {
			c.fits("%d splines", teethA)
		} else {
			c.no("%d splines do not go on %d", teethA, teethB)
		}
	}
	equalSize(c, m, "major", "major", splineMatch, "over the splines")
	if len(m.A.Feature.Dims["minor"])+len(m.B.Feature.Dims["minor"]) > 0 {
		equalSize(c, m, "minor", "minor", splineMatch, "at the roots")
	}
}

// lineOff is how far two sprockets may be out of line, in mm. Common practice,
// no source.
const lineOff = 1.0

// chainLine judges whether the sprockets, or the pulleys of a belt, run in one plane: face plus middle of
// the teeth, front against rear.
func chainLine(b *bench, in ChainCase) {
	drive, wheel := "chain", "sprocket"
	if in.isBelt() {
		drive, wheel = "belt", "pulley"
	}
	c := b.check(drive + " line")
	front, okFront := sprocketLine(c, in.FrontPlane, in.Front, in.FrontPacked)
	rear, okRear := sprocketLine(c, in.RearPlane, in.Rear, in.RearPacked)
	if !okFront || !okRear {
		return
	}
	out := "left"
	diff := front.minus(rear)
	if front.nominal < 0 { // the chain is on the right: outward is the other way
		out, diff = "right", diff.times(-1)
	}
	c.Had, c.Wanted, c.Gap = "front "+mm(front.nominal), "rear "+mm(rear.nominal), mm(math.Abs(diff.nominal))
	switch where := diff.against(-lineOff, lineOff); {
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		c.fits("the %ss run in line, %s apart", wheel, mm(math.Abs(diff.nominal)))
	case where == astride:
		c.settle(askFor(in.FrontPlane, "plane"))
		c.settle(askFor(in.RearPlane, "plane"))
		c.unknown("at the limits of their tolerances the %ss may run out of line", wheel)
	default:
		further, near := "front", "rear"
		if diff.nominal < 0 {
			further, near = near, further
		}
		mount, sprocket := in.RearMount, in.Rear
		if near == "front" {
			mount, sprocket = in.FrontMount, in.Front
		}
		why := "the " + further + " " + wheel + " runs " + c.Gap + " further " + out + " than the " + near + " one"
		if front.nominal*rear.nominal < 0 {
			c.no("%s: they are on two sides of the machine", why)
			return
		}
		if pastPacking(c, sprocket, math.Abs(diff.nominal), mostPacking, why) {
			return
		}
		c.change(graph.EffortDrillShim, "bring the "+near+" "+wheel+" "+tenth(math.Abs(diff.nominal))+
			" further "+out+" with a spacer behind it, or machine the "+further+" one", "%s", why)
		o := c.order("spacer", wheel+" spacer "+tenth(math.Abs(diff.nominal))+" thick", append(append(
			[]Field{{"behind", near + " " + wheel}, {"thickness", tenth(math.Abs(diff.nominal))}}, behindSprocket(c,
				mount)...), clampedMetal...)...)
		o.Thicker, o.Under = math.Abs(diff.nominal), sprocket.Position
	}
}

// sprocketLine is where a sprocket runs, in mm from the middle of the machine, left
// positive: its face, and outward from there the middle of its teeth with what lies behind it.
// Source: geometry.
func sprocketLine(c *check, plane, sprocket Side, packed float64) (span, bool) {
	face, okFace := c.length(plane, "plane")
	line, okLine := c.length(sprocket, "line")
	return outFrom(face, line.plus(exact(packed))), okFace && okLine
}

// outFrom is a place so far out from a face, both counted from the middle, left positive.
func outFrom(face, by span) span {
	if face.nominal < 0 {
		by = by.times(-1)
	}
	return face.plus(by)
}

// behindSprocket is what a spacer behind a sprocket must suit: its bolts, or the
// shaft that it is splined on.
func behindSprocket(c *check, mount Side) []Field {
	switch mount.Feature.Kind {
	case "bolt-pattern":
		return append([]Field{{"to suit", packingWords(c, mount)}}, ringFields(c, mount)...)
	case "spline":
		if major, ok := c.peekLength(mount, "major"); ok {
			return []Field{{"bore", "over splines " + mm(major.nominal) + " across"},
				{"outside", "as the face of the sprocket's boss: measure it"}, {"faces", "flat and parallel"}}
		}
	}
	return []Field{{"bore and outside", "to suit what the sprocket mounts on: measure it"}}
}
