package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// standAspects is how the machine stands on each of its stands: by the stand, where
// it is hinged, and what lifts that.
func standAspects(x *Examiner) []aspect {
	var all []aspect
	for _, id := range x.spots["stand"] {
		pivot, ok := standPivot(x, id)
		if !ok {
			continue
		}
		meets := slices.Concat(at("stand", id), at("stand-pivot", pivot))
		if l := x.landmarks; l != nil {
			for _, tyre := range []graph.PositionID{l.Tyre["front"], l.Tyre["rear"]} {
				if tyre != "" {
					meets = append(meets, featureAt{at: tyre, kind: "tyre"})
				}
			}
			meets = append(meets, at("fork-length", slices.Concat(firstPlaces(l.Legs), firstPlaces(l.Shocks))...)...)
		}
		all = append(all, aspect{what: OfStand, id: string(id), meets: meets, remedies: []graph.PositionID{id},
			checks: func(x *Examiner, s *machine.Setup) []mating.Check { return standChecks(x, s, id, pivot) }})
	}
	return all
}

// standPivot is where a stand is hinged: what its joint says, else the only place
// that has such a hinge.
func standPivot(x *Examiner, stand graph.PositionID) (graph.PositionID, bool) {
	pivots := x.spots["stand-pivot"]
	if _, other, ok := x.meets(stand, func(_, other graph.FeatureRef) bool {
		return slices.Contains(pivots, other.Position)
	}); ok {
		return other.Position, true
	}
	if len(pivots) == 1 {
		return pivots[0], true
	}
	return "", false
}

// pivotFor is where what sits at a place has a hinge for a stand: of several, the one
// that stands off to a side for a side stand, the one that does not for a centre stand.
func pivotFor(s *machine.Setup, id graph.PositionID, stand mating.Side) mating.Side {
	part := s.Seat(id).Part
	aside := machine.BestText(stand.Feature, "form") == "side"
	for _, f := range part.Features {
		if f.Kind == "stand-pivot" && (len(f.Dims["side"]) > 0) == aside {
			return mating.Side{Position: id, Part: part.ID, PartKind: part.Kind, Feature: f}
		}
	}
	return s.KindAt(id, "stand-pivot")
}

// standChecks judges a stand at the height that the front and the rear of the
// machine have: its pivot rises by something between the two, so that the worse of
// them counts, but for a "no" at one end alone.
func standChecks(x *Examiner, s *machine.Setup, id, pivot graph.PositionID) []mating.Check {
	in := mating.StandCase{Stand: s.KindAt(id, "stand"), WasStand: x.Built.KindAt(id, "stand"),
		Safety: s.Seat(id).Position.Safety}
	in.Pivot, in.WasPivot = pivotFor(s, pivot, in.Stand), pivotFor(x.Built, pivot, in.WasStand)
	if x.landmarks == nil {
		return mating.JudgeStand(in)
	}
	now, built := readStance(x, s, x.landmarks), readStance(x, x.Built, x.landmarks)
	front, rear := now.front-built.front, now.rear-built.rear
	for _, tyre := range []struct {
		id    graph.PositionID
		known bool
	}{{x.landmarks.Tyre["front"], now.okFront && built.okFront}, {x.landmarks.Tyre["rear"], now.okRear && built.okRear}} {
		if tyre.id != "" && !tyre.known && !asBuilt(x, s, tyre.id) {
			in.OnTyre = s.KindAt(tyre.id, "tyre")
			return mating.JudgeStand(in)
		}
	}
	front += now.leg - built.leg
	if rise, err := now.rearRise(built); err == nil {
		rear += rise
	}
	in.Rise = front
	checks := mating.JudgeStand(in)
	in.Rise = rear
	other := mating.JudgeStand(in)
	if mating.Worst(other) > mating.Worst(checks) {
		checks, other = other, checks
	}
	if mating.Worst(checks) == graph.DoesNotFit && mating.Worst(other) != graph.DoesNotFit {
		return mating.StandBetween(checks, in)
	}
	return checks
}
