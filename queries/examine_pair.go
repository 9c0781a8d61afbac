package queries

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
)

// pairDims are the dimensions in which left and right must be alike, by feature
// kind: unlike ones pull or lean to one side.
func pairDims() map[string][]string {
	return map[string][]string{
		"pistons":     {"sizes", "layout"},
		"disc-rim":    {"diameter", "thickness"},
		"fork-length": {"length", "travel"},
		"tube":        {"diameter"},
	}
}

// pairs judges the left against the right of what was changed on one side at
// least.
func (x *examiner) pairs() []Outcome {
	var all []Outcome
	for _, id := range x.after.Changed() {
		twin := twinOf(id)
		if twin == "" || !x.concerns([]graph.PositionID{id, twin}) || x.isChanged(twin) && twin < id {
			continue
		}
		if seat := x.after.Seat(twin); seat.Empty || x.after.Seat(id).Empty || !x.sharesPairDims(id, twin) {
			continue
		}
		o := Outcome{What: OfPair, ID: string(min(id, twin)), Ends: x.ends(graph.FeatureRef{Position: id}, graph.FeatureRef{Position: twin})}
		was := x.was(OfPair+o.ID, func() []mating.Check { return x.before.pairChecks(id, twin) })
		all = append(all, x.judged(o, was, x.after.pairChecks(id, twin)))
	}
	return all
}

// twinOf is the position on the other side by its name; empty when the name has
// no side.
func twinOf(id graph.PositionID) graph.PositionID {
	text := string(id)
	switch {
	case strings.HasSuffix(text, "-left"):
		return graph.PositionID(strings.TrimSuffix(text, "left") + "right")
	case strings.HasSuffix(text, "-right"):
		return graph.PositionID(strings.TrimSuffix(text, "right") + "left")
	}
	return ""
}

// sharesPairDims reports whether the two sides were built with something in
// which they must be alike.
func (x *examiner) sharesPairDims(a, b graph.PositionID) bool {
	for kind := range pairDims() {
		if hasKind(x.built.Seat(a).Part, kind) && hasKind(x.built.Seat(b).Part, kind) {
			return true
		}
	}
	return false
}

// pairChecks compares left and right. What only one of them is known by leaves
// it open whether they are alike.
func (s *Setup) pairChecks(a, b graph.PositionID) []mating.Check {
	check := mating.Check{Rule: "left and right", Verdict: graph.Fits, Why: "left and right are alike"}
	var differ []string
	for _, kind := range []string{"pistons", "disc-rim", "fork-length", "tube"} {
		one, other := s.kindAt(a, kind), s.kindAt(b, kind)
		for _, dim := range pairDims()[kind] {
			f, g := one.Feature.Dims[dim], other.Feature.Dims[dim]
			switch spec := dimOf(kind, dim); {
			case len(f)+len(g) == 0 || len(f) > 0 && len(g) > 0 && agreeSomewhere(spec, f, g):
			case len(f) == 0 && spec.Must:
				check.Measure = append(check.Measure, askOf(one, dim))
			case len(g) == 0 && spec.Must:
				check.Measure = append(check.Measure, askOf(other, dim))
			case len(f) > 0 && len(g) > 0:
				differ = append(differ, fmt.Sprintf("%s %s against %s", spec.Is, f[0].Text, g[0].Text))
				if check.Had == "" {
					check.Had, check.Wanted = f[0].Text, g[0].Text
				}
			}
		}
	}
	switch {
	case len(differ) > 0:
		check.Verdict = graph.DoesNotFit
		check.Why = "left and right differ, which pulls to one side: " + strings.Join(differ, ", ")
	case len(check.Measure) > 0:
		check.Verdict = graph.Unknown
		check.Why = "not known whether left and right are alike: " +
			strings.Join(mapped(check.Measure, func(a mating.Ask) string { return a.What + " of " + a.Where }), ", ")
	}
	return []mating.Check{check}
}

// kindAt is the feature of a kind at a position, with no dimensions when the
// part there has none.
func (s *Setup) kindAt(id graph.PositionID, kind string) mating.Side {
	part := s.Seat(id).Part
	f, ok := ofKind(part, kind)
	if !ok {
		f = graph.Feature{Name: kind, Kind: kind}
	}
	return mating.Side{Position: id, Part: part.ID, Feature: f}
}

// agreeSomewhere reports whether any reading of one side agrees with any of the
// other: two new discs are alike although somebody measured one of them to the
// hundredth.
func agreeSomewhere(spec graph.DimSpec, a, b []graph.Reading) bool {
	return slices.ContainsFunc(a, func(x graph.Reading) bool {
		return slices.ContainsFunc(b, func(y graph.Reading) bool { return agree(spec, x, y) })
	})
}
