package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// AdjusterCase is the thread by which a chain adjuster draws the axle, and that of the one
// built in.
type AdjusterCase struct {
	Thread, Was Side // kind male-thread: length
	// Way is from output shaft to axle as far as the adjusters go, "655-685 mm"; empty when
	// nobody measured it.
	Way    []graph.Reading
	Safety graph.Safety
}

// adjusterShort is how much shorter than the one built in the thread may be, in mm, and still be
// called as long. Common practice, no source: it is read to 1 mm.
const adjusterShort = 1.0

// JudgeAdjuster judges, in one check "adjuster", whether an adjuster has the thread to draw
// its axle as far as the one built in: less than the axle goes is too short at any rate, less
// than was built in may be. It makes no check where nobody measured the one built in. Common
// practice, no source; geometry.
func JudgeAdjuster(in AdjusterCase) []Check {
	return judge(false, func(b *bench) {
		aside := b.aside().check("adjuster")
		if _, ok := aside.peekLength(in.Was, "length"); !ok {
			return
		}
		c := b.check("adjuster")
		was, _ := c.peekLength(in.Was, "length")
		long, ok := c.length(in.Thread, "length")
		if !ok {
			return
		}
		at := place{position: in.Thread.Position, part: in.Thread.Part, feature: "run", dim: "centre distance"}
		way, okWay := c.value(at, in.Way, func() Ask { return askFor(in.Thread, "length") }, measure.Length)
		goes := spanOf(way.Quantity)
		c.sizes(mm(long.nominal), mm(was.nominal)+" as built", mm(math.Abs(was.nominal-long.nominal)))
		switch {
		case okWay && long.high < goes.high-goes.low-eps:
			c.no("%s of thread does not draw the axle through its way of %s", mm(long.nominal), mm(goes.high-goes.low))
		case long.nominal < was.nominal-adjusterShort-eps:
			c.settle(askFor(in.Thread, "length"))
			c.unknown("%s of thread where the one built in has %s: whether it draws the axle all of its way shows on the "+
				"machine", mm(long.nominal), mm(was.nominal))
		default:
			c.Gap = ""
			c.fits("%s of thread, %s as built", mm(long.nominal), mm(was.nominal))
		}
	})
}
