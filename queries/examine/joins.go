package examine

import (
	"matewell/graph"
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
