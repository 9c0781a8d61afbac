package bike

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// laced is a spoked wheel, which the data has whole and in its three pieces: who has the
// one does not want the other.
type laced struct {
	wheel  graph.PositionID
	pieces []graph.PositionID // hub, rim and set of spokes
}

// lacedOf finds the spoked wheels among places: a wheel with a hub, a rim and spokes in
// its own assembly. A cast wheel has none of those.
func lacedOf(positions []graph.Position) []laced {
	var all []laced
	for _, p := range positions {
		if p.Kind != "front-wheel" && p.Kind != "rear-wheel" {
			continue
		}
		pieces := lists.Kept(slices.Clone(positions), func(other graph.Position) bool {
			return other.Assembly == p.Assembly && slices.Contains(lacedKinds, other.Kind)
		})
		if len(pieces) == len(lacedKinds) {
			all = append(all, laced{p.ID, lists.Mapped(pieces, func(p graph.Position) graph.PositionID { return p.ID })})
		}
	}
	return all
}

// lacedKinds are what a spoked wheel is laced from.
var lacedKinds = []graph.KindID{"wheel-hub", "wheel-rim", "spokes"}

// notWanted is what a spoked wheel does not want, by whether a place is wanted and whether
// what it wants is at hand: its pieces where the wheel is on or at hand whole, or nothing
// of it is there; the whole wheel where any piece is.
func (l laced) notWanted(wanted, atHand func(graph.PositionID) bool) []graph.PositionID {
	has := func(id graph.PositionID) bool { return !wanted(id) || atHand(id) }
	if !has(l.wheel) && slices.ContainsFunc(l.pieces, has) {
		return []graph.PositionID{l.wheel}
	}
	return l.pieces
}
