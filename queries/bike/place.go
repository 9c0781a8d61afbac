package bike

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// placing is where one bag goes.
type placing struct {
	best       *BagPlace // nil when nothing takes any of it
	ties, next []BagPlace
	settled    bool
	label      *BagPlace // the best of the groups that its label names; nil when it names none
}

// lead is by how much a score must exceed the next one to settle a bag. Two
// pieces out of forty; common practice, no source.
const lead = 0.05

// nextShown is how many places that match less well are shown.
const nextShown = 2

// clearest is the bag with the best score among those that match one place
// clearly best, when no other bag has as good a claim to a position there; -1
// for none.
func clearest(ranked map[int][]BagPlace) int {
	best := -1
	for _, i := range lists.KeysOf(ranked) {
		places := ranked[i]
		if len(places) == 0 || len(places) > 1 && places[0].Score-places[1].Score < lead {
			continue
		}
		if best >= 0 && places[0].Score <= ranked[best][0].Score {
			continue
		}
		rival := slices.ContainsFunc(lists.KeysOf(ranked), func(j int) bool {
			return j != i && len(ranked[j]) > 0 && ranked[j][0].Score >= places[0].Score && overlap(ranked[j][0], places[0])
		})
		if !rival {
			best = i
		}
	}
	return best
}

func overlap(a, b BagPlace) bool {
	return slices.ContainsFunc(a.Positions, func(id graph.PositionID) bool { return slices.Contains(b.Positions, id) })
}
