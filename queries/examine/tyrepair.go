package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// tyrePairAspects is whether the front and the rear tyre may run together.
func (x *Examiner) tyrePairAspects() []aspect {
	l := x.landmarks
	if l == nil || l.Tyre["front"] == "" || l.Tyre["rear"] == "" {
		return nil
	}
	front, rear := l.Tyre["front"], l.Tyre["rear"]
	needs := x.spots["tyre-need"]
	meets := slices.Concat(at("tyre", front, rear), at("tyre-need", needs...))
	return []aspect{{what: OfTyres, id: string(x.After.Variant.Model) + ":tyres", meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in := mating.TyrePairCase{Front: s.KindAt(front, "tyre"), Rear: s.KindAt(rear, "tyre"), Safety: graph.SafetyWheel}
			for _, need := range sidesOf(s, needs, "tyre-need") {
				if len(need.Feature.Dims["mix"]) > 0 {
					in.Need = need
				}
			}
			return mating.JudgeTyrePair(in)
		}}}
}
