package differ

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

func comparePairs(a, b VariantPair) int {
	return cmp.Or(cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
}

func differSignature(r DifferRow) string {
	side := func(s *DifferSide) string {
		if s == nil {
			return "no position"
		}
		return fmt.Sprint(s.Part, s.Others, s.Quantity)
	}
	way := func(w *Direction) string {
		if w == nil {
			return ""
		}
		return fmt.Sprint(w.Verdict, w.Why, w.Source.ID, len(w.ContradictedBy))
	}
	return strings.Join([]string{r.Position, string(r.Class), r.Why, side(r.A), side(r.B), way(r.AOnB), way(r.BOnA)},
		"\x00")
}

func silentSide(a, b []graph.Fitment) string {
	switch {
	case len(a) == 0 && len(b) == 0:
		return "either"
	case len(a) == 0:
		return "A"
	}
	return "B"
}

// facing picks the two listings that answer to each other: of one colour scheme
// when both sides have it and they differ in it; else the best of those that
// only one side has; else the best of each side.
func facing(a, b []graph.Fitment) (x, y graph.Fitment) {
	for _, x := range a {
		for _, y := range b {
			if x.Scheme != "" && x.Scheme == y.Scheme && x.Part != y.Part {
				return x, y
			}
		}
	}
	onlyA := lists.Kept(slices.Clone(a),
		func(f graph.Fitment) bool { return !slices.Contains(machine.PartsIn(b), f.Part) })
	onlyB := lists.Kept(slices.Clone(b),
		func(f graph.Fitment) bool { return !slices.Contains(machine.PartsIn(a), f.Part) })
	if len(onlyA) > 0 && len(onlyB) > 0 {
		return onlyA[0], onlyB[0]
	}
	return a[0], b[0]
}
