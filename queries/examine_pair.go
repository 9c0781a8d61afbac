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

func (x *examiner) sharesPairDims(a, b graph.PositionID) bool {
	for kind := range pairDims() {
		if hasKind(x.after.Seat(a).Part, kind) && hasKind(x.after.Seat(b).Part, kind) {
			return true
		}
	}
	return false
}

func (s *Setup) pairChecks(a, b graph.PositionID) []mating.Check {
	check := mating.Check{Rule: "left and right", Verdict: graph.Fits, Why: "left and right are alike"}
	var differ []string
	one, other := s.Seat(a).Part, s.Seat(b).Part
	for _, kind := range []string{"pistons", "disc-rim", "fork-length", "tube"} {
		f, okF := ofKind(one, kind)
		g, okG := ofKind(other, kind)
		if !okF || !okG {
			continue
		}
		for _, dim := range pairDims()[kind] {
			spec := dimOf(kind, dim)
			if len(f.Dims[dim]) == 0 || len(g.Dims[dim]) == 0 || agreeSomewhere(spec, f.Dims[dim], g.Dims[dim]) {
				continue
			}
			differ = append(differ, fmt.Sprintf("%s %s against %s", spec.Is, f.Dims[dim][0].Text, g.Dims[dim][0].Text))
			if check.Had == "" {
				check.Had, check.Wanted = f.Dims[dim][0].Text, g.Dims[dim][0].Text
			}
		}
	}
	if len(differ) > 0 {
		check.Verdict = graph.DoesNotFit
		check.Why = "left and right differ, which pulls to one side: " + strings.Join(differ, ", ")
	}
	return []mating.Check{check}
}

// agreeSomewhere reports whether any reading of one side agrees with any of the
// other: two new discs are alike although somebody measured one of them to the
// hundredth.
func agreeSomewhere(spec graph.DimSpec, a, b []graph.Reading) bool {
	return slices.ContainsFunc(a, func(x graph.Reading) bool {
		return slices.ContainsFunc(b, func(y graph.Reading) bool { return agree(spec, x, y) })
	})
}
