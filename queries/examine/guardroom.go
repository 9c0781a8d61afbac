package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// guardAspects are the room that each tyre has under the mudguard over it.
func guardAspects(x *Examiner) []aspect {
	if x.landmarks == nil {
		return nil
	}
	var all []aspect
	for _, id := range x.spots["guard-room"] {
		end := "rear"
		if x.After.Seat(id).Position.Kind == "front-mudguard" {
			end = "front"
		}
		if tyre := x.landmarks.Tyre[end]; tyre != "" {
			all = append(all, guardRoom(id, tyre))
		}
	}
	return all
}

// guardRoom is the room of a tyre under one guard. All guards but a rear one on the
// subframe go up and down with their wheel.
func guardRoom(id, tyre graph.PositionID) aspect {
	return aspect{what: OfTyres, id: string(id) + "/room", meets: append(at("guard-room", id), at("tyre", tyre)...),
		remedies: []graph.PositionID{id}, unplanned: true,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.JudgeGuardRoom(mating.GuardRoomCase{
				Guard: s.KindAt(id, "guard-room"), WasGuard: x.Built.KindAt(id, "guard-room"),
				Tyre: s.KindAt(tyre, "tyre"), WasTyre: x.Built.KindAt(tyre, "tyre"),
				Sprung: s.Seat(id).Position.Kind == "rear-mudguard", Safety: graph.SafetyWheel})
		}}
}
