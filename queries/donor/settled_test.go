package donor

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// Only what was at least as bad before, by the same rule and by value, is excused.
func TestIsSettled(t *testing.T) {
	const fits, changes, unknown, no = graph.Fits, graph.FitsWithChanges, graph.Unknown, graph.DoesNotFit
	check := func(rule string, v graph.Verdict, gap string) mating.Check {
		return mating.Check{Rule: rule, Verdict: v, Gap: gap, Why: rule}
	}
	tests := []struct {
		name     string
		was, now mating.Check
		want     bool
	}{
		{"it fits", check("row", unknown, ""), check("row", fits, ""), true},
		{"as far apart as before", check("row", changes, "2 mm"), check("row", changes, "2 mm"), true},
		{"less far apart than before", check("row", changes, "2 mm"), check("row", changes, "1.9 mm"), true},
		{"a little further apart", check("row", changes, "2 mm"), check("row", changes, "2.1 mm"), false},
		{"worse by verdict", check("row", changes, "2 mm"), check("row", no, "2 mm"), false},
		{"as bad by another rule", check("bore", no, "2 mm"), check("row", changes, "2 mm"), false},
		{"unknown before, a change now", check("row", unknown, ""), check("row", changes, "10 mm"), false},
		{"unknown before and now", check("row", unknown, ""), check("row", unknown, ""), false},
		{"does not fit, and did not", check("family", no, ""), check("family", no, ""), true},
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
