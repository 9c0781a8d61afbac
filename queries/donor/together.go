package donor

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// togetherText says of one of several connections that clash only together which
// parts it would hold with at the places it shares with the others, and why none
// of those holds there. It is empty when the connections have no place in
// common.
func togetherText(p *planner, d *demand, clash []*demand) string {
	var said []string
	for k, i := range d.slots {
		if i >= len(p.slots) || p.slots[i].fixed {
			continue
		}
		parts := heldBy(p, d, k)
		var against []string
		for _, other := range clash {
			if at := slices.Index(other.slots, i); other != d && other.lot == nil && at >= 0 {
				against = append(against, againstAll(p, other, at, parts))
			}
		}
		if len(against) > 0 {
			said = append(said, fmt.Sprintf("at %s it holds only with %s", p.slots[i].at.Local(), someOf(p, i, parts)))
			said = append(said, lists.Kept(against, func(s string) bool { return s != "" })...)
		}
	}
	return strings.Join(said, "; ")
}

// heldBy are the options of its k-th slot with which a demand holds.
func heldBy(p *planner, d *demand, k int) []int {
	var options []int
	for _, choice := range d.options {
		options = append(options, choice[k])
	}
	return lists.Unique(options)
}

// againstAll says why a demand does not hold with any of the options at its k-th
// slot; empty when it does with one.
func againstAll(p *planner, d *demand, k int, options []int) string {
	held := heldBy(p, d, k)
	if len(options) == 0 || slices.ContainsFunc(options, func(o int) bool { return slices.Contains(held, o) }) {
		return ""
	}
	o := leastBadOf(p, d, func(slot, option int) bool { return slot != d.slots[k] || slices.Contains(options, option) })
	return fmt.Sprintf("none of those holds at %s %s: %s", d.What, queries.LocalName(d.ID), whyText(o))
}

// holdsTogether reports whether a demand holds with another part at a place once
// a place that it shares with another of the clash has a part with which that
// one holds.
func holdsTogether(p *planner, d *demand, id graph.PositionID, part graph.PartID, clash []*demand) bool {
	for _, i := range d.slots {
		for _, other := range clash {
			k := slices.Index(other.slots, i)
			if k < 0 || other == d || p.slots[i].at == id || p.slots[i].fixed {
				continue
			}
			for _, o := range heldBy(p, other, k) {
				parts := map[graph.PositionID]graph.PartID{id: part, p.slots[i].at: p.slots[i].options[o].part}
				if _, ok := holdsWithAll(p, d, id, parts); ok {
					return true
				}
			}
		}
	}
	return false
}

// mostNamed is how many parts for one place are named.
const mostNamed = 2

// someOf names a few options of a slot, and counts the others.
func someOf(p *planner, slot int, options []int) string {
	var ids []graph.PartID
	for _, o := range options {
		if option := p.slots[slot].options[o]; option.part != "" {
			ids = append(ids, option.part)
		}
	}
	ids = lists.Unique(ids)
	names := lists.Mapped(ids[:min(len(ids), mostNamed)], p.named)
	if more := len(ids) - len(names); more > 0 {
		names = append(names, fmt.Sprintf("%d more", more))
	}
	if len(names) == 0 {
		return "no part known"
	}
	return strings.Join(names, " or ")
}
