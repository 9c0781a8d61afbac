package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// stopMatch is how far the faces of two stops may lie beside each other and
// still meet squarely, in mm. Common practice, no source: the faces are 8 to 20
// mm wide.
const stopMatch = 3.0

// stopsMeet judges whether the lug of a yoke strikes the stop of the frame: at
// the same distance from the steering axis, and at the same height.
func stopsMeet(b *bench, m Meeting) {
	c := b.check("steering stop")
	stopFaces(c, m)
	lock, ok := lockOf(c, m.A, m.B)
	switch {
	case !ok:
	case lock.high <= 0:
		c.no("the faces meet with the bars straight: there is no lock")
	case lock.low > 0:
		c.fits("%s of lock to each side", degreesText(lock.nominal))
	default:
		askTwo(c, m, "angle", "angle")
		c.unknown("at the limits of their tolerances there may be no lock: measure both angles")
	}
}

func stopFaces(c *check, m Meeting) {
	for _, at := range []struct{ dim, words string }{{"radius", "from the steering axis"}, {"height",
		"above the lower bearing"}} {
		a, okA := c.length(m.A, at.dim)
		other, okB := c.length(m.B, at.dim)
		if !okA || !okB {
			continue
		}
		switch a.minus(other).against(-stopMatch, stopMatch) {
		case inside:
			c.fits("%s %s", facesWords(mm(a.nominal), mm(other.nominal)), at.words)
		case astride:
			askTwo(c, m, at.dim, at.dim)
			c.unknown("at the limits of their tolerances the faces may miss each other")
		default:
			gap(c, a, other)
			c.no("one face lies %s %s, the other %s: they pass each other, and nothing ends the lock",
				mm(a.nominal), at.words, mm(other.nominal))
		}
	}
}

// lockOf is how far the bars turn to each side, in degrees: the angle between
// the two faces with the bars straight.
func lockOf(c *check, a, b Side) (span, bool) {
	one, okA := amount(c, a, "angle", measure.Angle)
	other, okB := amount(c, b, "angle", measure.Angle)
	between := one.minus(other)
	if between.nominal < 0 {
		between = other.minus(one)
	}
	return between, okA && okB
}

func degreesText(v float64) string { return measure.Format(math.Round(v*10)/10, measure.Angle) }

// LockCase is what turns with the bars, and what it could strike at full lock.
type LockCase struct {
	// Frame and Yoke are the two faces that end the lock, kind steering-stop.
	Frame, Yoke Side
	// WasFrame and WasYoke are those as built; zero when they are the same ones
	// or nobody said. With more lock than as built, paths that were measured
	// at full lock are no longer the longest.
	WasFrame, WasYoke Side
	// Swings are the points that turn (kind swing), Rooms what they could strike
	// (kind swing-room). Each is judged against each.
	Swings, Rooms []Side
	Safety        graph.Safety
}

// handRoom is the room that a hand on the grip wants at full lock, in mm. Common
// practice, no source: inspection manuals only say that nothing may be trapped
// and the grips must stay usable.
const handRoom = 20.0

// JudgeLock judges the room at full lock: one check "room at full lock" over all
// points against all that stands beside them, and, with the stops as built, one
// check "lock as built". Whether the stops meet is a Meeting of the two for
// Judge. Source: geometry; UK motorcycle inspection manual 2.1 (nothing trapped,
// grips and levers usable); how much room a hand wants is common practice.
func JudgeLock(in LockCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("room at full lock")
		lock, okLock := lockOf(c, in.Frame, in.Yoke)
		if len(in.Swings) == 0 || len(in.Rooms) == 0 {
			c.settle(lookAt(in.Yoke, "room", "room beside bars, levers and legs at full lock, left and right"))
			c.unknown("nobody said what turns beside what")
		}
		for _, swing := range in.Swings {
			for _, room := range in.Rooms {
				swingBeside(c, swing, room, lock, okLock)
			}
		}
		in.asBuilt(b)
	})
}

// swingBeside judges one turning point against one standing part.
func swingBeside(c *check, swing, room Side, lock span, okLock bool) {
	radius, okRadius := c.length(swing, "radius")
	height, okHeight := c.length(swing, "height")
	near, okNear := c.length(room, "radius")
	bottom, okBottom := c.length(room, "bottom")
	top, okTop := c.length(room, "top")
	angle, okAngle := amount(c, swing, "angle", measure.Angle)
	side, okSide := amount(c, room, "angle", measure.Angle)
	names := label(swing) + " and " + label(room)
	switch {
	case okRadius && okNear && radius.high < near.low-tapeNoise:
		c.fits("%s: the first turns inside", names)
		return
	case okHeight && okTop && height.low > top.high+tapeNoise, okHeight && okBottom && height.high < bottom.low-tapeNoise:
		c.Taken = true // at other heights they would decide
		c.fits("%s: one passes over the other", names)
		return
	case !okLock || !okRadius || !okHeight || !okNear || !okBottom || !okTop || !okAngle || !okSide:
		return
	}
	gap, err := trade.SwingGap(radius.nominal, angle.nominal, lock.nominal, side.nominal)
	if err != nil {
		c.settle(askFor(swing, "angle"))
		c.unknown("%s: %s", names, err)
		return
	}
	// Both angles and both stops are read to half a degree.
	noise := radius.nominal * math.Pi / 180
	switch {
	case gap < -noise:
		c.Had, c.Wanted, c.Gap = degreesText(angle.nominal-side.nominal)+" free", degreesText(lock.nominal)+" of lock",
			mm(math.Round(-gap))
		c.no("%s strike each other %s before full lock", names, mm(math.Round(-gap)))
	case gap < handRoom+noise:
		c.settle(askOf(swing, "room", "gap to "+label(room)+" at full lock, with a gloved hand on the grip", "steel rule",
			"1 mm"))
		c.unknown("%s: about %s left at full lock, a gloved hand wants %s", names, mm(math.Round(max(0, gap))), mm(handRoom))
	default:
		c.fits("%s: %s left at full lock", names, mm(math.Floor(gap)))
	}
}

// asBuilt compares the lock with that of the machine as built.
func (in LockCase) asBuilt(b *bench) {
	if in.WasFrame.IsZero() || in.WasYoke.IsZero() {
		return
	}
	c := b.check("lock as built")
	now, okNow := lockOf(c, in.Frame, in.Yoke)
	was, okWas := lockOf(c, in.WasFrame, in.WasYoke)
	if !okNow || !okWas {
		return
	}
	more := now.minus(was)
	words := fmt.Sprintf("%s of lock, %s as built", degreesText(now.nominal), degreesText(was.nominal))
	c.sizes(degreesText(now.nominal), degreesText(was.nominal), degreesText(math.Abs(more.nominal)))
	switch {
	case more.against(-1, 1) == inside:
		c.Gap = ""
		c.fits("%s", words)
	case more.nominal > 0:
		c.settle(lookAt(in.Yoke, "lock", "hoses, cables and leads at both full locks: nothing taut, nothing trapped"))
		c.unknown("%s: hoses, cables and looms were measured at the smaller lock", words)
	default:
		c.settle(lookAt(in.Yoke, "lock", "whether the lock is enough to ride and turn with, and what local rules say"))
		c.unknown("%s: it turns less", words)
	}
}

// facesWords tells where two faces lie that meet: each, where they do not lie alike.
func facesWords(a, b string) string {
	if a == b {
		return "both faces " + a
	}
	return "the faces " + a + " and " + b
}
