package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// What must be got, made, altered or looked at for a place with a safety class is not ready
// before that is done; a rule says of what any such work ends with that it is no more.
func TestWorkStandsAgainstRiding(t *testing.T) {
	brake := []graph.Safety{graph.SafetyBrake}
	change := func(c mating.Check) mating.Check {
		c.Verdict = graph.FitsWithChanges
		return c
	}
	for _, test := range []struct {
		name   string
		after  graph.Verdict
		safety []graph.Safety
		check  mating.Check
		open   bool
		work   bool
	}{
		{"a bolt to get", graph.FitsWithChanges, brake, change(mating.Check{Effort: graph.EffortHandTools}), true, true},
		{"a shim under a caliper", graph.FitsWithChanges, brake, change(mating.Check{Effort: graph.EffortDrillShim}),
			true, true},
		{"words without an effort", graph.FitsWithChanges, brake, change(mating.Check{}), true, true},
		{"new sealing washers", graph.FitsWithChanges, brake, change(mating.Check{Effort: graph.EffortHandTools,
			Routine: true}), false, false},
		{"a shim under a badge", graph.FitsWithChanges, nil, change(mating.Check{Effort: graph.EffortDrillShim}),
			false, false},
		{"does not fit, work or no work", graph.DoesNotFit, brake, change(mating.Check{}), true, false},
		{"unknown", graph.Unknown, brake, mating.Check{Verdict: graph.Unknown}, true, false},
		{"fits", graph.Fits, brake, mating.Check{Verdict: graph.Fits}, false, false},
	} {
		o := examine.Outcome{What: examine.OfJoint, ID: "x:a", After: test.after, Safety: test.safety, Why: "why (it): so",
			Checks: []mating.Check{test.check, {Verdict: graph.Fits}}}
		against := swap.NotReady([]examine.Outcome{o}, nil)
		if open := len(against) > 0; open != test.open || open && against[0].IsWork() != test.work {
			t.Errorf("%s: against it %v, want open %v, work %v", test.name, against, test.open, test.work)
		}
	}
}

// What is made, or ordered by its sizes, for a place with a safety class is measured before
// anyone rides; a part by its number was judged.
func TestMadeFirst(t *testing.T) {
	o := examine.Outcome{What: examine.OfJoint, ID: "x:a", After: graph.FitsWithChanges,
		Safety: []graph.Safety{graph.SafetyWheel}}
	plain := examine.Outcome{What: examine.OfJoint, ID: "x:b", After: graph.FitsWithChanges}
	made := swap.Get{What: "spacer", Text: "spacer 4 mm long"}
	bought := swap.Get{What: swap.GetPart, Part: "Tarnholt 1", Text: "spacer"}
	for _, test := range []struct {
		name string
		get  swap.Get
		want int
	}{
		{"made at a wheel", made.Closing(o), 1},
		{"made at a badge", made.Closing(plain), 0},
		{"bought at a wheel", bought.Closing(o), 0},
	} {
		got := swap.MadeFirst([]swap.Get{test.get, test.get}, []examine.Outcome{plain, o})
		if len(got) != test.want || test.want > 0 && !got[0].IsWork() {
			t.Errorf("%s: %v, want %d", test.name, got, test.want)
		}
	}
}
