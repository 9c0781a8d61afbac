package donor

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// Only what was at least as bad before, by the same rule and by value, is excused.
func TestIsSettled(t *testing.T) {
	check := func(rule string, v graph.Verdict, gap string) mating.Check {
		return mating.Check{Rule: rule, Verdict: v, Gap: gap, Why: rule}
	}
	tests := []struct {
		name     string
		was, now mating.Check
		want     bool
	}{
		{"it fits", check("row", graph.Unknown, ""), check("row", graph.Fits, ""), true},
		{"as far apart as before", check("row", graph.FitsWithChanges, "2 mm"), check("row", graph.FitsWithChanges, "2 mm"), true},
		{"less far apart than before", check("row", graph.FitsWithChanges, "2 mm"), check("row", graph.FitsWithChanges, "1.9 mm"), true},
		{"a little further apart", check("row", graph.FitsWithChanges, "2 mm"), check("row", graph.FitsWithChanges, "2.1 mm"), false},
		{"worse by verdict", check("row", graph.FitsWithChanges, "2 mm"), check("row", graph.DoesNotFit, "2 mm"), false},
		{"as bad by another rule", check("bore", graph.DoesNotFit, "2 mm"), check("row", graph.FitsWithChanges, "2 mm"), false},
		{"unknown before, a change now", check("row", graph.Unknown, ""), check("row", graph.FitsWithChanges, "10 mm"), false},
		{"unknown before and now", check("row", graph.Unknown, ""), check("row", graph.Unknown, ""), false},
		{"does not fit, and did not", check("family", graph.DoesNotFit, ""), check("family", graph.DoesNotFit, ""), true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := examine.Outcome{What: examine.OfStack, Before: tt.was.Verdict, After: tt.now.Verdict,
				Was: []mating.Check{tt.was}, Checks: []mating.Check{tt.now}}
			if got := isSettled(o); got != tt.want {
				t.Errorf("got %v", got)
			}
		})
	}
}
