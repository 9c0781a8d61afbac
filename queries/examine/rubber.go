package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// rubberAspects are a rubber ring at a place where fuel or brake fluid is kept in.
func rubberAspects(x *Examiner, id graph.PositionID) []aspect {
	fluid := map[graph.Safety]string{graph.SafetyFuel: "fuel", graph.SafetyBrake: "brake fluid"}[x.After.SafetyAt(id)]
	if fluid == "" || x.After.Seat(id).Position.Kind != "o-ring" || !hasAt(x, id, "washer") {
		return nil
	}
	return []aspect{{what: OfRubber, id: string(id), remedies: []graph.PositionID{id},
		meets: []featureAt{{at: id, kind: "washer", dims: []string{"material"}}},
		checks: func(_ *Examiner, s *machine.Setup) []mating.Check {
			return mating.JudgeSealRubber(mating.SealRubberCase{Ring: s.KindAt(id, "washer"), Fluid: fluid,
				Safety: s.SafetyAt(id)})
		}}}
}
