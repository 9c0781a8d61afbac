package swap

import (
	"matewell/graph"
	"matewell/queries/examine"
)

// refusals are what is not offered any more, because the machine with it on showed that it
// helps nothing, or brings a new fault.
type refusals struct {
	parts map[graph.PositionID]map[graph.PartID]string // why not, in words
	// places are those at which no part helps.
	places map[graph.PositionID]bool
	// work are the outcomes for which nothing is ordered or put between.
	work map[examine.OutcomeID]bool
}

func newRefusals() *refusals {
	return &refusals{parts: map[graph.PositionID]map[graph.PartID]string{}, places: map[graph.PositionID]bool{},
		work: map[examine.OutcomeID]bool{}}
}

// mostTried is how many parts are tried at one place that bring new faults before all of
// them are given up.
const mostTried = 3

// part refuses a part at a place; false where it was refused before.
func (r *refusals) part(at graph.PositionID, id graph.PartID, why string) bool {
	if r.parts[at] == nil {
		r.parts[at] = map[graph.PartID]string{}
	}
	if _, known := r.parts[at][id]; known {
		return false
	}
	r.parts[at][id] = why
	r.places[at] = len(r.parts[at]) >= mostTried
	return true
}

// order refuses what was ordered for an outcome; false where it was refused before.
func (r *refusals) order(of examine.OutcomeID) bool {
	known := r.work[of]
	r.work[of] = true
	return !known
}

// refuses reports whether a part is not offered at a place.
func (r *refusals) refuses(at graph.PositionID, id graph.PartID) bool {
	_, refused := r.parts[at][id]
	return refused || r.places[at]
}
