package swap

import (
	"fmt"
	"slices"
	"strings"

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

// leftVerdict is the verdict over what is left once everything was put right that can
// be: it fits when that is nothing.
func leftVerdict(left []examine.Outcome, numbers []examine.Number) graph.Verdict {
	return graph.Fits.Worst(worstOf(left, numbers))
}

// NotReady says what stands against riding: everything of a safety class that is
// unknown or does not fit, or fits only after work (see examine.Outcome.HasWork).
func NotReady(outcomes []examine.Outcome, numbers []examine.Number) []string {
	var why []string
	for _, o := range outcomes {
		if o.IsOpen() {
			why = append(why, fmt.Sprintf("%s %s (%s): %s", o.What, queries.LocalName(o.ID), o.After, o.Why))
		}
	}
	for _, n := range numbers {
		if (n.Verdict == graph.Unknown || n.Verdict == graph.DoesNotFit) && n.Safety != graph.SafetyNone {
			why = append(why, fmt.Sprintf("%s of %s (%s): %s", n.Name, queries.LocalName(n.About), n.Verdict, n.Words))
		}
	}
	return why
}

// IsWork reports whether a line of NotReady tells of nothing but work to do.
func IsWork(why string) bool {
	return strings.Contains(why, workMark)
}

// workMark is in a line of NotReady about work.
var workMark = " (" + graph.FitsWithChanges.String() + "): "

// MadeFirst says what of what is to be got must be made, or ordered by its sizes, for
// something of a safety class: nobody rides before it was measured.
func MadeFirst(gets []Get, outcomes []examine.Outcome) []string {
	var why []string
	for _, g := range gets {
		if g.IsOrdered() && slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
			return len(o.Safety) > 0 && g.doesClose(o)
		}) {
			why = append(why, g.Text+workMark+"to be made or got by its sizes, and measured, before anyone rides")
		}
	}
	return lists.Unique(why)
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
