package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// twice are sizes of a part that have two places in its features: the pin that holds pads.
var twice = []struct{ kind, dim, other, otherKind, otherDim string }{
	{"pad", "pin", "pin-hole", "bore", "diameter"},
	{"pad-seat", "pin", "pad-pin", "shaft", "diameter"},
}

// twiceAspects are whether what sits at a place says the same of one size at both its
// places.
func twiceAspects(x *Examiner, id graph.PositionID) []aspect {
	var all []aspect
	for _, size := range twice {
		f, ok := x.After.Seat(id).Part.Feature(size.other)
		if !ok || f.Kind != size.otherKind || !x.After.HasAt(id, size.kind) {
			continue
		}
		all = append(all, aspect{what: OfTwice, id: string(id), remedies: []graph.PositionID{id},
			meets: []featureAt{{at: id, kind: size.kind, dims: []string{size.dim}},
				{at: id, kind: size.otherKind, dims: []string{size.otherDim}}},
			checks: func(_ *Examiner, s *machine.Setup) []mating.Check {
				return mating.JudgeTwice(mating.TwiceCase{One: s.KindAt(id, size.kind), OneDim: size.dim,
					Other: s.Side(graph.FeatureRef{Position: id, Feature: size.other}), OtherDim: size.otherDim,
					Safety: s.Seat(id).Position.Safety})
			}})
	}
	return all
}
