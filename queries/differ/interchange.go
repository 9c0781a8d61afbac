package differ

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/swap"
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

// uses reports whether a check was worked out from the part in its new place.
func (t transplant) uses(c mating.Check) bool {
	return slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == t.to.ID })
}

// isOfDifference reports whether a check was worked out from a feature in which the two
// parts do not measure the same.
func (t transplant) isOfDifference(c mating.Check) bool {
	return slices.ContainsFunc(t.compare.differences, func(d Difference) bool {
		return d.Class != ClassCosmetic && d.Dim != "" && slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
			return u.Position == t.to.ID && u.Feature == d.Feature
		})
	})
}

// whyFits says why the part fits, with what else was held against what differs.
func (t transplant) whyFits(tried swap.Tried, further string) string {
	var met []string
	for _, o := range tried.Outcomes {
		if o.What != examine.OfJoint || !slices.Contains(o.Joint.Places(), t.to.ID) {
			continue
		}
		for _, ref := range []graph.FeatureRef{o.Joint.A, o.Joint.B} {
			if ref.Position != t.to.ID {
				met = append(met, ref.Position.Local())
			}
		}
	}
	switch {
	case t.compare.onlyColour:
		return t.compare.why
	case len(met) > 0:
		return strings.Join(lists.Kept([]string{"mates with " + strings.Join(lists.Unique(met), ", "), further},
			func(text string) bool { return text != "" }), "; ")
	case t.compare.class == ClassCosmetic:
		return "measures the same as what sits there"
	}
	return cmp.Or(further, "nothing that was judged here speaks against it")
}
