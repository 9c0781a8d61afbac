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
		if !x.asksFor(c.Members) {
			continue
		}
		masters, calipers := whereHas(x, c.Members, "master-bore"), whereHas(x, c.Members, "pistons")
		safety := safetyAt(x, c.Members...)
		isClutch := slices.ContainsFunc(calipers, func(id graph.PositionID) bool { return isSlave(x.Built, id) })
		if safety != graph.SafetyBrake && !isClutch || len(masters) != 1 || len(calipers) == 0 {
			continue
		}
		what := OfLeverage
		if isClutch {
			what = OfClutch
		}
		all = append(all, aspect{what: what, id: string(c.ID), remedies: slices.Concat(masters, calipers),
			meets: append(at("master-bore", masters...), at("pistons", calipers...)...),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				return mating.JudgeLeverage(mating.LeverageCase{Before: leverageOf(x.Built, masters[0], calipers),
					After: leverageOf(s, masters[0], calipers), Safety: safety})
			}})
	}
	return all
}

// isSlave reports whether what sits at a place is a clutch slave cylinder.
func isSlave(s *machine.Setup, id graph.PositionID) bool {
	side := s.KindAt(id, "pistons")
	return evidence.FirstText(side.Feature.Dims["layout"]) == "slave"
}

// leverageOf are a master and its pistons on one state of the machine.
func leverageOf(s *machine.Setup, master graph.PositionID, calipers []graph.PositionID) mating.Leverage {
	return mating.Leverage{Master: s.KindAt(master, "master-bore"),
		Pistons: lists.Mapped(calipers, func(id graph.PositionID) mating.Side { return s.KindAt(id, "pistons") })}
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
