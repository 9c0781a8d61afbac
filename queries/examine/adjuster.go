package examine

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// adjusterAspects is whether a chain adjuster has the thread to draw its axle as far as it
// must go.
func adjusterAspects(x *Examiner, id graph.PositionID) []aspect {
	if x.After.Seat(id).Position.Kind != "chain-adjuster" || !hasAt(x, id, "male-thread") {
		return nil
	}
	return []aspect{{what: OfAdjuster, id: string(id), remedies: []graph.PositionID{id},
		meets: []featureAt{{at: id, kind: "male-thread", dims: []string{"length"}}},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.JudgeAdjuster(mating.AdjusterCase{Thread: s.KindAt(id, "male-thread"),
				Was: x.Built.KindAt(id, "male-thread"), Way: wayOfAxle(x), Safety: s.SafetyAt(id)})
		}}}
}

// wayOfAxle is from output shaft to axle as far as the adjusters go, as a run of a chain has
// it; nothing where none was read.
func wayOfAxle(x *Examiner) []graph.Reading {
	for _, run := range slices.Concat(x.runs, x.reaches) {
		if !isDrive(x, run.Line) {
			continue
		}
		for _, need := range run.Needs {
			return rankedReadings(x, need.Length, measure.Length)
		}
	}
	return nil
}
