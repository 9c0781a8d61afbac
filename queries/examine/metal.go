package examine

import (
	"maps"
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

// metalAspects is the metal of a part at a place that holds others by its holes: a
// carrier, a bracket, a plate.
func metalAspects(x *Examiner, id graph.PositionID) []aspect {
	if !hasAt(x, id, "plate") {
		return nil
	}
	return []aspect{{what: OfMetal, id: string(id), remedies: []graph.PositionID{id},
		meets: []featureAt{{at: id, kind: "plate"}, {at: id, kind: "bolt-pattern"}, {at: id, kind: "caliper-mount"}},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			a, b, ok := patternsAt(s, id)
			if !ok {
				return nil
			}
			return mating.JudgePlate(mating.PlateCase{Plate: s.KindAt(id, "plate"), A: a, B: b,
				Safety: s.Seat(id).Position.Safety})
		}}}
}

// patternsAt are the first two hole patterns of what sits at a place. Of one alone
// the distance to the nearest other hole is what was measured on the part, never
// worked out.
func patternsAt(s *machine.Setup, id graph.PositionID) (a, b mating.Side, ok bool) {
	var sides []mating.Side
	part := s.Seat(id).Part
	for _, f := range part.Features {
		if isCarried(f.Kind) {
			sides = append(sides, mating.Side{Position: id, Part: part.ID, Feature: f})
		}
	}
	switch len(sides) {
	case 0:
		return a, b, false
	case 1:
		b = sides[0]
		b.Feature.Dims = maps.Clone(b.Feature.Dims)
		delete(b.Feature.Dims, "spacing")
		return sides[0], b, true
	}
	return sides[0], sides[1], true
}
