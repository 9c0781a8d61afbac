package queries

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
)

// worstOf is the worst of all that was judged, and no verdict when that is
// nothing.
func worstOf(outcomes []Outcome, numbers []Number) graph.Verdict {
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
func leftVerdict(left []Outcome, numbers []Number) graph.Verdict {
	return graph.Fits.Worst(worstOf(left, numbers))
}

// notReady says what stands against riding: everything of a safety class that
// is unknown or does not fit.
func notReady(outcomes []Outcome, numbers []Number) []string {
	var why []string
	bad := func(v graph.Verdict) bool { return v == graph.Unknown || v == graph.DoesNotFit }
	for _, o := range outcomes {
		if bad(o.After) && len(o.Safety) > 0 {
			why = append(why, fmt.Sprintf("%s %s (%s): %s", o.What, localName(o.ID), o.After, o.Why))
		}
	}
	for _, n := range numbers {
		if bad(n.Verdict) && n.Safety != graph.SafetyNone {
			why = append(why, fmt.Sprintf("%s of %s (%s): %s", n.Name, localName(n.About), n.Verdict, n.Words))
		}
	}
	return why
}

// localName is an identity without its model.
func localName(id string) string {
	if _, local, ok := strings.Cut(id, ":"); ok {
		return local
	}
	return id
}

// cautions are the warnings for what the change touches: its safety classes, also
// by what a figure comes to, and lamps.
func (x *judging) cautions(outcomes []Outcome, numbers []Number) []Caution {
	var featureKinds []string
	for _, id := range x.after.Changed() {
		featureKinds = slices.Concat(featureKinds, x.before.featureKindsAt(id), x.after.featureKindsAt(id))
	}
	return cautionsFor(featureKinds, append(x.safetyTouched(outcomes), mapped(numbers, func(n Number) graph.Safety { return n.Safety })...)...)
}

// featureKindsAt are the sorts of feature of what sits at a position: those it
// is described with, and those that every part of its kind has.
func (s *Setup) featureKindsAt(id graph.PositionID) []string {
	part := s.Seat(id).Part
	return featureKindsOf(part, s.Library().kind(part.Kind))
}

func (x *judging) safetyTouched(outcomes []Outcome) []graph.Safety {
	var classes []graph.Safety
	for _, id := range x.after.Changed() {
		classes = append(classes, x.after.Seat(id).Position.Safety)
	}
	for _, o := range outcomes {
		classes = append(classes, o.Safety...)
	}
	return classes
}
