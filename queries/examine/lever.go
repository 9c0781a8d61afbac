package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// leverAspects are the leverage of a hand lever and of a pedal, against those that
// the machine was built with.
func leverAspects(x *Examiner, id graph.PositionID) []aspect {
	var all []aspect
	if hasAt(x, id, "lever-throw") {
		all = append(all, handLever(x, id))
	}
	if hasAt(x, id, "pedal") {
		all = append(all, againstBuilt(x, OfPedal, id, "pedal",
			func(_ *machine.Setup, was, now mating.Side, safety graph.Safety) []mating.Check {
				return mating.JudgePedal(mating.PedalCase{Was: was, Now: now, Safety: safety})
			}))
	}
	return all
}

// handLever is a hand lever against that as built, and, where both are other parts, with
// the master cylinder that it sits in.
func handLever(x *Examiner, id graph.PositionID) aspect {
	isAnother := func(s *machine.Setup, at graph.PositionID) bool { return !asBuilt(x, s, at) }
	var master graph.PositionID
	for j := range x.JointsAt(id) {
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			if end != id && hasAt(x, end, "master-bore") {
				master = end
			}
		}
	}
	a := againstBuilt(x, OfLever, id, "lever-throw",
		func(s *machine.Setup, was, now mating.Side, safety graph.Safety) []mating.Check {
			in := mating.LeverCase{Was: was, Now: now, Safety: safety}
			if master != "" && isAnother(s, id) && isAnother(s, master) {
				in.Master = s.KindAt(master, "master-bore")
			}
			return mating.JudgeLever(in)
		})
	if master != "" {
		a.meets = append(a.meets, featureAt{at: master, kind: "master-bore", dims: []string{"lever-ratio"}})
	}
	return a
}

// againstBuilt is a feature of one part against that of the part as built.
func againstBuilt(x *Examiner, what string, id graph.PositionID, kind string,
	judge func(s *machine.Setup, was, now mating.Side, safety graph.Safety) []mating.Check) aspect {
	return aspect{what: what, id: string(id), meets: at(kind, id),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			if x.Built.Seat(id).Empty {
				return nil
			}
			return judge(s, x.Built.KindAt(id, kind), s.KindAt(id, kind), s.Seat(id).Position.Safety)
		}}
}
