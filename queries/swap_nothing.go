package queries

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// nothingKnown are the changed places about which nothing was judged, listed or
// found: silence is no word for the part, so they are unknown.
func (x *judging) nothingKnown(outcomes []Outcome) []Outcome {
	var all []Outcome
	for _, id := range x.after.Changed() {
		if x.isListedStill(id) || slices.ContainsFunc(outcomes, func(o Outcome) bool { return o.speaksOf(id) }) {
			continue
		}
		seat := x.after.Seat(id)
		check := mating.Check{Rule: "nothing known", Verdict: graph.Unknown,
			Why: fmt.Sprintf("no source lists %s here, and nothing that it meets is recorded", seat.Part.ID)}
		if seat.Empty {
			check.Why = "nothing that the part taken off met is recorded"
		}
		o := Outcome{What: OfNothing, ID: string(id), Ends: x.ends(graph.FeatureRef{Position: id})}
		before := []mating.Check{{Rule: "nothing known", Verdict: graph.Fits, Why: "what was there before"}}
		all = append(all, x.judged(o, before, []mating.Check{check}))
	}
	return all
}

// changesNothing reports whether only parts that sources list at their places
// are asked for.
func (x *judging) changesNothing() bool {
	return !slices.ContainsFunc(x.after.Changed(), func(id graph.PositionID) bool { return !x.isListedStill(id) })
}

// isListedStill reports whether the part that a source lists here is asked for:
// nothing is changed then. What was only found on a bike is no such word.
func (x *judging) isListedStill(id graph.PositionID) bool {
	seat, built := x.after.Seat(id), x.built.Seat(id)
	return !seat.Empty && !built.Empty && seat.Part.ID == built.Part.ID && built.Source.ID != ""
}

// speaksOf reports whether an outcome was judged by what sits at a place, or
// asks to measure there.
func (o Outcome) speaksOf(id graph.PositionID) bool {
	return slices.ContainsFunc(o.Ends, func(e End) bool { return e.Position == id }) ||
		slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
			return slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == id }) ||
				slices.ContainsFunc(c.Measure, func(a mating.Ask) bool { return a.Position == id })
		})
}

// isOfPart reports whether an outcome is about a part at its place alone: what is
// said of it, its sort, its open ends, that nothing is known. No other part puts
// that right, and a plan does not reckon with it.
func isOfPart(o Outcome) bool {
	return slices.Contains([]string{OfWord, OfKind, OfOpenEnd, OfNothing}, o.What)
}
