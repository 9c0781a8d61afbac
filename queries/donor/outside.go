package donor

import (
	"slices"

	"matewell/queries/lists"
	"matewell/queries/plan"
)

// outside is what all costs at least that is not at some slots of a demand: what those
// cost comes on top. Of an axle with a dozen spacers on either side few combinations are
// left to judge by it, since what else comes with the wheel leaves no money for them.
type outside struct {
	slots []int // of the planner
	cost  plan.Cost
}

// mostOutside is how many slots of a demand, those with the most options, are left out
// where it is worked out what all else costs.
const mostOutside = 2

// outsideOf works that out for a wide demand from those that were enumerated before it; nil
// where it would not help. The effort of a plan is no sum: where all else may be done by
// easier work than the plan that is known, nothing can be said of its parts.
func outsideOf(p *planner, d *demand, done []*demand, alive [][]bool) (*outside, error) {
	if p.plain || p.bound == nil || p.q.Prefer != plan.PreferEffort || size(p, d, alive) < manyCombinations {
		return nil, nil
	}
	slots := slices.Clone(d.slots)
	slices.SortStableFunc(slots, func(a, b int) int { return countOf(alive[b]) - countOf(alive[a]) })
	x := &outside{slots: slots[:min(len(slots), mostOutside)]}
	problem := plan.Problem{Slots: lists.Mapped(p.slots, func(s *donorSlot) plan.Slot {
		if x.holds(p.slotAt[s.at]) {
			return plan.Slot{Options: []plan.Option{{}}}
		}
		return plan.Slot{Options: lists.Mapped(s.options,
			func(o donorOption) plan.Option { return plan.Option{Cost: o.cost} })}
	})}
	for _, other := range done {
		if !other.holdsAnyway && !slices.ContainsFunc(other.slots, x.holds) {
			problem.Demands = append(problem.Demands, other.asked(""))
		}
	}
	result, err := plan.Solve(p.asked, problem, plan.Options{Deadline: p.ctx.left(), NoClash: true, Stop: p.q.Stop})
	if err != nil || len(result.Plans) == 0 || !result.Proved {
		return nil, err
	}
	x.cost = result.Plans[0].Cost
	if x.cost.Unknowns != p.bound.Unknowns || x.cost.Effort != p.bound.Effort {
		return nil, nil
	}
	return x, nil
}

func countOf(alive []bool) int {
	return len(lists.Kept(slices.Clone(alive), func(ok bool) bool { return ok }))
}

// holds reports whether a slot is one of those that are left out.
func (x *outside) holds(slot int) bool { return slices.Contains(x.slots, slot) }

// with is what a plan costs at least with one more option, at a slot, than with those
// that made it cost so much until now.
func (x *outside) with(until plan.Cost, slot int, option plan.Cost) plan.Cost {
	if x == nil || !x.holds(slot) {
		return until
	}
	return until.Plus(option)
}

// start is what a plan costs at least before anything is chosen.
func (x *outside) start() plan.Cost {
	if x == nil {
		return plan.Cost{}
	}
	return x.cost
}
