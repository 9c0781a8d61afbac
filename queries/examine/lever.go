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
		all = append(all, againstBuilt(x, OfLever, id, "lever-throw",
			func(was, now mating.Side, safety graph.Safety) []mating.Check {
				return mating.JudgeLever(mating.LeverCase{Was: was, Now: now, Safety: safety})
			}))
	}
	if hasAt(x, id, "pedal") {
		all = append(all, againstBuilt(x, OfPedal, id, "pedal",
			func(was, now mating.Side, safety graph.Safety) []mating.Check {
				return mating.JudgePedal(mating.PedalCase{Was: was, Now: now, Safety: safety})
			}))
	}
	return all
}

// againstBuilt is a feature of one part against that of the part as built.
func againstBuilt(x *Examiner, what string, id graph.PositionID, kind string,
	judge func(was, now mating.Side, safety graph.Safety) []mating.Check) aspect {
	return aspect{what: what, id: string(id), meets: at(kind, id),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			if x.Built.Seat(id).Empty {
				return nil
			}
			return judge(x.Built.KindAt(id, kind), s.KindAt(id, kind), s.Seat(id).Position.Safety)
		}}
}
