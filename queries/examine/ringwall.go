package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// wallAspects are the wall of a ring, spacer or sleeve at a place: a part that has a
// bore and a surface by the names of its features.
func wallAspects(x *Examiner, id graph.PositionID) []aspect {
	if _, _, ok := ringAt(x.After, id); !ok {
		return nil
	}
	return []aspect{{what: OfWall, id: string(id), meets: []featureAt{{at: id, kind: "bore"}, {at: id, kind: "shaft"}},
		remedies: []graph.PositionID{id},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in := mating.WallCase{Safety: s.Seat(id).Position.Safety}
			var ok bool
			if in.Bore, in.Surface, ok = ringAt(s, id); !ok {
				return nil
			}
			in.WasBore, in.WasSurface, _ = ringAt(x.Built, id)
			return mating.JudgeWall(in)
		}}}
}

// ringAt are bore and surface of the ring at a place; false where none is.
func ringAt(s *machine.Setup, id graph.PositionID) (bore, surface mating.Side, ok bool) {
	return bothAt(s, id, "bore", "bore", "surface", "shaft")
}
