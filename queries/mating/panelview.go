package mating

import (
	"math"
	"strings"

	"matewell/graph/measure"
)

// axes are the directions of the machine in which the two numbers of a point
// grow, in the words a person at the machine uses.
type axes struct{ xPlus, xMinus, yPlus, yMinus string }

// furtherLeft is the direction in which the two sides of a machine mirror each
// other.
const furtherLeft = "further left"

// axesSeenFrom are those of points seen from a side: the words of the
// dimension "seen-from" of a feature of kind points. Left and right are those
// of somebody who sits on the machine.
func axesSeenFrom(view string) (axes, bool) {
	switch view {
	case "side":
		return axes{"further forward", "further back", "higher", "lower"}, true
	case "top":
		return axes{"further forward", "further back", furtherLeft, "further right"}, true
	case "front":
		return axes{furtherLeft, "further right", "higher", "lower"}, true
	}
	return axes{}, false
}

// pointRead is how exactly a point is read, in mm: a lesser part of a distance
// is not worth a word beside a greater one. Common practice, no source.
const pointRead = 0.5

// away says where a point lies that is x and y mm from another: "15 mm further
// back and 8 mm higher than the M6x1 opposite". Without axes it can't tell the
// direction, and says so.
func (a axes) away(x, y float64, other string) string {
	if a == (axes{}) {
		return tenth(math.Hypot(x, y)) + " off " + other + ", nobody said which way"
	}
	var words []string
	if math.Abs(x) >= pointRead || math.Abs(x) >= math.Abs(y) {
		words = append(words, tenth(math.Abs(x))+" "+toward(x, a.xPlus, a.xMinus))
	}
	if math.Abs(y) >= pointRead || math.Abs(y) > math.Abs(x) {
		words = append(words, tenth(math.Abs(y))+" "+toward(y, a.yPlus, a.yMinus))
	}
	return strings.Join(words, " and ") + " than " + other
}

// leftOver says what a point is that nothing meets, and where it lies from the
// nearest point of its own part that meets: that is where the other part wants
// its counterpart.
func (a axes) leftOver(p measure.Point, met []measure.Point) string {
	text := pointWords(p) + " with nothing opposite"
	nearest, least := measure.Point{}, math.Inf(1)
	for _, m := range met {
		if apart, known := distance(p, m, 0, 0); known && apart < least {
			nearest, least = m, apart
		}
	}
	if a == (axes{}) || math.IsInf(least, 1) {
		return text
	}
	return text + ", " + a.away(p.X-nearest.X, p.Y-nearest.Y, nearest.Place)
}

func toward(by float64, plus, minus string) string {
	if by < 0 {
		return minus
	}
	return plus
}

// view finds how the points are seen. Points that are not seen from the same
// side can't be laid over one another. Where one part does not say it is taken
// to be measured as the other, but no direction is told.
func view(p *pairing) (same bool) {
	a, okA := p.c.peek(p.m.A, "seen-from", measure.Word)
	b, okB := p.c.peek(p.m.B, "seen-from", measure.Word)
	if !okA || !okB {
		return true
	}
	if !strings.EqualFold(a.Text, b.Text) && placed(p.a) && placed(p.b) {
		askTwo(p.c, p.m, "points", "points")
		p.c.unknown("the points of one are seen from the %s, those of the other from the %s: measure both from one side",
			a.Text, b.Text)
		return false
	}
	p.axes, _ = axesSeenFrom(strings.ToLower(a.Text))
	return true
}

func placed(points []measure.Point) bool {
	for _, p := range points {
		if p.Placed {
			return true
		}
	}
	return false
}
