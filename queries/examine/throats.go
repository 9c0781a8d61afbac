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
	for i := range x.Known {
		j := &x.Known[i]
		if rack, _, ok := endsOf(j, func(own, _ graph.FeatureRef) bool {
			return x.Built.KindOf(own) == "throat-row"
		}); ok {
			written[rack.Position] = true
		}
		rack, stub, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return hasAt(x, own.Position, "throat-row") && x.Built.KindOf(own) == "tube" &&
				x.Built.KindOf(other) == "clamp" && machine.HasKind(x.Built.Seat(other.Position).Part, "bolt-pattern")
		})
		if ok {
			stubs[rack.Position] = append(stubs[rack.Position], stub.Position)
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
