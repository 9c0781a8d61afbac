package examine

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// roadConnections are the places of what the road asks for: lamps, beam, horn, by
// what their kinds or the model say that they do.
func roadConnections(x *Examiner, at []graph.PositionID) []Connection {
	var all []Connection
	for _, id := range at {
		if len(x.After.Seat(id).Position.Road) == 0 {
			continue
		}
		all = append(all, Connection{What: OfRoad, ID: string(id), Places: roadPlaces(x, id), Unplanned: true,
			around: x.Connections, touched: true, remedy: only(id),
			judge: func(x *Examiner) (Outcome, bool) { return road(x, id) }})
	}
	return all
}

// roadPlaces are a place and what it is joined to: a lamp that does not go where
// it is held does nothing for the road.
func roadPlaces(x *Examiner, id graph.PositionID) []graph.PositionID {
	places := []graph.PositionID{id}
	for j := range x.JointsAt(id) {
		places = append(places, j.A.Position, j.B.Position)
	}
	return lists.Unique(places)
}

// road judges whether the machine still has what a place does for the road; false
// where nobody says what sat there.
func road(x *Examiner, id graph.PositionID) (Outcome, bool) {
	if x.Built.Seat(id).Empty && x.Before.Seat(id).Empty && x.After.Seat(id).Empty {
		return Outcome{}, false
	}
	o := Outcome{What: OfRoad, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
	was, is := x.checks(OfRoad+string(id), func(s *machine.Setup) []mating.Check { return roadChecks(x, s, id) })
	o = x.Judged(o, was, is)
	if len(o.Safety) == 0 {
		o.Safety = []graph.Safety{graph.SafetyLights}
	}
	return o, true
}

func roadChecks(x *Examiner, s *machine.Setup, id graph.PositionID) []mating.Check {
	seat := s.Seat(id)
	in := mating.RoadCase{Not: graph.RoadDuties()} // what other places do is theirs
	for _, name := range seat.Position.Road {
		duty := mating.RoadDuty{Name: name, At: mating.Side{Position: id, Part: seat.Part.ID}}
		duty.State, duty.Why = roadState(x, s, id, name)
		in.Duties = append(in.Duties, duty)
	}
	return mating.JudgeRoad(in)
}

// roadState is what is known of one duty: that of an empty place is not done, and
// no more that of a part which does not fit what it is joined to.
func roadState(x *Examiner, s *machine.Setup, id graph.PositionID, duty string) (mating.RoadState, string) {
	if s.Seat(id).Empty {
		return mating.RoadAbsent, s.Seat(id).Why
	}
	worst, why := graph.Fits, ""
	for j := range x.JointsAt(id) {
		if len(s.Absent(j.A.Position, j.B.Position)) > 0 ||
			(s.KindOf(j.A) == "beam" || s.KindOf(j.B) == "beam") != (duty == "beam side") {
			continue
		}
		checks := jointChecks(x, s, *j)
		if verdict := mating.Worst(checks); verdict > worst {
			worst, why = verdict, WhyOf(checks)
		}
	}
	switch worst {
	case graph.DoesNotFit:
		return mating.RoadDead, why
	case graph.Unknown:
		return mating.RoadUnknown, why
	}
	return mating.RoadWorks, ""
}

// heatConnections are the lines that pass an exhaust.
func heatConnections(x *Examiner) []Connection {
	var all []Connection
	for _, run := range x.runs {
		if len(run.Hot) == 0 || run.Line != x.only && !x.asksFor(run.Hot) {
			continue
		}
		all = append(all, heatConnection(x, run))
	}
	return all
}

func heatConnection(x *Examiner, run graph.Run) Connection {
	return Connection{What: OfHeat, ID: string(run.ID), Unplanned: true, around: x.Connections, touched: true,
		Places: lists.Unique(append(slices.Clone(run.Hot), run.Line)), remedy: only(run.Line),
		judge: func(x *Examiner) (Outcome, bool) { return heat(x, run) }}
}

// heat judges a line beside the hot parts that it passes; false where one of the
// places is empty, and where nobody measured the machine as built.
func heat(x *Examiner, run graph.Run) (Outcome, bool) {
	places := append([]graph.PositionID{run.Line}, run.Hot...)
	if len(run.Gap) == 0 || len(x.After.Absent(places...)) > 0 {
		return Outcome{}, false
	}
	refs := lists.Mapped(places, func(id graph.PositionID) graph.FeatureRef { return graph.FeatureRef{Position: id} })
	o := Outcome{What: OfHeat, ID: string(run.ID), Ends: x.Ends(refs...)}
	was, is := x.checks(OfHeat+string(run.ID), func(s *machine.Setup) []mating.Check { return heatChecks(x, s, run) })
	return x.Judged(o, was, is), true
}

func heatChecks(x *Examiner, s *machine.Setup, run graph.Run) []mating.Check {
	if absent := s.Absent(append([]graph.PositionID{run.Line}, run.Hot...)...); len(absent) > 0 {
		return absent
	}
	var checks []mating.Check
	for _, id := range run.Hot {
		in := mating.HeatCase{Line: lineSide(x, s, run), Hot: mating.Side{Position: id, Part: s.Seat(id).Part.ID},
			Built: rankedReadings(x, run.Gap, measure.Length), Least: rankedReadings(x, run.LeastGap, measure.Length),
			Safety: FirstSafety(x.SafetyOf(x.Ends(graph.FeatureRef{Position: run.Line})))}
		if asBuilt(x, s, run.Line) && asBuilt(x, s, id) { // with any other part nobody measured it
			in.Clearance = in.Built
		}
		judged := mating.JudgeHeat(in)
		for i := range judged {
			judged[i].Rule += ", " + id.Local()
		}
		checks = append(checks, judged...)
	}
	return checks
}
