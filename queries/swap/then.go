package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// openKinds are the feature kinds that must not stay open: a port that nothing
// screws into, half a plug, a holder without a bulb.
func openKinds() []string {
	return append(machine.WetKinds(), "connector", "lamp-holder")
}

// openEnds finds features of the new parts that meet nothing on this machine
// although they must not stay open, where the part before had none such.
func openEnds(x *judging) []examine.Outcome {
	var all []examine.Outcome
	for _, id := range x.After.Changed() {
		part, was := x.After.Seat(id).Part, x.Before.Seat(id).Part
		for _, f := range part.Features {
			if _, had := was.Feature(f.Name); had || !slices.Contains(openKinds(), f.Kind) || isJoined(x, id, f.Name) {
				continue
			}
			o := examine.Outcome{What: examine.OfOpenEnd, ID: string(id) + "." + f.Name,
				Ends: x.Ends(graph.FeatureRef{Position: id, Feature: f.Name})}
			is := []mating.Check{{Rule: "open end", Verdict: graph.FitsWithChanges, Effort: graph.EffortHandTools,
				Why: "the " + f.Kind + " " + f.Name + " meets nothing on this machine",
				Do:  []string{"close it off, or find what it belongs to on the machine it comes from"}}}
			all = append(all, x.Judged(o, []mating.Check{{Rule: "open end", Verdict: graph.Fits,
				Why: "the part before had none"}}, is))
		}
	}
	return all
}

func isJoined(x *judging, id graph.PositionID, feature string) bool {
	ref := graph.FeatureRef{Position: id, Feature: feature}
	return slices.ContainsFunc(x.Joints, func(j graph.Joint) bool { return j.A == ref || j.B == ref })
}
