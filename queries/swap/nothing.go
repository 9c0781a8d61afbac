package swap

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// nothingKnown are the changed places about which nothing was judged, listed or
// found: silence is no word for the part, so they are unknown.
func (x *judging) nothingKnown(outcomes []examine.Outcome) []examine.Outcome {
	var all []examine.Outcome
	for _, id := range x.After.Changed() {
		if x.isListedStill(id) || slices.ContainsFunc(outcomes, func(o examine.Outcome) bool { return o.SpeaksOf(id) }) {
			continue
		}
		seat := x.After.Seat(id)
		check := mating.Check{Rule: "nothing known", Verdict: graph.Unknown,
			Why: fmt.Sprintf("no source lists %s here, and nothing that it meets is recorded", seat.Part.ID)}
		if seat.Empty {
			check.Why = "nothing that the part taken off met is recorded"
		}
		o := examine.Outcome{What: examine.OfNothing, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
		before := []mating.Check{{Rule: "nothing known", Verdict: graph.Fits, Why: "what was there before"}}
		all = append(all, x.Judged(o, before, []mating.Check{check}))
	}
	return all
}

// changesNothing reports whether only parts that sources list at their places
// are asked for.
func (x *judging) changesNothing() bool {
	return !slices.ContainsFunc(x.After.Changed(), func(id graph.PositionID) bool { return !x.isListedStill(id) })
}

// isListedStill reports whether the part that a source lists here is asked for:
// nothing is changed then. What was only found on a bike is no such word.
func (x *judging) isListedStill(id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	return !seat.Empty && !built.Empty && seat.Part.ID == built.Part.ID && built.Source.ID != ""
}
