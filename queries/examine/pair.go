package examine

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// pair judges one left against its right.
func (x *Examiner) pair(a, b graph.PositionID) (Outcome, bool) {
	if x.After.Seat(a).Empty || x.After.Seat(b).Empty || !x.sharesPairDims(a, b) {
		return Outcome{}, false
	}
	one, other := a, b // what is changed against what was there
	if x.isChanged(b) && !x.isChanged(a) {
		one, other = b, a
	}
	o := Outcome{What: OfPair, ID: string(a), Ends: x.Ends(graph.FeatureRef{Position: one}, graph.FeatureRef{Position: other})}
	was := x.was(OfPair+string(one), func() []mating.Check { return pairChecks(x.Before, one, other) })
	return x.Judged(o, was, pairChecks(x.After, one, other)), true
}

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

// sharesPairDims reports whether the two sides were built with something in
// which they must be alike.
func (x *Examiner) sharesPairDims(a, b graph.PositionID) bool {
	for kind := range pairDims() {
		if machine.HasKind(x.Built.Seat(a).Part, kind) && machine.HasKind(x.Built.Seat(b).Part, kind) {
			return true
		}
	}
	return false
}

// pairChecks compares left and right. What only one of them is known by leaves
// it open whether they are alike.
func pairChecks(s *machine.Setup, a, b graph.PositionID) []mating.Check {
	check := mating.Check{Rule: "left and right", Verdict: graph.Fits, Why: "left and right are alike"}
	var differ []string
	for _, kind := range []string{"pistons", "disc-rim", "fork-length", "tube"} {
		one, other := s.KindAt(a, kind), s.KindAt(b, kind)
		for _, dim := range pairDims()[kind] {
			f, g := one.Feature.Dims[dim], other.Feature.Dims[dim]
			switch spec := dimOf(kind, dim); {
			case len(f)+len(g) == 0 || len(f) > 0 && len(g) > 0 && agreeSomewhere(spec, f, g):
			case len(f) == 0 && spec.Must:
				check.Measure = append(check.Measure, AskOf(one, dim))
			case len(g) == 0 && spec.Must:
				check.Measure = append(check.Measure, AskOf(other, dim))
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
			strings.Join(lists.Mapped(check.Measure, func(a mating.Ask) string { return a.What + " of " + a.Where }), ", ")
	}
	return []mating.Check{check}
}

// agreeSomewhere reports whether any reading of one side agrees with any of the
// other: two new discs are alike although somebody measured one of them to the
// hundredth.
func agreeSomewhere(spec graph.DimSpec, a, b []graph.Reading) bool {
	return slices.ContainsFunc(a, func(x graph.Reading) bool {
		return slices.ContainsFunc(b, func(y graph.Reading) bool { return evidence.Agree(spec, x, y) })
	})
}
