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
	for _, i := range x.withKind(x.After, "clamp") {
		one, ok := clampOn(x, i)
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

// clampOn is the joint known at an index as that of a clamp on a tube.
func clampOn(x *Examiner, i int) (clampOnTube, bool) {
	j := &x.Known[i]
	switch [2]string{kindOn(x, x.After, i, 0), kindOn(x, x.After, i, 1)} {
	case [2]string{"clamp", "tube"}:
		return clampOnTube{j, j.A, j.B}, true
	case [2]string{"tube", "clamp"}:
		return clampOnTube{j, j.B, j.A}, true
	}
	return clampOnTube{}, false
}

func shareBolts(j, k *graph.Joint) bool {
	return slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return slices.Contains(k.Fasteners, id) })
}
