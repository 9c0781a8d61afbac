package swap

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// worstOf is the worst of all that was judged, and no verdict when that is
// nothing.
func worstOf(outcomes []examine.Outcome, numbers []examine.Number) graph.Verdict {
	worst := graph.NoVerdict
	for _, o := range outcomes {
		worst = worst.Worst(o.After)
	}
	for _, n := range numbers {
		worst = worst.Worst(n.Verdict)
	}
	return worst
}

// LeftVerdict is the verdict over what is left once everything was put right that can
// be: it fits when that is nothing.
func LeftVerdict(left []examine.Outcome, numbers []examine.Number) graph.Verdict {
	return graph.Fits.Worst(worstOf(left, numbers))
}

// NotReady says what stands against riding: everything of a safety class that
// is unknown or does not fit.
func NotReady(outcomes []examine.Outcome, numbers []examine.Number) []string {
	var why []string
	bad := func(v graph.Verdict) bool { return v == graph.Unknown || v == graph.DoesNotFit }
	for _, o := range outcomes {
		if bad(o.After) && len(o.Safety) > 0 {
			why = append(why, fmt.Sprintf("%s %s (%s): %s", o.What, queries.LocalName(o.ID), o.After, o.Why))
		}
	}
	for _, n := range numbers {
		if bad(n.Verdict) && n.Safety != graph.SafetyNone {
			why = append(why, fmt.Sprintf("%s of %s (%s): %s", n.Name, queries.LocalName(n.About), n.Verdict, n.Words))
		}
	}
	return why
}

// HasWork reports whether an outcome of a safety class fits only once something was
// shimmed, drilled or made.
func HasWork(o examine.Outcome) bool {
	return o.After == graph.FitsWithChanges && len(o.Safety) > 0 && examine.EffortOf(o.Checks) >= graph.EffortDrillShim
}

// toBeDone says what stands against riding until such work is done. What hand tools do
// is done as it is fitted.
func toBeDone(outcomes []examine.Outcome) []string {
	var why []string
	for _, o := range outcomes {
		if HasWork(o) {
			why = append(why, fmt.Sprintf("%s %s (%s): %s", o.What, queries.LocalName(o.ID), o.After, o.Why))
		}
	}
	return why
}

// cautions are the warnings for what the change touches: its safety classes, also
// by what a figure comes to, and lamps; and for further classes.
func cautions(
	x *judging, outcomes []examine.Outcome, numbers []examine.Number, also ...graph.Safety,
) []queries.Caution {
	var featureKinds []string
	for _, id := range x.After.Changed() {
		featureKinds = slices.Concat(featureKinds, x.Before.FeatureKindsAt(id), x.After.FeatureKindsAt(id))
	}
	return queries.CautionsAbout(featureKinds, append(append(safetyTouched(x, outcomes), also...),
		lists.Mapped(numbers, func(n examine.Number) graph.Safety { return n.Safety })...)...)
}

func safetyTouched(x *judging, outcomes []examine.Outcome) []graph.Safety {
	var classes []graph.Safety
	for _, id := range x.After.Changed() {
		classes = append(classes, x.After.Seat(id).Position.Safety)
	}
	for _, o := range outcomes {
		classes = append(classes, o.Safety...)
	}
	return classes
}
