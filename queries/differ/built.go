package differ

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// builtAs is what sits where on variants as they left the works, as far as
// listings say.
type builtAs struct {
	evidence *evidence.Evidence
	variants map[graph.VariantID]graph.Variant
	listed   map[graph.PositionID][]graph.Fitment
}

func newBuiltAs(e *evidence.Evidence, variants []graph.Variant, fitments []graph.Fitment) builtAs {
	b := builtAs{evidence: e, variants: lists.ByKey(variants, func(v graph.Variant) graph.VariantID { return v.ID }),
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

// variant is a variant as read, else as far as its identity tells.
func (b builtAs) variant(id graph.VariantID) graph.Variant {
	if v, known := b.variants[id]; known {
		return v
	}
	return queries.VariantOf(id)
}

// at gives what is listed at a position of a variant, the best evidence first;
// between equals the later document, then what holds for every colour scheme,
// then by part.
func (b builtAs) at(position graph.PositionID, variant graph.VariantID) []graph.Fitment {
	v := b.variant(variant)
	found := lists.Kept(b.listed[position], func(f graph.Fitment) bool { return slices.Contains(f.On, variant) })
	slices.SortStableFunc(found, func(x, y graph.Fitment) int {
		xs, ys := b.evidence.Voices(x.Said, &v), b.evidence.Voices(y.Said, &v)
		return cmp.Or(cmp.Compare(evidence.Together(ys), evidence.Together(xs)), cmp.Compare(dateOf(ys), dateOf(xs)),
			cmp.Compare(x.Scheme, y.Scheme), cmp.Compare(x.Part, y.Part), cmp.Compare(x.ID, y.ID))
	})
	return found
}

func dateOf(voices []evidence.Source) string {
	if len(voices) == 0 {
		return ""
	}
	return voices[0].Date
}
