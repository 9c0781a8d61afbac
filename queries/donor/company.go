package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// ofCompany is, in the problem that is solved, what a part leaves undecided at its place beside
// the parts that it comes together with.
const ofCompany = "place"

// mostCompany is how many combinations of a part and those around it are told apart: of more
// the part is weighed alone.
const mostCompany = 4_000

// leavesOpen reports whether the part of a slot earns nothing at its place beside the parts that
// are chosen around it.
func leavesOpen(p *planner, s *donorSlot, parts map[graph.PositionID]graph.PartID) bool {
	part := parts[s.at]
	if part == "" || part == p.before.Seat(s.at).Part.ID || wordFor(p, s.at, part).Earned != examine.EarnedNothing {
		return false
	}
	return earnsNothingWith(p, parts, s.at, p.meets[s.at])
}

// aroundOf are the slots that a part at one is judged with, itself first.
func aroundOf(p *planner, s *donorSlot) []int {
	slots := []int{p.slotAt[s.at]}
	for _, d := range p.meets[s.at] {
		for _, id := range d.Places {
			if i, ok := p.slotAt[id]; ok && id != s.at && (p.slots[i].wanted || len(p.slots[i].options) > 1) {
				slots = append(slots, i)
			}
		}
	}
	return append(slots[:1], lists.Unique(slots[1:])...)
}

// chosenAt are the parts of a choice at some slots.
func chosenAt(p *planner, slots []int, choice func(k int) int) map[graph.PositionID]graph.PartID {
	parts := map[graph.PositionID]graph.PartID{}
	for k, i := range slots {
		parts[p.slots[i].at] = p.slots[i].options[choice(k)].part
	}
	return parts
}

// isOpenIn reports whether a plan, as the search counts it, leaves something undecided at a slot.
func isOpenIn(p *planner, s *donorSlot, one plan.Plan) bool {
	switch {
	case !s.exact:
		return s.options[one.Choice[p.slotAt[s.at]]].open
	case s.vague: // it has grown over what can be told apart: nothing is counted for it
		return false
	}
	slots := aroundOf(p, s)
	return leavesOpen(p, s, chosenAt(p, slots, func(k int) int { return one.Choice[slots[k]] }))
}

// weighTogether has those slots of a plan counted beside all that may come around them, at which
// the plan leaves more or less undecided than the parts do one by one. It reports whether
// there were any; then the plan must be looked for again.
func weighTogether(p *planner, one plan.Plan) bool {
	cost := one.Cost
	some := false
	for _, s := range p.slots {
		if s.exact || s.vague || !s.grown && !s.isGoal() {
			continue
		}
		slots := aroundOf(p, s)
		is := leavesOpen(p, s, chosenAt(p, slots, func(k int) int { return one.Choice[slots[k]] }))
		was := isOpenIn(p, s, one)
		if is == was || p.ctx.Err() != nil {
			continue
		}
		if s.vague = companySize(p, slots) > mostCompany; s.vague {
			continue
		}
		some = true
		if n := unknownsAt(p, s.at); is {
			cost.Unknowns += n
		} else {
			cost.Unknowns -= n
		}
	}
	if some { // it costs so much as it is counted from now on
		p.bound, p.told = &cost, nil
		countTogether(p)
	}
	return some
}

// countTogether has all slots counted beside what may come around them: where one is not what
// its parts are one by one, others are not either.
func countTogether(p *planner) {
	for _, s := range p.slots {
		if s.exact || s.vague || !s.grown && !s.isGoal() || companySize(p, aroundOf(p, s)) > mostCompany {
			continue
		}
		s.exact = true
		for i, o := range s.options {
			if o.open {
				s.options[i].cost.Unknowns -= unknownsAt(p, s.at)
			}
		}
	}
}

func companySize(p *planner, slots []int) int {
	size := 1
	for _, i := range slots {
		size = min(size*len(p.slots[i].options), mostCompany+1)
	}
	return size
}

// addCompany adds to a problem what the parts of slots that are counted so leave undecided.
func addCompany(p *planner, problem *plan.Problem, demands []*demand) []*demand {
	for _, s := range p.slots {
		if !s.exact {
			continue
		}
		slots := aroundOf(p, s)
		if companySize(p, slots) > mostCompany { // it has grown since: the least it can be is counted
			s.vague = true
			continue
		}
		d := plan.Demand{Name: "what is known of " + s.at.Local(), Slots: slots}
		eachChoice(p, slots, func(choice []int) {
			c := plan.Combination{Options: slices.Clone(choice)}
			if !isUnseen(p, slots, choice) &&
				leavesOpen(p, s, chosenAt(p, slots, func(k int) int { return choice[k] })) {
				c.Cost.Unknowns = unknownsAt(p, s.at)
			}
			d.Allowed = append(d.Allowed, c)
		})
		problem.Demands = append(problem.Demands, d)
		demands = append(demands, &demand{Connection: examine.Connection{What: ofCompany, ID: s.at.Local()},
			ways: make([]*donorWay, len(d.Allowed))})
	}
	return demands
}

// isUnseen reports whether a choice has something that nobody looked at: it may be known to do.
func isUnseen(p *planner, slots, choice []int) bool {
	for k, i := range slots {
		if p.slots[i].options[choice[k]].other {
			return true
		}
	}
	return false
}

// eachChoice goes through all choices of the options of some slots.
func eachChoice(p *planner, slots []int, do func(choice []int)) {
	choice := make([]int, len(slots))
	for {
		do(choice)
		k := 0
		for ; k < len(slots); k++ {
			if choice[k]++; choice[k] < len(p.slots[slots[k]].options) {
				break
			}
			choice[k] = 0
		}
		if k == len(slots) {
			return
		}
	}
}
