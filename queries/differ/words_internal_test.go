package differ

import (
	"testing"

	"matewell/graph"
)

// TestInterchangeWords: what heads a row is no better than the worse of both ways, and
// a way that is a clear no is said though the other is unknown.
func TestInterchangeWords(t *testing.T) {
	way := func(v graph.Verdict) *Direction { return &Direction{Verdict: v} }
	for _, tt := range []struct {
		aOnB, bOnA graph.Verdict
		want       string
	}{
		{graph.Fits, graph.Fits, "both"},
		{graph.FitsWithChanges, graph.Fits, "both, with changes"},
		{graph.Fits, graph.DoesNotFit, "A on B only"},
		{graph.Fits, graph.Unknown, "A on B; the other way unknown"},
		{graph.DoesNotFit, graph.DoesNotFit, "neither"},
		{graph.DoesNotFit, graph.Unknown, "not A on B; the other way unknown"},
		{graph.Unknown, graph.DoesNotFit, "not B on A; the other way unknown"},
		{graph.Unknown, graph.Unknown, "unknown"},
	} {
		got := interchangeOf(way(tt.aOnB), way(tt.bOnA))
		if got != tt.want {
			t.Errorf("%s and %s: %q, want %q", tt.aOnB, tt.bOnA, got, tt.want)
		}
		step := stepOf(DifferRow{Interchange: got})
		if isOpen := tt.aOnB == graph.Unknown || tt.bOnA == graph.Unknown; isOpen && step.Known && !step.Onward &&
			!step.Back {
			t.Errorf("%q is drawn as a wall, though one way is unknown", got)
		}
	}
}
