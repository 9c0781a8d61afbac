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
	var clamps []clampOnTube
	for i := range x.Known {
		one, ok := clampOn(x, &x.Known[i])
		if !ok {
			continue
		}
		for _, other := range clamps {
			if one.tube != other.tube || one.clamp.Position == other.clamp.Position || !shareBolts(one.joint, other.joint) {
				continue
			}
			all = append(all, halvesOf(other.clamp, one.clamp))
		}
		clamps = append(clamps, one)
	}
	return all
}

// halvesOf holds two clamps against each other.
func halvesOf(a, b graph.FeatureRef) aspect {
	places := []graph.PositionID{min(a.Position, b.Position), max(a.Position, b.Position)}
	return aspect{what: OfClamp, id: string(places[0]), meets: at("clamp", places...), remedies: places,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.JudgeHalves(mating.HalvesCase{A: s.Side(a), B: s.Side(b), Safety: safetyAt(x, places...)})
		}}
}

// clampOnTube is a joint of a clamp with the tube it grips.
type clampOnTube struct {
	joint       *graph.Joint
	clamp, tube graph.FeatureRef
}

func clampOn(x *Examiner, j *graph.Joint) (clampOnTube, bool) {
	clamp, tube, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
		return x.After.KindOf(own) == "clamp" && x.After.KindOf(other) == "tube"
	})
	return clampOnTube{j, clamp, tube}, ok
}

func shareBolts(j, k *graph.Joint) bool {
	return slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return slices.Contains(k.Fasteners, id) })
}
