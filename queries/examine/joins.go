package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// Joins reports whether one feature of a part mates with a and another with b.
func Joins(part graph.Part, a, b mating.Side) bool {
	side := func(f graph.Feature) mating.Side { return mating.Side{Part: part.ID, Feature: f} }
	for _, one := range part.Features {
		if !mates(a, side(one)) {
			continue
		}
		for _, other := range part.Features {
			if other.Name != one.Name && mates(side(other), b) {
				return true
			}
		}
	}
	return false
}

func mates(a, b mating.Side) bool {
	checks := mating.Judge(mating.Meeting{A: a, B: b})
	switch mating.Worst(checks) {
	case graph.Fits:
		return true
	case graph.FitsWithChanges: // pins to move in a plug are what an adapter is to spare one
		return a.Feature.Kind != "connector" && EffortOf(checks) <= graph.EffortHandTools
	}
	return false
}

// Met are the places that features of what sits at a position meet: the other ends
// of its joints, and for a line what moves its ends. Sorted.
func (c *Connections) Met(at graph.PositionID, features []string) []graph.PositionID {
	var places []graph.PositionID
	for _, j := range c.Known {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position == at && slices.Contains(features, ends[0].Feature) {
				places = append(places, ends[1].Position)
			}
		}
	}
	for _, r := range c.runs {
		if r.Line != at {
			continue
		}
		for _, ref := range slices.Concat(r.MovedBy, r.LengthenedBy) {
			places = append(places, ref.Position)
		}
	}
	return lists.Unique(places)
}
