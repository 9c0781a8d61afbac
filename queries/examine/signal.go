package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// speedClass is the class of what the clocks show of the road speed, whatever class their
// place has: who reads less than the true speed rides too fast, on what turns with the
// wheel or is held against it.
const speedClass = graph.SafetyWheel

// showsSpeed reports whether an outcome is about how the clocks show the road speed: what
// gives it, what turns their drive, what their figures are in. Of a place as a whole it is
// asked with what was left of it.
func showsSpeed(x *Examiner, o Outcome) bool {
	switch o.What {
	case OfSpeed:
		return true
	case OfJoint:
		return isOfSpeed(x, o.Joint.A) || isOfSpeed(x, o.Joint.B)
	}
	return false
}

// isOfSpeed reports whether a feature has a part in how the road speed is shown.
func isOfSpeed(x *Examiner, ref graph.FeatureRef) bool {
	return slices.ContainsFunc([]*machine.Setup{x.After, x.Built}, func(s *machine.Setup) bool {
		part := s.Seat(ref.Position).Part
		f, _ := part.Feature(ref.Feature)
		switch f.Kind {
		case "clock-scale":
			return true
		case "signal-in", "signal-out":
			return isSpeed(f, f.Kind)
		case "spline":
			return slices.ContainsFunc(part.Features, func(f graph.Feature) bool { return isSpeed(f, f.Kind) })
		}
		return false
	})
}

// speedTake is what tells the clocks the road speed: where it is given, where it is
// read, and what turns it.
type speedTake struct {
	source, clocks graph.PositionID
	tyre           graph.PositionID
	drive          *drive // of a machine whose speed is taken at the gearbox; else nil
}

// speedAspects is what the clocks show of the road speed.
func speedAspects(x *Examiner) []aspect {
	take, ok := readSpeedTake(x)
	if !ok {
		return nil
	}
	meets := slices.Concat(at("signal-out", take.source), at("signal-in", take.clocks), at("tyre", take.tyre))
	if take.drive != nil {
		for _, ref := range take.drive.sprockets {
			meets = append(meets, featureAt{at: ref.Position, kind: kindAsBuilt(x, ref)})
		}
	}
	return []aspect{{what: OfSpeed, id: string(take.clocks), meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in, was := speedCase(x, s, take), speedCase(x, x.Built, take)
			in.Was = &was
			return mating.JudgeSpeedometer(in)
		}}}
}

// tellsSpeed picks the place whose signal is about the road speed.
func tellsSpeed(x *Examiner, kind string) graph.PositionID {
	for _, id := range x.spots[kind] {
		for _, part := range []graph.Part{x.Built.Seat(id).Part, x.After.Seat(id).Part} {
			if slices.ContainsFunc(part.Features, func(f graph.Feature) bool { return isSpeed(f, kind) }) {
				return id
			}
		}
	}
	return ""
}

func isSpeed(f graph.Feature, kind string) bool {
	return f.Kind == kind && strings.HasPrefix(kind, "signal-") &&
		strings.Contains(strings.ToLower(machine.BestText(f, "tells")), "speed")
}

// speedSide is the feature at a place that is about the road speed.
func speedSide(s *machine.Setup, id graph.PositionID, kind string) mating.Side {
	part := s.Seat(id).Part
	if at := slices.IndexFunc(part.Features, func(f graph.Feature) bool { return isSpeed(f, kind) }); at >= 0 {
		return mating.Side{Position: id, Part: part.ID, Feature: part.Features[at]}
	}
	return s.KindAt(id, kind)
}

// readSpeedTake finds them: speed is taken where the engine's part says, else at the
// wheel that the sender's place belongs to.
func readSpeedTake(x *Examiner) (speedTake, bool) {
	t := speedTake{source: tellsSpeed(x, "signal-out"), clocks: tellsSpeed(x, "signal-in")}
	l := x.landmarks
	if t.source == "" || t.clocks == "" || l == nil {
		return t, false
	}
	where := t.source.Local() + " " + x.After.Seat(t.source).Position.Side
	if taken := speedTaken(&gauge{s: x.Built}, l); taken != "" {
		where = taken
	}
	switch {
	case strings.Contains(where, "gearbox"):
		drives := drives(x, x.Built)
		if len(drives) == 0 {
			return t, false
		}
		t.drive, t.tyre = &drives[0], l.Tyre["rear"]
	case strings.Contains(where, "front"):
		t.tyre = l.Tyre["front"]
	case strings.Contains(where, "rear"):
		t.tyre = l.Tyre["rear"]
	}
	return t, t.tyre != ""
}

func speedCase(x *Examiner, s *machine.Setup, t speedTake) mating.SpeedCase {
	in := mating.SpeedCase{Source: speedSide(s, t.source, "signal-out"), Clocks: speedSide(s, t.clocks, "signal-in"),
		Tyre: s.KindAt(t.tyre, "tyre"), Safety: s.Seat(t.clocks).Position.Safety}
	if t.drive != nil {
		in.Front, in.Rear = s.Side(t.drive.sprockets[0]), s.Side(t.drive.sprockets[1])
	}
	return in
}
