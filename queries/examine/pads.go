package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// padAspects are pads in the caliper whose pin holds them: their plates lie in its
// guide, also where nobody wrote that as a joint of its own.
func padAspects(x *Examiner) []aspect {
	written := map[[2]graph.PositionID]bool{}
	for _, ends := range joined(x, "pad", "pad-seat") {
		written[[2]graph.PositionID{ends[0].Position, ends[1].Position}] = true
	}
	var all []aspect
	for _, ends := range joined(x, "bore", "shaft") {
		pair := [2]graph.PositionID{ends[0].Position, ends[1].Position}
		if written[pair] || !hasAt(x, pair[0], "pad") || !hasAt(x, pair[1], "pad-seat") {
			continue
		}
		written[pair] = true
		all = append(all, padsIn(pair[0], pair[1]))
	}
	return all
}

func padsIn(pads, caliper graph.PositionID) aspect {
	return aspect{what: OfPads, id: string(pads), remedies: []graph.PositionID{pads, caliper},
		meets: append(at("pad", pads), at("pad-seat", caliper)...),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.Judge(mating.Meeting{A: s.KindAt(pads, "pad"), B: s.KindAt(caliper, "pad-seat"),
				Safety: safetyAt(x, pads, caliper)})
		}}
}
