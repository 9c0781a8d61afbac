package mating

import (
	"math"
	"strconv"
	"strings"
)

// tubeKind is the kind of part that lies inside a tyre.
const tubeKind = "inner-tube"

// tubeInTyre judges an inner tube in its tyre: both are called by one size, or the tube by a
// range that holds the tyre's. Any other pair only the tube's own list of tyre sizes allows:
// too large a tube folds and chafes through, too small a one is stretched thin, and the width
// of the rim says nothing of it. Common practice, no source.
func tubeInTyre(b *bench, m Meeting) {
	c := b.check("tube in tyre")
	tube, tyre := m.A, m.B
	if m.B.PartKind == tubeKind {
		tube, tyre = m.B, m.A
	}
	tubeAgainst(c, tube, tyre)
}

// tubeAgainst holds a tube against the tyre it lies in, both by their sizes.
func tubeAgainst(c *check, tube, tyre Side) {
	own, okOwn := c.phrase(tube, "size")
	other, okOther := c.phrase(tyre, "size")
	if !okOwn || !okOther {
		return
	}
	own, other = strings.ToUpper(own), strings.ToUpper(other)
	rimOwn, _, _, readOwn := tyreSize(own)
	rimOther, width, aspect, readOther := tyreSize(other)
	c.sizes("tube "+own, "tyre "+other, "")
	switch least, most, aspects := tubeRange(own); {
	case own == other:
		c.fits("a tube %s in a tyre %s", own, other)
	case !readOwn || !readOther:
		c.settle(tubeList(tube))
		c.unknown("tube size %q in a tyre %q can't be read: its maker's list of tyre sizes decides", own, other)
	case math.Abs(rimOwn-rimOther) > rimStep/2:
		c.no("a tube for a %s in rim in a %s in tyre", plain(rimOwn), plain(rimOther))
	case width >= least-eps && width <= most+eps && same(aspect, aspects):
		c.fits("a tube %s takes a tyre %s", own, other)
	default:
		c.settle(tubeList(tube))
		c.unknown("a tube %s in a tyre %s: only the tube maker's list of tyre sizes allows it; one too large folds and "+
			"chafes through, one too small is stretched thin", own, other)
	}
}

// tubeRange is from which to which width of tyre, in mm, a tube is for by its size, and of
// what height in percent of it.
func tubeRange(size string) (least, most, aspect float64) {
	_, width, aspect, _ := tyreSize(size)
	if m := inchSize().FindStringSubmatch(size); m != nil {
		low, err1 := strconv.ParseFloat(m[1], 64)
		high, err2 := strconv.ParseFloat(m[2], 64)
		if err1 == nil && err2 == nil {
			return low * 25.4, high * 25.4, aspect
		}
	}
	return width, width, aspect
}

func tubeList(tube Side) Ask {
	return Ask{Position: tube.Position, Part: tube.Part, Feature: tube.Feature.Name, Dim: "size",
		What: "tyre sizes the tube is for", Where: "the tube, or its maker's list", Gauge: "by eye", Accuracy: "book"}
}

// tubeOnRim judges an inner tube by the rim alone, where nobody joined it to its tyre: the
// tyre built in tells which tube belongs there.
func tubeOnRim(b *bench, m Meeting) {
	c := b.check("tube on rim")
	size, okSize := c.phrase(m.A, "size")
	diameter, okDiameter := c.length(m.B, "diameter")
	if !okSize || !okDiameter {
		return
	}
	rim, _, _, ok := tyreSize(strings.ToUpper(size))
	built, okBuilt := asBuilt(m, "tyre")
	switch inch := diameter.nominal / 25.4; {
	case ok && math.Abs(inch-rim) > rimStep/2:
		c.sizes(plain(rim)+" in tube", plain(math.Round(inch*4)/4)+" in rim", "")
		c.no("a tube for a %s in rim on a %s in rim", plain(rim), plain(math.Round(inch*4)/4))
	case !okBuilt:
		c.settle(tubeList(m.A))
		c.unknown("the tyre it lies in decides, and nobody joined the two")
	default:
		was, okWas := c.phrase(built, "size")
		if okWas && strings.EqualFold(was, size) {
			c.fits("a tube %s on a %s in rim, as built", strings.ToUpper(size), plain(rim))
			return
		}
		c.settle(tubeList(m.A))
		c.unknown("another size than the tube built in, and nobody joined it to its tyre, which decides")
	}
}
