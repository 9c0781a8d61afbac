package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// handAspects is whether a part is made for the side and cylinder of its place.
// Every place on one side is asked, since another part may have a hand where the
// one as built has none.
func handAspects(x *Examiner, id graph.PositionID) []aspect {
	place := x.After.Seat(id).Position
	if !hasAt(x, id, "hand") && place.Side != "left" && place.Side != "right" {
		return nil
	}
	return []aspect{{what: OfHand, id: string(id), meets: at("hand", id),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			seat := s.Seat(id)
			if !machine.HasKind(seat.Part, "hand") && !machine.HasKind(x.Built.Seat(id).Part, "hand") {
				return nil
			}
			hand := machine.BestText(s.KindAt(id, "hand").Feature, "hand")
			in := mating.HandCase{Part: s.KindAt(id, "hand"), Side: seat.Position.Side, Safety: seat.Position.Safety}
			if in.Side == "" && (hand == "front" || hand == "rear") {
				in.Side = machine.EndOf(seat.Position)
			}
			built, has := machine.FeatureOfKind(x.Built.Seat(id).Part, "hand")
			if has {
				in.Built = x.Built.KindAt(id, "hand")
			}
			if len(in.Part.Feature.Dims["cylinder"])+len(built.Dims["cylinder"]) > 0 {
				in.Cylinder = seat.Position.Index
			}
			return mating.JudgeHand(in)
		}}}
}
