package examine

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// clutchAspects are the plates of each clutch as they lie on its hub.
func clutchAspects(x *Examiner) []aspect {
	var all []aspect
	for _, hub := range x.spots["clutch-hub"] {
		friction, steel := besides(x, hub, "friction-plate"), besides(x, hub, "steel-plate")
		springs := besides(x, hub, "spring")
		if len(friction) == 0 || len(steel) == 0 || slices.ContainsFunc(friction,
			func(id graph.PositionID) bool { return slices.Contains(steel, id) }) {
			continue // a set of plates does not say how many it holds
		}
		all = append(all, aspect{what: OfPack, id: string(hub), remedies: slices.Concat(friction, steel),
			meets: slices.Concat(at("clutch-hub", hub), at("friction-plate", friction...), at("steel-plate", steel...),
				at("spring", springs...)),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				in := mating.PackCase{Hub: s.KindAt(hub, "clutch-hub"), Plates: platesOf(s, friction, steel),
					Safety: s.Seat(hub).Position.Safety}
				for _, side := range sidesOf(s, springs, "spring") {
					for range s.Quantity(side.Position) {
						in.Springs = append(in.Springs, side)
					}
				}
				return mating.JudgePack(in)
			}})
	}
	return all
}

// besides are the places in the assembly of one where what sits there has a feature
// of a kind.
func besides(x *Examiner, id graph.PositionID, kind string) []graph.PositionID {
	var found []graph.PositionID
	for _, other := range x.spots[kind] {
		if other.Assembly() == id.Assembly() {
			found = append(found, other)
		}
	}
	return found
}

// platesOf are the plates from the inside outward, each as often as it is there: in
// the order of their places where each has a number, else a friction plate and a
// steel plate in turn.
func platesOf(s *machine.Setup, friction, steel []graph.PositionID) []mating.Side {
	type plate struct {
		side  mating.Side
		index int
	}
	var plates []plate
	numbered := true
	add := func(ids []graph.PositionID, kind string) {
		for _, side := range sidesOf(s, ids, kind) {
			index := s.Seat(side.Position).Position.Index
			numbered = numbered && index > 0
			for range s.Quantity(side.Position) {
				plates = append(plates, plate{side, index})
			}
		}
	}
	add(friction, "friction-plate")
	most := len(plates)
	add(steel, "steel-plate")
	if numbered {
		slices.SortStableFunc(plates, func(a, b plate) int { return cmp.Compare(a.index, b.index) })
	}
	var sides []mating.Side
	for i, p := range plates {
		if numbered || i < most {
			sides = append(sides, p.side)
			continue
		}
		sides = slices.Insert(sides, min(2*(i-most)+1, len(sides)), p.side)
	}
	return sides
}
