package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// advice is what came of trying something that might open the way.
type advice struct {
	fails bool   // there is no plan with it either
	also  string // what to say behind it; empty for nothing
}

// notTried stands behind advice that was not tried to its end: it took too many
// judgements, had too many combinations, or the time was over.
const notTried = " (not tried to its end)"

// mostTrials is how many combinations are judged to try one piece of advice. It is
// a count and not a time, so that the same question has the same answer on a slow
// machine; the time of the question cuts it short only where that is over.
const mostTrials = 250

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

// tryTaking plans with an assembly of the donor taken besides, and not kept.
func tryTaking(p *planner, assembly string) advice {
	q := p.q
	q.Take = append(slices.Clone(q.Take), assembly)
	q.Keep = nil
	for id := range p.keep {
		if id.Assembly().Local() != assembly {
			q.Keep = append(q.Keep, id.Local())
		}
	}
	slices.Sort(q.Keep)
	return try(p, q, "")
}

// try plans a question that differs a little; twin is a place of which it is told
// what the plan puts there.
func try(p *planner, q DonorQuestion, twin graph.PositionID) advice {
	left := p.ctx.left() / 2 // what comes after it wants to be tried too
	if left < shortestLook {
		return advice{also: notTried}
	}
	q.Began, q.Time, q.All, q.Better = q.now(), left, false, nil
	other, err := p.other(q)
	if err != nil {
		return advice{fails: true} // it can't even be asked, as what has no such place
	}
	defer other.ctx.release()
	other.most = mostTrials
	result, err := solve(other)
	switch {
	case err == nil && len(result.Plans) > 0:
		return advice{also: andAt(other, twin, result.Plans[0])}
	case err == nil && !other.late:
		return advice{fails: true}
	}
	return advice{also: notTried}
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
