package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// spokeAspects are the sets of spokes with the hub and the rim that each laces together.
func spokeAspects(x *Examiner) []aspect {
	seen := map[graph.PositionID]bool{}
	var all []aspect
	for _, ends := range joined(x, "bolt-pattern", "bolt-pattern") {
		for _, ref := range ends {
			if seen[ref.Position] || !hasAt(x, ref.Position, "spokes") {
				continue
			}
			seen[ref.Position] = true
			if a, ok := spokesAt(x, ref.Position); ok {
				all = append(all, a)
			}
		}
	}
	return all
}

// spokesAt is one set of spokes; false where its joints do not say what it laces.
func spokesAt(x *Examiner, id graph.PositionID) (aspect, bool) {
	hubEnd, hub, okHub := x.meets(id, func(own, other graph.FeatureRef) bool {
		return kindAsBuilt(x, own) == "bolt-pattern" && hasAt(x, other.Position, "spoke-flanges")
	})
	rimEnd, rim, okRim := x.meets(id, func(own, other graph.FeatureRef) bool {
		return kindAsBuilt(x, own) == "bolt-pattern" && hasAt(x, other.Position, "rim")
	})
	read := func(s *machine.Setup) mating.SpokesCase {
		return mating.SpokesCase{Wire: s.KindAt(id, "spokes"), HubEnd: s.Side(hubEnd), RimEnd: s.Side(rimEnd),
			Hub: s.Side(hub), Rim: s.Side(rim), Flanges: s.KindAt(hub.Position, "spoke-flanges"),
			Safety: safetyAt(x, id)}
	}
	return aspect{what: OfSpokes, id: string(id), remedies: []graph.PositionID{id},
		meets: []featureAt{{at: id, kind: "spokes", dims: []string{"count", "length"}}, {at: id, kind: "bolt-pattern"},
			{at: hub.Position, kind: "bolt-pattern"}, {at: hub.Position, kind: "spoke-flanges"},
			{at: rim.Position, kind: "bolt-pattern"}},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in, built := read(s), read(x.Built)
			in.Built = &built
			return mating.JudgeSpokes(in)
		}}, okHub && okRim
}
