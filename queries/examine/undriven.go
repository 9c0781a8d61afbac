package examine

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// The kinds of part by which the rider reads the road speed.
const (
	clocksKind = graph.KindID("clocks")
	driveKind  = graph.KindID("speedo-drive")
	cableKind  = graph.KindID("speedo-cable")
	sensorKind = graph.KindID("speed-sensor")
)

// findSpeedometer reads the places by which the road speed is shown, where one of them may
// change.
func findSpeedometer(ctx context.Context, a *Connections, s *machine.Setup, at []graph.PositionID) error {
	kinds := []graph.KindID{clocksKind, driveKind, cableKind, sensorKind}
	if !slices.ContainsFunc(at, func(id graph.PositionID) bool { return slices.Contains(kinds, s.Position(id).Kind) }) {
		return nil
	}
	ids, err := s.Library().Reader().PositionsOfKindOn(ctx, s.Variant.Model, kinds...)
	if err != nil {
		return err
	}
	if err := s.Load(ctx, ids...); err != nil {
		return err
	}
	a.speedometer = lists.Kept(ids, func(id graph.PositionID) bool {
		return slices.Contains(s.Position(id).On, s.Variant.ID)
	})
	return nil
}

// speedometerConnections are the clocks with what drives them. No part that a plan could try closes
// the gap alone, so that it tells it.
func speedometerConnections(x *Examiner) []Connection {
	if len(x.speedometer) == 0 || x.only != "" && !slices.Contains(x.speedometer, x.only) {
		return nil
	}
	id := x.speedometer[0]
	for _, at := range x.speedometer {
		if x.After.Position(at).Kind == clocksKind {
			id = at
		}
	}
	return []Connection{{What: OfRoad, ID: string(id), Places: x.speedometer, Unplanned: true, around: x.Connections,
		touched: true, remedy: only(x.speedometer...),
		judge: func(x *Examiner) (Outcome, bool) { return undriven(x, id) }}}
}

// undriven is that nothing drives the speedometer any more; false where something does, and where
// nothing is recorded that did. It is told at the clocks. Each machine must have one: UN Regulation 39, from
// memory; whether an old one must is for local rules.
func undriven(x *Examiner, at graph.PositionID) (Outcome, bool) {
	places := x.speedometer
	var off []string
	for _, id := range places {
		if x.After.Seat(id).Empty && !x.Before.Seat(id).Empty {
			off = append(off, id.Local())
		}
	}
	if len(off) == 0 || !showsRoadSpeed(x.Before, places) || showsRoadSpeed(x.After, places) {
		return Outcome{}, false
	}
	why := "nothing drives the speedometer any more: off " + strings.Join(off, ", ")
	if x.After.Seat(at).Empty {
		why = "no speedometer any more: off " + strings.Join(off, ", ")
	}
	why += "; the road asks for one, and nobody recorded what shows the speed then"
	if on, part, ok := x.After.LenderAt(at); ok && part.ID != x.After.PartIDAt(at) {
		why += "; " + string(on) + " has " + string(part.ID) + ", " + part.Name + ", with what drives that"
	}
	o := Outcome{What: OfRoad, ID: string(at), Ends: x.Ends(graph.FeatureRef{Position: at})}
	o = x.Judged(o, []mating.Check{{Rule: "speedometer", Verdict: graph.Fits, Why: "it is driven"}},
		[]mating.Check{{Rule: "speedometer", Verdict: graph.Unknown, Why: why,
			Basis: "UN Regulation 39, from memory; local rules decide",
			Measure: []mating.Ask{{Position: at, Dim: "speedometer", What: "what shows the road speed, and what drives that",
				Where: at.Local(), Gauge: graph.ByEye, Accuracy: "as it looks"}}}})
	o.Safety = []graph.Safety{speedClass}
	return o, true
}

// showsRoadSpeed reports whether something gives the clocks the road speed: a cable, from its drive
// where the machine has a place for one; a sensor, unless the clocks are turned by a cable.
func showsRoadSpeed(s *machine.Setup, places []graph.PositionID) bool {
	of := func(kind graph.KindID) []graph.PositionID {
		return lists.Kept(slices.Clone(places), func(id graph.PositionID) bool { return s.Position(id).Kind == kind })
	}
	some := func(ids []graph.PositionID) bool {
		return slices.ContainsFunc(ids, func(id graph.PositionID) bool { return !s.Seat(id).Empty })
	}
	drives := of(driveKind)
	cable := some(of(cableKind)) && (len(drives) == 0 || some(drives))
	sensor := some(of(sensorKind)) || slices.ContainsFunc(drives, func(id graph.PositionID) bool {
		return s.HasAt(id, "signal-out")
	})
	return slices.ContainsFunc(of(clocksKind), func(id graph.PositionID) bool {
		return !s.Seat(id).Empty && (cable || sensor && !s.HasAt(id, "spline"))
	})
}
