package queries

import (
	"cmp"
	"slices"

	"matewell/graph"
)

// builtAs is what sits where on variants as they left the works, as far as
// listings say.
type builtAs struct {
	evidence *evidence
	variants map[graph.VariantID]graph.Variant
	listed   map[graph.PositionID][]graph.Fitment
}

func newBuiltAs(e *evidence, variants []graph.Variant, fitments []graph.Fitment) builtAs {
	b := builtAs{evidence: e, variants: byKey(variants, func(v graph.Variant) graph.VariantID { return v.ID }),
		listed: map[graph.PositionID][]graph.Fitment{}}
	seen := map[graph.FitmentID]bool{}
	for _, f := range fitments {
		if !seen[f.ID] {
			seen[f.ID] = true
			b.listed[f.Position] = append(b.listed[f.Position], f)
		}
	}
	return b
}

// at gives what is listed at a position of a variant, the best evidence first;
// between equals the later document, then what holds for every colour scheme,
// then by part.
func (b builtAs) at(position graph.PositionID, variant graph.VariantID) []graph.Fitment {
	v, known := b.variants[variant]
	if !known {
		v = variantOf(variant)
	}
	found := kept(b.listed[position], func(f graph.Fitment) bool { return slices.Contains(f.On, variant) })
	slices.SortStableFunc(found, func(x, y graph.Fitment) int {
		xs, ys := b.evidence.voices(x.Said, &v), b.evidence.voices(y.Said, &v)
		return cmp.Or(cmp.Compare(together(ys), together(xs)), cmp.Compare(dateOf(ys), dateOf(xs)),
			cmp.Compare(x.Scheme, y.Scheme), cmp.Compare(x.Part, y.Part), cmp.Compare(x.ID, y.ID))
	})
	return found
}

// partAt is the part that most likely sits at a position of a variant; empty
// when nobody says.
func (b builtAs) partAt(position graph.PositionID, variant graph.VariantID) graph.PartID {
	if found := b.at(position, variant); len(found) > 0 {
		return found[0].Part
	}
	return ""
}

func dateOf(voices []Source) string {
	if len(voices) == 0 {
		return ""
	}
	return voices[0].Date
}

// partsIn lists the parts of fitments, sorted.
func partsIn(fitments []graph.Fitment) []graph.PartID {
	return unique(mapped(fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
}
