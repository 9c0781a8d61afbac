package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// What shoes may be off their drum, in mm. Common practice, no source: new
// linings are turned to the drum or up to a millimetre less; as much more does
// not go in.
const (
	shoeLess   = 1.0
	shoeClear  = 0.2 // the least by which they are smaller, and narrower, so that they let go
	shoeNarrow = 5.0 // narrower than the track: it brakes less
	camOff     = 0.5
	pivotOff   = 0.3
)

// shoesInDrum judges shoes in their drum, by diameter and by width.
func shoesInDrum(b *bench, m Meeting) {
	c := b.check("shoes in drum")
	shoes, okShoes := c.length(m.A, "diameter")
	drum, okDrum := c.length(m.B, "diameter")
	if okDrum {
		drumWear(c, m.B, drum)
	}
	if okShoes && okDrum {
		less := drum.minus(shoes)
		c.sizes(mm(shoes.nominal)+" shoes", mm(drum.nominal)+" drum", mm(math.Abs(less.nominal)))
		switch where := less.against(shoeClear, shoeLess); {
		case where == inside || same(less.nominal, shoeClear):
			c.Gap = ""
			c.fits("%s shoes in a %s drum", mm(shoes.nominal), mm(drum.nominal))
		case where == astride:
			askTwo(c, m, "diameter", "diameter")
			c.unknown("at the limits of the sizes the shoes may drag, or touch only in their middle")
		case where == below && less.nominal > -eps:
			c.change(graph.EffortLatheWeld, "have the linings turned "+mm(shoeClear)+" smaller than the drum, arcs and all",
				"%s shoes in a %s drum drag: they want %s of room at least", mm(shoes.nominal), mm(drum.nominal), mm(shoeClear))
		case where == below && -less.nominal <= shoeLess+eps:
			c.change(graph.EffortLatheWeld, "have the linings turned to the drum, arcs and all",
				"the shoes are %s too large for the drum", c.Gap)
		case where == below:
			c.no("the shoes are %s too large for the drum", c.Gap)
		default:
			c.no("the shoes are %s too small for the drum: they touch only in their middle, and the cam turns too far", c.Gap)
		}
	}
	shoeWidth(b, m)
}

// drumWear judges a drum against the largest diameter cast on it.
func drumWear(c *check, s Side, drum span) {
	if most, ok := c.peekLength(s, "most"); ok && drum.low > most.high+eps {
		c.no("the drum is worn out: %s, at most %s", mm(drum.nominal), mm(most.nominal))
	}
}

func shoeWidth(b *bench, m Meeting) {
	c := b.check("shoe width")
	shoe, okShoe := c.length(m.A, "width")
	track, okTrack := c.length(m.B, "width")
	if !okShoe || !okTrack {
		return
	}
	room := track.minus(shoe)
	c.sizes(mm(shoe.nominal), mm(track.nominal), mm(math.Abs(room.nominal)))
	switch where := room.against(shoeClear, shoeNarrow); {
	case where == inside || same(room.nominal, shoeClear):
		c.Gap = ""
		c.fits("linings %s wide on a track of %s", mm(shoe.nominal), mm(track.nominal))
		notMuchLess(c, m, m.A, "width", measure.Length, "narrower linings hold less and wear sooner")
	case where == astride:
		askTwo(c, m, "width", "width")
		c.unknown("at the limits of the sizes the linings may rub beside the track")
	case where == below && room.nominal > -eps:
		c.change(graph.EffortHandTools, "file the edges of the linings until they clear the drum",
			"linings %s wide rub on a track of %s", mm(shoe.nominal), mm(track.nominal))
	case where == below:
		c.no("the linings are %s wider than the track", c.Gap)
	default:
		c.settle(askFor(m.A, "width"))
		c.unknown("the linings are %s narrower than the track: such a brake holds less; compare with what it was built with",
			c.Gap)
	}
}

// shoesOnCarrier judges shoes on the pivot and cam of their brake plate.
func shoesOnCarrier(b *bench, m Meeting) {
	c := b.check("shoe pivot")
	hole, okHole := c.length(m.A, "pivot")
	pivot, okPivot := c.length(m.B, "pivot")
	if okHole && okPivot {
		pairWithin(c, m, "pivot", hole.minus(pivot), 0, pivotOff, mm(hole.nominal)+" on a "+mm(pivot.nominal)+" pivot")
	}
	c = b.check("shoe cam")
	face, okFace := c.length(m.A, "cam")
	cam, okCam := c.length(m.B, "cam")
	if okFace && okCam {
		pairWithin(c, m, "cam", cam.minus(face), -camOff, noLimit,
			"a "+mm(cam.nominal)+" cam on faces of "+mm(face.nominal))
		notMuchLess(c, m, m.A, "cam", measure.Length, "the cam has less to push on, and may turn over")
		notMuchMore(c, m, m.B, "cam", measure.Length, "it may touch the drum or what lies beside it")
	}
}

// pairWithin states whether one dimension that both sides have differs by no
// more than it may.
func pairWithin(c *check, m Meeting, dim string, diff span, low, high float64, words string) {
	switch where := diff.against(low, high); {
	case where == inside || same(diff.nominal, 0):
		c.fits("%s", words)
	case where == astride:
		askTwo(c, m, dim, dim)
		c.unknown("at the limits of the sizes it may not fit: %s", words)
	default:
		c.no("%s", words)
	}
}

// rodInRoom judges a brake rod by its length: the adjusting nut must find thread
// with the brake just on, and as much thread beyond it. Source: geometry.
func rodInRoom(b *bench, m Meeting) {
	c := b.check("brake rod")
	rod, okRod := c.length(m.A, "length")
	thread, okThread := c.length(m.A, "thread-length")
	way, okWay := c.length(m.B, "length")
	nut, okNut := c.length(m.B, "nut")
	if len(m.A.Feature.Dims["pivot"])+len(m.B.Feature.Dims["pivot"]) > 0 {
		pin, okPin := c.length(m.A, "pivot")
		hole, okHole := c.length(m.B, "pivot")
		if okPin && okHole {
			pairWithin(c, m, "pivot", hole.minus(pin), 0, pivotOff,
				mm(pin.nominal)+" pivot in a "+mm(hole.nominal)+" hole")
		}
	}
	if !okRod || !okThread || !okWay || !okNut {
		return
	}
	over := rod.minus(way) // what stands out behind the lever's eye
	c.sizes(mm(over.nominal)+" behind the eye", mmRange(nut.nominal, thread.nominal), "")
	switch {
	case over.low >= nut.high-eps && over.high <= thread.low+eps:
		c.fits("the rod stands %s out of the lever's eye, enough for its nut of %s, and its thread reaches %s",
			mm(over.nominal), mm(nut.nominal), mm(thread.nominal))
	case over.high < nut.low-eps:
		c.Gap = mm(nut.nominal - over.nominal)
		c.no("the rod is %s too short: its nut finds no full thread", c.Gap)
	case over.low > thread.high+eps:
		c.Gap = mm(over.nominal - thread.nominal)
		c.no("the rod is %s too long: its nut runs out of thread before the brake is on", c.Gap)
	default:
		c.settle(askFor(m.A, "length"), askFor(m.B, "length"))
		c.unknown("at the limits of the sizes the nut may find no full thread, or run out of it")
	}
}
