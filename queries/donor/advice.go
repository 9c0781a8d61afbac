package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// advice is what came of trying something that might open the way.
type advice struct {
	fails bool   // there is no plan with it either
	also  string // what to say behind it; empty for nothing
}

// mostTrials is how many combinations are judged to try one piece of advice. It is
// a count and not a time, so that the same question has the same answer on a slow
// machine; the time of the question cuts it short only where that is over.
const mostTrials = 1500

// tryInstead plans with another part at a place that was asked for. What was asked
// for on the other side of the machine is free then: the two go in pairs.
func tryInstead(p *planner, id graph.PositionID, part graph.PartID) advice {
	q := p.q
	q.Swaps = append(slices.Clone(q.Swaps), swap.Replacement{Position: id.Local(), Part: string(part)})
	twin := machine.OtherSide(id)
	if _, fixed := p.fixed[twin]; fixed {
		q.freed = append(slices.Clone(q.freed), twin)
	}
	return try(p, q, twin)
}

// tryTaking plans with places of one assembly of the donor taken besides, and nothing of
// the assembly kept; where that comes to nothing, with one of them, or with all of the
// assembly. It gives what to take.
func tryTaking(p *planner, places []string, assembly string) ([]string, advice) {
	q := p.q
	q.Keep = nil
	for id := range p.keep {
		if id.Assembly().Local() != assembly {
			q.Keep = append(q.Keep, id.Local())
		}
	}
	slices.Sort(q.Keep)
	a := advice{fails: true}
	takes := [][]string{places}
	if len(places) > 1 {
		takes = append(takes, lists.Mapped(places, func(at string) []string { return []string{at} })...)
	}
	for _, take := range append(takes, []string{assembly}) {
		q.Take = append(slices.Clone(p.q.Take), take...)
		if a = try(p, q, ""); !a.fails {
			return take, a
		}
	}
	return nil, a
}

// try plans a question that differs a little; twin is a place of which it is told
// what the plan puts there.
func try(p *planner, q DonorQuestion, twin graph.PositionID) advice {
	left := p.ctx.left() / 2 // what comes after it wants to be tried too
	if left < shortestLook {
		return untried(p)
	}
	q.Began, q.Time, q.All, q.Better = q.now(), left, false, nil
	other, err := p.other(q)
	if err != nil {
		return advice{fails: true} // it can't even be asked, as what has no such place
	}
	defer other.ctx.release()
	result, err := somePlan(other, mostTrials)
	switch {
	case err == nil && len(result.Plans) > 0:
		return advice{also: andAt(other, twin, result.Plans[0])}
	case err == nil && !other.late:
		return advice{fails: true}
	}
	return untried(p)
}

// untried is advice that took too many judgements, or for which the time was over: it is
// not given.
func untried(p *planner) advice {
	p.notes = inOrder(append(p.notes, "not all that might open the way was tried to its end"))
	return advice{fails: true}
}

// somePlan is any plan, the first that is found, with so many judgements at most: whether
// it is the smallest need not be known of a piece of advice.
func somePlan(p *planner, most int) (plan.Result, error) {
	p.most = most
	if err := roughPlan(p); err == nil && p.known != nil {
		p.slots, p.slotAt = p.known.slots, slotsAt(p.known.slots)
		return p.known.result, nil
	}
	return solve(p)
}

// andAt says what a plan puts at a place, when it changes it.
func andAt(p *planner, id graph.PositionID, one plan.Plan) string {
	i, have := p.slotAt[id]
	if !have || len(p.q.freed) == 0 {
		return ""
	}
	part := p.slots[i].options[one.Choice[i]].part
	if part == "" || part == p.before.Seat(id).Part.ID {
		return ""
	}
	return ", and at " + id.Local() + ": " + p.named(part)
}
