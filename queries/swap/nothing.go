package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// nothingMet are the places where a part was taken off and nothing that it met is
// recorded: silence is no word for leaving it off.
func nothingMet(x *judging, outcomes []examine.Outcome) []examine.Outcome {
	var all []examine.Outcome
	for _, id := range x.After.Changed() {
		tells := func(o examine.Outcome) bool {
			return o.SpeaksOf(id) || slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
				return c.Empty == id
			})
		}
		if !x.After.Seat(id).Empty || slices.ContainsFunc(outcomes, tells) {
			continue
		}
		check := mating.Check{Rule: "place", Verdict: graph.Unknown, Why: "nothing that the part taken off met is recorded"}
		o := examine.Outcome{What: examine.OfPlace, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
		before := []mating.Check{{Rule: "place", Verdict: graph.Fits, Why: "what was there before"}}
		all = append(all, x.Judged(o, before, []mating.Check{check}))
	}
	return all
}
