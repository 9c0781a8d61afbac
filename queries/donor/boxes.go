package donor

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// lot is what lies in the boxes, or in one offer, of one part.
type lot struct {
	part      graph.PartID
	from      string // "box crate-1", "box crate-1 or crate-2", "offer front end"
	quantity  int
	condition graph.Condition // of what is offered; empty in a box
}

func isBoxed(from string) bool { return strings.HasPrefix(from, fromBox) }

// isInBox reports whether a part lies in a box, proved.
func isInBox(p *planner, id graph.PartID) bool {
	return slices.ContainsFunc(p.lots, func(l lot) bool {
		return l.part == id && isBoxed(l.from) && l.quantity > 0 && l.condition != graph.ConditionInspect
	})
}

// takeBoxed says of the adapters of a plan out of which boxes they come, once its parts
// were taken out of these. The search took any that lies there for all; those for which
// none is left are counted, and then another plan might be smaller.
func takeBoxed(p *planner, d *DonorPlan, cost plan.Cost) plan.Cost {
	left := map[graph.PartID]int{}
	from := map[graph.PartID]string{}
	for _, l := range p.lots {
		if isBoxed(l.from) && l.condition != graph.ConditionInspect {
			left[l.part], from[l.part] = l.quantity, strings.TrimPrefix(l.from, fromBox)
		}
	}
	for _, part := range slices.Concat(d.Take, d.Get) {
		if isBoxed(part.From) {
			left[part.Part] -= part.Quantity
		}
	}
	for i, g := range d.Make {
		n := max(1, g.Quantity)
		switch {
		case g.Part == "" || from[g.Part] == "":
		case n <= left[g.Part]:
			left[g.Part] -= n
			d.Make[i].Box, d.Make[i].Price = from[g.Part], "" // there is nothing to pay
		case isInBox(p, g.Part) && !g.IsMore():
			p.unproved = true
			cost.Parts += n
			cost.Money += price(p, p.before.Library().Part(g.Part), n)
		}
	}
	return cost
}

// inLots are the parts in the boxes and in the offers.
func inLots(p *planner) []graph.PartID {
	return lists.Mapped(p.lots, func(l lot) graph.PartID { return l.part })
}

// addLots adds to a problem that no more is taken out of boxes and offers than
// lies there. For each lot that several places could use up, it counts from place to
// place: a slot more for each, whose option is how many are taken up to there.
func addLots(p *planner, problem *plan.Problem, demands []*demand) []*demand {
	for _, l := range p.lots {
		users, wanted := usersOf(p, l)
		if wanted <= l.quantity {
			continue
		}
		var count []int // the slot that counted last; none before the first place
		for _, i := range users {
			d := countLot(p, l, i, count, len(problem.Slots))
			problem.Slots = append(problem.Slots, countSlot(l, p.slots[i]))
			count = []int{len(problem.Slots) - 1}
			problem.Demands = append(problem.Demands, d)
			demands = append(demands, &demand{Connection: examine.Connection{What: ofBox, ID: l.from},
				ways: make([]*donorWay, len(d.Allowed)), lot: &l})
		}
	}
	return demands
}

// ofBox is, in a DonorClash, that less lies in a box than several places want.
const ofBox = "box"

// usersOf are the slots that may take parts of a lot, and how many all of them
// would.
func usersOf(p *planner, l lot) (users []int, wanted int) {
	for i, s := range p.slots {
		if slices.ContainsFunc(s.options, l.is) {
			users = append(users, i)
			wanted += p.wantedAt(s.at)
		}
	}
	return users, wanted
}

func (l lot) is(o donorOption) bool { return o.part == l.part && o.from == l.from }

func countSlot(l lot, s *donorSlot) plan.Slot {
	slot := plan.Slot{Name: fmt.Sprintf("%s taken out of %s, up to %s", l.part, l.from, s.at.Local())}
	for n := range l.quantity + 1 {
		slot.Options = append(slot.Options, plan.Option{Name: fmt.Sprint(n)})
	}
	return slot
}

// countLot is the demand that the slot next counts on from the one before it by
// what the place takes.
func countLot(p *planner, l lot, place int, before []int, next int) plan.Demand {
	s := p.slots[place]
	d := plan.Demand{Name: fmt.Sprintf("no more than %d of %s out of %s", l.quantity, l.part, l.from),
		Slots: append(append([]int{place}, before...), next)}
	for o, option := range s.options {
		takes := 0
		if l.is(option) {
			takes = p.wantedAt(s.at)
		}
		for had := range l.quantity + 1 - takes {
			if len(before) == 0 && had > 0 {
				break
			}
			combination := append([]int{o}, slices.Repeat([]int{had}, len(before))...)
			d.Allowed = append(d.Allowed, plan.Combination{Options: append(combination, had+takes)})
		}
	}
	return d
}

// lotClash says that a lot does not go round.
func lotClash(p *planner, l lot) ClashJoint {
	users, _ := usersOf(p, l)
	places := lists.Mapped(users, func(i int) string { return p.slots[i].at.Local() })
	what := ofBox
	if isOffered(l.from) {
		what = ofOffer
	}
	return ClashJoint{What: what, ID: strings.TrimPrefix(l.from, fromOffer), Verdict: graph.DoesNotFit,
		Ends: []examine.End{}, Text: fmt.Sprintf("only %d of %s there, and wanted at %s", l.quantity, p.named(l.part),
			strings.Join(places, " and "))}
}
