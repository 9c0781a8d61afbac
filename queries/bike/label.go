package bike

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// What a bag's label is worth.
const (
	LabelNone        = "none"        // there is none
	LabelUnclear     = "unclear"     // it names nothing on this machine
	LabelAgrees      = "agrees"      // the contents are what it says
	LabelDecides     = "decides"     // it names one of several that match as well
	LabelContradicts = "contradicts" // the contents are something else
)

// labelNames reports whether a label names a group: all of its words are among the
// group's.
func (t *bagTable) labelNames(group int, label string) bool {
	words := labelWords(label)
	return len(words) > 0 && !slices.ContainsFunc(words, func(w string) bool { return !t.groups[group].words[w] })
}

// labelled is the best of the groups that a label names; with a score of 0 when
// none of them takes anything of the bag, nil when it names none.
func (t *bagTable) labelled(bag graph.Bag, ranked []BagPlace) *BagPlace {
	for _, place := range ranked {
		if t.labelNames(place.group, bag.Label) {
			return &place
		}
	}
	for g := range t.groups {
		if t.labelNames(g, bag.Label) {
			return &BagPlace{Name: t.groups[g].name, group: g}
		}
	}
	return nil
}

// labelSays compares a bag's label with where its contents go.
func (t *bagTable) labelSays(bag graph.Bag, p placing) (is, why string) {
	switch {
	case bag.Label == "":
		return LabelNone, ""
	case p.label == nil:
		return LabelUnclear, fmt.Sprintf("label says %q, which names nothing on this machine", bag.Label)
	case p.best == nil:
		return LabelContradicts, fmt.Sprintf("label says %q, but nothing on this machine takes any of it", bag.Label)
	case t.labelNames(p.best.group, bag.Label) && len(p.ties) > 0:
		return LabelDecides, fmt.Sprintf("only the label says %q: %d other places match as well", bag.Label, len(p.ties))
	case t.labelNames(p.best.group, bag.Label):
		return LabelAgrees, ""
	case p.label.Score >= p.best.Score-lead:
		return LabelUnclear, fmt.Sprintf("label says %q: %s matches as well as where it was put", bag.Label, p.label.Name)
	}
	return LabelContradicts, fmt.Sprintf("label says %q, contents match %s", bag.Label, p.best.Name)
}

// settle says which one measurement would tell the place of a bag from others
// that take the same pieces, or that none can.
func (t *bagTable) settle(bag graph.Bag, p placing, also []graph.PositionID) string {
	most, says := 1, ""
	for i, item := range bag.Contents {
		if len(p.best.slotsOf(i)) == 0 {
			continue
		}
		for dim, byValue := range t.valuesOf(item, p) {
			values := lists.Mapped(lists.KeysOf(byValue),
				func(value string) string { return value + " for " + queries.OrList(lists.Unique(byValue[value])) })
			text := fmt.Sprintf("%s the %s of the %s: %s", gaugeVerb(dim), dim, hardwareText(item), strings.Join(values, "; "))
			if len(values) > most || len(values) == most && says != "" && text < says {
				most, says = len(values), text
			}
		}
	}
	switch {
	case says != "":
		return says
	case len(p.ties) > 0:
		return "no measurement tells these places apart: they take the same hardware, so any of them will do; count what " +
			"each one takes"
	}
	return "the same hardware goes to " + placesText(also) +
		": only the count speaks for this place; look where pieces are missing on the machine"
}

// gaugeVerb is what one does to learn a dimension: a mark is read.
func gaugeVerb(dim string) string {
	if dim == "class" || dim == "head" {
		return "read"
	}
	return "measure"
}

// slotsOf are the slots that take pieces of an item.
func (p BagPlace) slotsOf(item int) []int {
	var all []int
	for pair := range p.counts {
		if pair.row == item {
			all = append(all, pair.column)
		}
	}
	return all
}

// valuesOf is, for each dimension that nobody measured on an item, what it would
// be at each place that takes the item.
func (t *bagTable) valuesOf(item graph.BagItem, p placing) map[string]map[string][]string {
	all := map[string]map[string][]string{}
	for _, s := range t.slots {
		l := compareHardware(item, s.part.Kind, s.size)
		if !l.same {
			continue
		}
		for _, dim := range l.unread {
			if all[dim] == nil {
				all[dim] = map[string][]string{}
			}
			value := s.size.Dims[dim][0].Text
			all[dim][value] = append(all[dim][value], placeName(p, s.position.ID))
		}
	}
	return all
}

// placeName is the place of a bag that a position belongs to, else the position.
func placeName(p placing, id graph.PositionID) string {
	for _, place := range append([]BagPlace{*p.best}, p.ties...) {
		if slices.Contains(place.Positions, id) {
			return place.Name
		}
	}
	return id.Local()
}
