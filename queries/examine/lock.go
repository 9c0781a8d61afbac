package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// lockAspects is the room at full lock: both stops, all that turns, and all that
// stands beside it.
func lockAspects(x *Examiner) []aspect {
	yoke, frame, ok := stops(x)
	if !ok {
		return nil
	}
	swings, rooms := x.spots["swing"], x.spots["swing-room"]
	meets := slices.Concat(at("steering-stop", frame, yoke), at("swing", swings...), at("swing-room", rooms...))
	return []aspect{{what: OfLock, id: string(yoke), meets: meets, remedies: slices.Clone(swings),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in := mating.LockCase{Frame: s.KindAt(frame, "steering-stop"), Yoke: s.KindAt(yoke, "steering-stop"),
				WasFrame: x.Built.KindAt(frame, "steering-stop"), WasYoke: x.Built.KindAt(yoke, "steering-stop"),
				Swings: sidesOf(s, swings, "swing"), Rooms: sidesOf(s, rooms, "swing-room"), Safety: graph.SafetySteering}
			return mating.JudgeLock(in)
		}}}
}

// stops are the places of the two faces that end the lock: the one that turns has
// the yoke's other features.
func stops(x *Examiner) (yoke, frame graph.PositionID, ok bool) {
	for _, id := range x.spots["steering-stop"] {
		if hasAt(x, id, "yoke-offset") {
			yoke = id
		} else if frame == "" {
			frame = id
		}
	}
	return yoke, frame, yoke != "" && frame != ""
}

// sidesOf are all features of a kind at some places; one without dimensions for a
// place whose part has none.
func sidesOf(s *machine.Setup, ids []graph.PositionID, kind string) []mating.Side {
	var sides []mating.Side
	for _, id := range ids {
		part, found := s.Seat(id).Part, false
		for _, f := range part.Features {
			if f.Kind == kind {
				sides, found = append(sides, mating.Side{Position: id, Part: part.ID, Feature: f}), true
			}
		}
		if !found {
			sides = append(sides, s.KindAt(id, kind))
		}
	}
	return sides
}
