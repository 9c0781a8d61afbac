package differ

import (
	"slices"

	"matewell/graph"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// transplant is a part taken to another machine's place.
type transplant struct {
	part    graph.Part
	to      graph.Position
	onOther graph.VariantID
	sitting graph.PartID // what it would replace
	compare comparison   // of the two
}

// swapKey tells transplants apart.
type swapKey struct {
	fits.Spot
	sitting graph.PartID
}

func swapKeyOf(t transplant) swapKey {
	return swapKey{fits.Spot{Part: t.part.ID, Position: t.to.ID, Variant: t.onOther}, t.sitting}
}

// noJudge is the name of the check that says that nothing judges a difference.
const noJudge = "no joint"

// usingFeature are the checks that looked at a feature of the new part, and
// those that could not for want of a measure.
func usingFeature(checks []mating.Check, at graph.PositionID, feature string) []mating.Check {
	return lists.Kept(slices.Clone(checks), func(c mating.Check) bool {
		used := slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == at && u.Feature == feature })
		return used || slices.ContainsFunc(c.Measure,
			func(a mating.Ask) bool { return a.Position == at && a.Feature == feature })
	})
}
