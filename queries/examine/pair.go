package examine

import (
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// pair judges one left against its right; false when one of them is empty, or
// when neither was built with anything in which they must be alike.
func pair(x *Examiner, a, b graph.PositionID) (Outcome, bool) {
	if x.After.Seat(a).Empty || x.After.Seat(b).Empty {
		return Outcome{}, false
	}
	one, other := a, b // what is changed against what was there
	if x.isChanged(b) && !x.isChanged(a) {
		one, other = b, a
	}
	is := pairChecks(x, x.After, one, other)
	if len(is) == 0 {
		return Outcome{}, false
	}
	o := Outcome{What: OfPair, ID: string(a), Ends: x.Ends(graph.FeatureRef{Position: one},
		graph.FeatureRef{Position: other})}
	was := x.was(OfPair+string(one), func() []mating.Check { return pairChecks(x, x.Before, one, other) })
	return x.Judged(o, was, is), true
}

// mayPair reports whether two sides have anything in which they must be alike, as
// built or now.
func mayPair(x *Examiner, a, b graph.PositionID) bool {
	return slices.ContainsFunc(mating.PairKinds(), func(kind string) bool {
		return hasAt(x, a, kind) || hasAt(x, b,
			kind)
	})
}

func pairChecks(x *Examiner, s *machine.Setup, a, b graph.PositionID) []mating.Check {
	in := mating.PairCase{Left: pairSides(x, s, a, b), Right: pairSides(x, s, b, a), WasLeft: pairSides(x, x.Built, a, b),
		WasRight: pairSides(x, x.Built, b, a), Safety: safetyAt(x, a, b)}
	worksPair := s.Seat(a).IsSame(s.Seat(b)) || asBuilt(x, s, a) && asBuilt(x, s, b)
	in.Left, in.Right = agreeing(in.Left, in.Right, worksPair)
	return mating.JudgePair(in)
}

// agreeing leaves of the readings of two sides, where some of one agree with some of
// the other, the best two that do: two sides that left the works together, or the
// same part twice, are not unlike because two people measured one of them differently.
// Nor are two parts of which the same readings were given, under whatever numbers.
func agreeing(left, right []mating.Side, worksPair bool) (l, r []mating.Side) {
	l, r = slices.Clone(left), slices.Clone(right)
	for i, side := range l {
		at := slices.IndexFunc(r, func(o mating.Side) bool {
			return o.Feature.Kind == side.Feature.Kind && o.Feature.Name == side.Feature.Name
		})
		if at < 0 {
			continue
		}
		own, other := map[string][]graph.Reading{}, map[string][]graph.Reading{}
		maps.Copy(own, side.Feature.Dims)
		maps.Copy(other, r[at].Feature.Dims)
		for dim := range own {
			if !worksPair && !slices.EqualFunc(own[dim], other[dim], sameText) {
				continue
			}
			if a, b, ok := bestAgreed(dimOf(side.Feature.Kind, dim), own[dim], other[dim]); ok {
				own[dim], other[dim] = []graph.Reading{a}, []graph.Reading{b}
			}
		}
		l[i].Feature.Dims, r[at].Feature.Dims = own, other
	}
	return l, r
}

func sameText(a, b graph.Reading) bool { return a.Text == b.Text }

// bestAgreed are the two readings of two ranked lists that agree and together stand
// highest; false when none do.
func bestAgreed(spec graph.DimSpec, left, right []graph.Reading) (a, b graph.Reading, ok bool) {
	best := len(left) + len(right)
	for i, x := range left {
		for j, y := range right {
			if i+j < best && evidence.Agree(spec, x, y) {
				a, b, best, ok = x, y, i+j, true
			}
		}
	}
	return a, b, ok
}

// pairSides are the features at a place by which left and right are compared. One
// that the part as built there, or the part on the other side, has and nobody
// described on this one is asked for: it may be there all the same.
func pairSides(x *Examiner, s *machine.Setup, id, twin graph.PositionID) []mating.Side {
	part := s.Seat(id).Part
	var sides []mating.Side
	for _, kind := range mating.PairKinds() {
		own := featuresOf(part, kind)
		most := featuresOf(x.Built.Seat(id).Part, kind)
		if other := featuresOf(s.Seat(twin).Part, kind); len(other) > len(most) {
			most = other
		}
		for _, f := range own {
			sides = append(sides, mating.Side{Position: id, Part: part.ID, PartKind: part.Kind, Feature: f})
		}
		missing := lists.Kept(slices.Clone(most), func(f graph.Feature) bool {
			return !slices.ContainsFunc(own, func(g graph.Feature) bool { return g.Name == f.Name })
		})
		for _, f := range missing[:min(len(missing), max(0, len(most)-len(own)))] {
			sides = append(sides, mating.Side{Position: id, Part: part.ID, Feature: graph.Feature{Name: f.Name, Kind: kind}})
		}
	}
	return sides
}

// featuresOf are the features of a kind that a part has.
func featuresOf(p graph.Part, kind string) []graph.Feature {
	return lists.Kept(slices.Clone(p.Features), func(f graph.Feature) bool { return f.Kind == kind })
}
