package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// throatAspects are racks of carburettors or throttle bodies in stubs that each stand for
// themselves: how far those stand apart was built for the rack that was built in.
func throatAspects(x *Examiner) []aspect {
	stubs := map[graph.PositionID][]graph.PositionID{}
	written := map[graph.PositionID]bool{} // against what holds all of them
	for _, ends := range joined(x, "throat-row", "throat-row") {
		written[ends[0].Position], written[ends[1].Position] = true, true
	}
	for _, ends := range joined(x, "tube", "clamp") {
		rack, stub := ends[0].Position, ends[1].Position
		if hasAt(x, rack, "throat-row") && machine.HasKind(x.Built.Seat(stub).Part, "bolt-pattern") {
			stubs[rack] = append(stubs[rack], stub)
		}
	}
	var all []aspect
	for _, rack := range lists.KeysOf(stubs) {
		if !written[rack] && len(lists.Unique(slices.Clone(stubs[rack]))) > 1 {
			all = append(all, throatsOf(rack, lists.Unique(stubs[rack])))
		}
	}
	return all
}

// throatsOf holds a rack against the one built in. With other stubs nobody knows how far
// apart they hold it.
func throatsOf(rack graph.PositionID, stubs []graph.PositionID) aspect {
	return aspect{what: OfThroats, id: string(rack), remedies: []graph.PositionID{rack}, meets: at("throat-row", rack),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			if slices.ContainsFunc(stubs, func(id graph.PositionID) bool { return !asBuilt(x, s, id) }) {
				return nil
			}
			return mating.Judge(mating.Meeting{A: s.KindAt(rack, "throat-row"), B: x.Built.KindAt(rack, "throat-row"),
				New: rack, Safety: safetyAt(x, rack)})
		}}
}
