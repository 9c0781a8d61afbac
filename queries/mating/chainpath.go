package mating

import (
	"math"
	"strings"

	"matewell/graph"
)

// ChainPathCase is where a chain runs on its sprockets, against the machine as built:
// sprockets that are in line with one another may still carry it where something stands.
type ChainPathCase struct {
	Front, Rear Side // kind sprocket
	// Plane is the face that the front one mounts on (kind sprocket-plane), zero when nobody
	// recorded it, and Packed how thick what lies behind that sprocket is, in mm.
	Plane  Side
	Packed float64
	Tyre   Side // the rear one, kind tyre; zero when not known
	// Built is the same as the machine left its works.
	Built  *ChainPathCase
	Safety graph.Safety
}

const (
	// lineMoved is how far a chain may run beside where it ran as built, in mm: two faces
	// and two sprockets are each read to half a millimetre.
	lineMoved = 2.0
	// How many teeth a sprocket may have more, or fewer, than the one built in before the
	// room about it must be measured: the trade goes one up and two down in front and three
	// up behind without.
	frontMore, frontFewer, rearMore = 1, 2, 3
)

// JudgeChainPath judges, in the check "chain path", whether the chain runs as far from the
// middle of the machine as it did when built, and never in the tyre, and in the check
// "sprocket room" whether the sprockets are about as large as those that cover, case,
// slider and guard were made round. Source: geometry; limits: common practice, no source.
func JudgeChainPath(in ChainPathCase) []Check {
	return judge(false, func(b *bench) {
		if in.Built == nil {
			return
		}
		in.path(b)
		in.room(b)
	})
}

func (in ChainPathCase) path(b *bench) {
	was, ok := in.Built.line(b.aside().check("chain path"))
	if !ok {
		return
	}
	c := b.check("chain path")
	now, ok := in.line(c)
	if !ok {
		return
	}
	moved := now.minus(was).nominal
	c.sizes(mm(now.nominal), mm(was.nominal)+" as built", mm(math.Abs(moved)))
	if len(in.Plane.Feature.Dims["plane"]) > 0 && math.Abs(moved) > lineMoved+eps {
		if tyre, known := tyreExtent(c, in.Tyre); known && math.Abs(now.nominal) < tyre.width/2+eps {
			c.no("the chain would run in the tyre: %s from the middle of the machine, where the tyre reaches %s",
				mm(math.Abs(now.nominal)), mm(tyre.width/2))
			return
		}
	}
	if math.Abs(moved) <= lineMoved+eps {
		c.Gap = ""
		c.fits("the chain runs where it ran as built")
		return
	}
	c.settle(askOf(in.Front, "room", "room beside the chain all along: tyre, arm, slider, case, cover and guard",
		"steel rule", "1 mm"))
	c.unknown("the chain runs %s beside where it ran as built: what stands beside it was made for the old line", c.Gap)
}

// line is where the chain runs on the front sprocket, in mm: from the middle of the
// machine, or from the face that sprocket sits on where nobody recorded where that is.
func (in ChainPathCase) line(c *check) (span, bool) {
	line, ok := c.length(in.Front, "line")
	line = line.plus(exact(in.Packed))
	if plane, known := c.peekLength(in.Plane, "plane"); known {
		line = outFrom(plane, line)
	} else if in.Built != nil && !in.Plane.isSame(in.Built.Plane) {
		ok = false
	}
	return line, ok
}

// room judges how many teeth the sprockets have; that of the front one only in the case
// that it was built for.
func (in ChainPathCase) room(b *bench) {
	if in.Plane.isSame(in.Built.Plane) {
		sprocketRoom(b, "front sprocket room", in.Front, in.Built.Front, frontMore, frontFewer,
			"cover, case and slider")
	}
	sprocketRoom(b, "rear sprocket room", in.Rear, in.Built.Rear, rearMore, math.MaxInt, "guard, arm and slider")
}

func sprocketRoom(b *bench, rule string, now, was Side, more, fewer int, about string) {
	before, ok := b.aside().check(rule).count(was, "teeth")
	if !ok {
		return
	}
	c := b.check(rule)
	teeth, ok := c.count(now, "teeth")
	if !ok {
		return
	}
	if teeth-before <= more && before-teeth <= fewer {
		c.fits("%d teeth, %d as built", teeth, before)
		return
	}
	c.settle(askOf(now, "room", "room about the sprocket and the chain on it: "+about, "steel rule", "1 mm"))
	further := ""
	if pitch, known := c.peekLength(now, "pitch"); known {
		further = ", " + mm(math.Abs(pitchRadius(teeth, pitch.nominal)-pitchRadius(before, pitch.nominal)))
		if further += " further out"; teeth < before {
			further = strings.TrimSuffix(further, "out") + "in"
		}
	}
	c.unknown("%d teeth where %d were%s: %s were made round the one built in", teeth, before, further, about)
}

// pitchRadius is how far from the middle of a sprocket its chain's pins lie, in mm:
//
//	r = p / (2 sin(180 deg / z))
//
// Source: ISO 606.
func pitchRadius(teeth int, pitch float64) float64 {
	return pitch / 2 / math.Sin(math.Pi/float64(teeth))
}
