package donor

import (
	"testing"

	"matewell/graph"
)

// What is gained by taking a group whole comes before a small group that meets
// hardly anything; then fewest mismatches, then those that changes put right.
func TestCompareUnits(t *testing.T) {
	unit := func(name string, parts, saved int, verdicts ...graph.Verdict) DonorUnit {
		u := DonorUnit{Assemblies: []string{name}, Parts: parts, Saved: saved}
		for _, v := range verdicts {
			u.Mismatches = append(u.Mismatches, CutMismatch{Verdict: v})
		}
		return u
	}
	tests := []struct {
		name        string
		first, then DonorUnit
	}{
		{"gains before a lone stand", unit("intake", 7, 3, graph.FitsWithChanges), unit("stands", 2, 0)},
		{"fewer mismatches before more gained", unit("tank", 2, 1, graph.DoesNotFit),
			unit("intake", 7, 9, graph.FitsWithChanges, graph.FitsWithChanges)},
		{"what changes put right before what nothing does", unit("exhaust", 6, 3, graph.FitsWithChanges),
			unit("tank", 2, 5, graph.DoesNotFit)},
		{"more gained before fewer parts", unit("intake", 7, 3), unit("tank", 2, 1)},
		{"fewer parts to carry", unit("tank", 2, 1), unit("rear-brake", 9, 1)},
		{"by name when all is equal", unit("seat", 2, 1), unit("tank", 2, 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if compareUnits(tt.first, tt.then) >= 0 || compareUnits(tt.then, tt.first) <= 0 {
				t.Errorf("%v does not come before %v", tt.first.Assemblies, tt.then.Assemblies)
			}
		})
	}
}
