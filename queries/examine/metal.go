package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// HasMetal reports whether a ring or adapter that joins two circles of holes can
// have the metal it needs: circles that overlap are joined by nothing, whatever is
// offered. Pairs of holes lie beside each other as their maker pleased: of them
// only what was measured on the part refuses it.
func HasMetal(part graph.Part, a, b mating.Side) bool {
	patterned := func(s mating.Side) bool {
		return s.Feature.Kind == "bolt-pattern" || s.Feature.Kind == "caliper-mount"
	}
	if !patterned(a) || !patterned(b) {
		return true
	}
	plate, described := machine.FeatureOfKind(part, "plate")
	if !described {
		plate = graph.Feature{Name: "metal", Kind: "plate"}
	}
	isPair := func(s mating.Side) bool {
		return s.Feature.Kind == "caliper-mount" || machine.BestText(s.Feature, "count") == "2"
	}
	if isPair(a) && isPair(b) && len(plate.Dims["between"]) == 0 {
		return true
	}
	checks := mating.JudgePlate(mating.PlateCase{Plate: mating.Side{Part: part.ID, Feature: plate}, A: a, B: b})
	return !slices.ContainsFunc(checks, func(c mating.Check) bool { return c.Verdict == graph.DoesNotFit })
}
