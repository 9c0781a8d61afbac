package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// What must be shimmed, drilled or made at a place with a safety class is not ready
// before that is done; what hand tools do is done as it is fitted.
func TestHasWork(t *testing.T) {
	brake := []graph.Safety{graph.SafetyBrake}
	for _, test := range []struct {
		name    string
		verdict graph.Verdict
		safety  []graph.Safety
		effort  graph.Effort
		want    bool
	}{
		{"a shim under a caliper", graph.FitsWithChanges, brake, graph.EffortDrillShim, true},
		{"a bearing to be bored for", graph.FitsWithChanges, brake, graph.EffortLatheWeld, true},
		{"a hose clip turned by hand", graph.FitsWithChanges, brake, graph.EffortHandTools, false},
		{"a shim under a badge", graph.FitsWithChanges, nil, graph.EffortDrillShim, false},
		{"told already as what does not fit", graph.DoesNotFit, brake, graph.EffortDrillShim, false},
	} {
		o := examine.Outcome{After: test.verdict, Safety: test.safety,
			Checks: []mating.Check{{Effort: test.effort}, {}}}
		if got := swap.HasWork(o); got != test.want {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}
