package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// yokeAspects hold the two yokes of a fork against one another where no joint does: the
// legs go through both, whoever wrote the machine down.
func yokeAspects(x *Examiner) []aspect {
	if x.landmarks == nil || len(x.landmarks.Yokes) != 2 {
		return nil
	}
	one, other := x.landmarks.Yokes[0], x.landmarks.Yokes[1]
	for range joined(x, "yoke-offset", "yoke-offset") {
		return nil
	}
	return []aspect{{what: OfYokes, id: string(one), meets: at("yoke-offset", one, other),
		remedies: []graph.PositionID{one, other}, checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.Judge(mating.Meeting{A: s.KindAt(one, "yoke-offset"), B: s.KindAt(other, "yoke-offset"),
				Built:  &mating.Meeting{A: x.Built.KindAt(one, "yoke-offset"), B: x.Built.KindAt(other, "yoke-offset")},
				New:    newSide(x, graph.Joint{A: graph.FeatureRef{Position: one}, B: graph.FeatureRef{Position: other}}),
				Safety: safetyAt(x, one, other)})
		}}}
}
