package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// clampAspects are the clamps that are made of two parts: two that grip the same tube
// at the same place and are drawn together by the same bolts, as a yoke and its cap.
func clampAspects(x *Examiner) []aspect {
	var all []aspect
	for i, j := range x.Known {
		for _, k := range x.Known[i+1:] {
			a, tubeA, okA := clampOn(x, j)
			b, tubeB, okB := clampOn(x, k)
			if !okA || !okB || tubeA != tubeB || a.Position == b.Position || !shareBolts(j, k) {
				continue
			}
			places := []graph.PositionID{min(a.Position, b.Position), max(a.Position, b.Position)}
			all = append(all, aspect{what: OfClamp, id: string(places[0]), meets: at("clamp", places...), remedies: places,
				checks: func(x *Examiner, s *machine.Setup) []mating.Check {
					return mating.JudgeHalves(mating.HalvesCase{A: s.Side(a), B: s.Side(b), Safety: safetyAt(x, places...)})
				}})
		}
	}
	return all
}

// clampOn are the clamp and the tube of a joint.
func clampOn(x *Examiner, j graph.Joint) (clamp, tube graph.FeatureRef, ok bool) {
	return endsOf(&j, func(own, other graph.FeatureRef) bool {
		return x.After.KindOf(own) == "clamp" && x.After.KindOf(other) == "tube"
	})
}

func shareBolts(j, k graph.Joint) bool {
	return slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return slices.Contains(k.Fasteners, id) })
}
