package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// leverageAspects is how hard each brake presses, and how far each hydraulic clutch is
// pushed, against what it was as built: by its master and by all the pistons that it
// moves.
func leverageAspects(x *Examiner) []aspect {
	var all []aspect
	for _, c := range x.Circuits {
		masters, calipers := whereHas(x, c.Members, "master-bore"), whereHas(x, c.Members, "pistons")
		if len(masters) != 1 {
			continue
		}
		works := workedBy(x, masters[0])
		if !x.asksFor(append(works.places(), c.Members...)) {
			continue
		}
		safety := safetyAt(x, c.Members...)
		isClutch := slices.ContainsFunc(calipers, func(id graph.PositionID) bool { return isSlave(x.Built, id) })
		if safety != graph.SafetyBrake && !isClutch || len(calipers) == 0 {
			continue
		}
		what := OfLeverage
		if isClutch {
			what = OfClutch
		}
		all = append(all, aspect{what: what, id: string(c.ID), remedies: slices.Concat(masters, calipers),
			meets: slices.Concat(at("master-bore", masters...), at("pistons", calipers...), works),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				return mating.JudgeLeverage(mating.LeverageCase{Before: leverageOf(x.Built, masters[0], calipers, works),
					After: leverageOf(s, masters[0], calipers, works), Safety: safety})
			}})
	}
	return all
}

// isSlave reports whether what sits at a place is a clutch slave cylinder.
func isSlave(s *machine.Setup, id graph.PositionID) bool {
	side := s.KindAt(id, "pistons")
	return evidence.FirstText(side.Feature.Dims["layout"]) == "slave"
}

// workedBy is the lever or pedal that pushes a master cylinder; none where nothing was recorded of one.
func workedBy(x *Examiner, master graph.PositionID) worker {
	for j := range x.JointsAt(master) {
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			if end == master || x.After.Seat(end).Empty || x.Built.Seat(end).Empty {
				continue
			}
			if hasAt(x, end, "lever-throw") {
				return worker{{at: end, kind: "lever-throw", dims: []string{"ratio", "travel"}}}
			}
		}
	}
	return nil
}

// worker is what pushes a master cylinder, one feature or none.
type worker []featureAt

func (w worker) places() []graph.PositionID {
	return lists.Mapped(w, func(f featureAt) graph.PositionID { return f.at })
}

// leverageOf are a master, its pistons and what pushes it on one state of the machine.
func leverageOf(s *machine.Setup, master graph.PositionID, calipers []graph.PositionID, works worker) mating.Leverage {
	l := mating.Leverage{Master: s.KindAt(master, "master-bore"),
		Pistons: lists.Mapped(calipers, func(id graph.PositionID) mating.Side { return s.KindAt(id, "pistons") })}
	for _, f := range works {
		l.Worked = s.KindAt(f.at, f.kind)
	}
	return l
}

// bleedAspects is whether the bleed screw of a caliper stands at its top where the
// part is put.
func bleedAspects(x *Examiner, id graph.PositionID) []aspect {
	if !hasAt(x, id, "bleed-screw") {
		return nil
	}
	return []aspect{{what: OfBleed, id: string(id), meets: at("bleed-screw", id),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			place := s.Seat(id).Position
			in := mating.BleedCase{Screw: s.KindAt(id, "bleed-screw"), Safety: place.Safety}
			if place.Side == "left" || place.Side == "right" {
				in.Side = place.Side
			}
			return mating.JudgeBleed(in)
		}}}
}
