package examine

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/mating"
)

// looksBeyond reports whether a check looked at more than some places, or at one of them
// alone, against what was built in there.
func looksBeyond(uses []mating.Use, places []graph.PositionID) bool {
	return slices.ContainsFunc(uses, func(u mating.Use) bool { return !slices.Contains(places, u.Position) }) ||
		!slices.ContainsFunc(uses, func(u mating.Use) bool { return u.Position != places[0] })
}

// isOfItself reports whether an outcome judges a part by its own sizes alone.
func isOfItself(o Outcome) bool {
	return slices.Contains([]string{OfWall, OfShaft, OfRubber, OfMetal, OfWear, OfTwice}, o.What)
}

// isAbout reports whether two sizes may be what meets in one check, which may take others
// of the same parts too: of the same type, and about as large.
func isAbout(a mating.Use, of graph.Part, b mating.Use, to graph.Part) bool {
	spec, other := specOf(of, a), specOf(to, b)
	if spec.Type != other.Type || !spec.Type.Measured() {
		return spec.Type == other.Type
	}
	x, errX := measure.ParseQuantity(readingsAt(of, a)[0].Text, spec.Type)
	y, errY := measure.ParseQuantity(readingsAt(to, b)[0].Text, spec.Type)
	const near = 0.2 // ours: it chooses what is looked at, and no verdict hangs on it
	return errX == nil && errY == nil && math.Abs(x.Nominal-y.Nominal) <= near*math.Abs(x.Nominal)
}

// isSmaller reports whether a measured dimension is less than it was.
func isSmaller(use mating.Use, p Place) bool {
	spec := specOf(p.New, use)
	now, errNow := measure.ParseQuantity(evidence.FirstText(readingsAt(p.New, use)), spec.Type)
	was, errWas := measure.ParseQuantity(evidence.FirstText(readingsAt(p.Old, use)), spec.Type)
	return errNow == nil && errWas == nil && now.High < was.Low
}
