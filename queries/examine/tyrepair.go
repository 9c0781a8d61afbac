package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// tyrePairAspects is whether the front and the rear tyre may run together.
func tyrePairAspects(x *Examiner) []aspect {
	l := x.landmarks
	if l == nil || l.Tyre["front"] == "" || l.Tyre["rear"] == "" {
		return nil
	}
	front, rear := l.Tyre["front"], l.Tyre["rear"]
	needs := x.spots["tyre-need"]
	all := []aspect{tyreRoom(x, front, l), tyreRoom(x, rear, &machine.Landmarks{})}
	if len(needs) == 0 {
		all = append(all, tyreMarks(front, "front"), tyreMarks(rear, "rear"))
	}
	meets := slices.Concat(at("tyre", front, rear), at("tyre-need", needs...))
	return append(all, aspect{what: OfTyres, id: string(x.After.Variant.Model) + ":tyres", meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in := mating.TyrePairCase{Front: s.KindAt(front, "tyre"), Rear: s.KindAt(rear, "tyre"), Safety: graph.SafetyWheel}
			in.Built = sidesOf(x.Built, []graph.PositionID{front, rear}, "tyre")
			for _, need := range sidesOf(x.Built, needs, "tyre-need") {
				if len(need.Feature.Dims["mix"]) > 0 {
					in.Need = need
				}
			}
			return mating.JudgeTyrePair(in)
		}})
}

// tyreMarks is what a tyre carries and how fast it may run, against the one built in,
// on a machine of which nobody recorded what it asks.
func tyreMarks(id graph.PositionID, wheel string) aspect {
	return aspect{what: OfTyres, id: string(id) + "/marks", meets: at("tyre", id),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.JudgeTyreMarks(mating.TyreMarksCase{Tyre: s.KindAt(id, "tyre"), Was: x.Built.KindAt(id, "tyre"),
				Wheel: wheel, Safety: graph.SafetyWheel})
		}}
}

// tyreRoom is a tyre against the one built in where nobody recorded the room that it
// turns in; what lies in front is told by the yokes and legs of l.
func tyreRoom(x *Examiner, id graph.PositionID, l *machine.Landmarks) aspect {
	room := func(s *machine.Setup) bool {
		_, _, ok := x.Connections.meets(id, func(own, other graph.FeatureRef) bool {
			return s.KindOf(own) == "tyre" && s.KindOf(other) == "tyre-room"
		})
		return ok
	}
	return aspect{what: OfTyres, id: string(id) + "/room", meets: at("tyre", id), unplanned: true,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			if room(s) {
				return nil
			}
			in := mating.TyreRoomCase{Tyre: s.KindAt(id, "tyre"), Was: x.Built.KindAt(id, "tyre"), Safety: graph.SafetyWheel}
			for _, yoke := range l.Yokes {
				if side := s.KindAt(yoke, "yoke-offset"); len(side.Feature.Dims["spacing"]) > 0 {
					in.Yoke = side
				}
			}
			if len(l.Legs) > 0 {
				in.Leg = s.KindAt(l.Legs[0], "tube")
			}
			return mating.JudgeTyreRoom(in)
		}}
}
