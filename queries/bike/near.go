package bike

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// near lists what lies in the boxes, taken by nothing, and might be meant for a
// want: another revision or colour of the number, the part as built where
// another is planned, an edge that does not say yes, or a part that sits at the
// same place of another year or model.
func (w *work) near(one want) []CheckFirst {
	var found []CheckFirst
	for _, line := range w.lines {
		if line.taken >= line.quantity {
			continue
		}
		if why := w.nearness(one, line.part); why != "" {
			found = append(found, CheckFirst{Box: line.box, Part: line.part, Sure: line.item.Sure, Why: why})
		}
	}
	return found
}

func (w *work) nearness(one want, have graph.PartID) string {
	parts := w.setup.Library().Part
	wanted, other := parts(one.part), parts(have)
	if s, linked := w.successors.supply(have, one.part); linked && s.usable && one.position.Renew {
		return s.how + ", but it goes on new every time: only unused"
	}
	if have == w.builtPart(one.position.ID) {
		return "listed here as built, but another part is planned"
	}
	if s, linked := w.successors.supply(have, one.part); linked && !s.usable {
		return s.how
	}
	if sameCore(wanted, other) {
		return "another version of the number: " + evidence.NumberDiffers(wanted.Number, other.Number)
	}
	return w.listedElsewhere(one.position, have)
}

func sameCore(a, b graph.Part) bool {
	return a.ID != "" && b.ID != "" && a.Brand == b.Brand && a.Number.CoreKey() == b.Number.CoreKey()
}

// listedElsewhere says on which other machines a part sits at this very place;
// empty when it does on none.
func (w *work) listedElsewhere(p graph.Position, part graph.PartID) string {
	on, schemes := []graph.VariantID{}, []string{}
	for _, f := range w.listed[part] {
		if f.Position.Local() != p.ID.Local() {
			continue
		}
		on = append(on, f.On...)
		if slices.Contains(f.On, w.setup.Variant.ID) && f.Scheme != "" {
			schemes = append(schemes, f.Scheme)
		}
	}
	switch {
	case len(on) == 0:
		return ""
	case len(schemes) > 0:
		return "listed here in colour scheme " + strings.Join(lists.Unique(schemes), ", ")
	case slices.Contains(on, w.setup.Variant.ID):
		return "also listed here, by a source that counts for less"
	}
	return "sits here on " + w.coverageWords(on)
}

// coverageWords says a set of variants shortly: "skerry-620 2004-2006 eu, uk".
func (m *ownMachine) coverageWords(on []graph.VariantID) string {
	return strings.Join(lists.Mapped(queries.CoveragesOf(lists.Unique(slices.Clone(on)), m.siblings),
		func(c queries.Coverage) string {
			return strings.TrimSpace(string(c.Model) + " " + c.String())
		}), "; ")
}
