package queries

import (
	"slices"
	"time"

	"matewell/queries/plan"
)

// mostCombinations is how many combinations of options one demand may have. A
// demand with more is one no machine has; options that mate with nothing next
// to them are left out before it comes to that.
const mostCombinations = 60000

// solve grows the problem until a smallest plan takes nothing that was not
// looked at. What was not looked at costs the least it could and mates with
// everything, so such a plan is a smallest one of the whole graph too.
func (p *planner) solve() (plan.Result, error) {
	for _, id := range keysOf(p.fixed) {
		p.add(&donorSlot{at: id, options: []donorOption{p.fixed[id]}, fixed: true})
	}
	var last plan.Result
	var known *grown
	for {
		if err := p.build(); err != nil {
			return last, err
		}
		if p.late {
			return p.outOfTime(known)
		}
		result, err := plan.Solve(p.ctx, p.problem, plan.Options{Deadline: p.left(), Prefer: p.q.Prefer, All: true})
		if err != nil {
			return last, err
		}
		open := p.openSlots(result)
		if len(open) == 0 && result.Proved {
			return p.counted(result), nil
		}
		known = p.keepGrown()
		if err := p.findBound(known); err != nil {
			return last, err
		}
		if time.Now().After(p.end) {
			return p.outOfTime(known)
		}
		if err := p.grow(open); err != nil {
			return last, err
		}
	}
}

// left is the time left to look.
func (p *planner) left() time.Duration { return max(time.Millisecond, time.Until(p.end)) }

// grown is a problem as far as it had grown, to fall back to when the next step
// takes too long.
type grown struct {
	slots   []donorSlot
	demands []*demand
	problem plan.Problem
}

func (p *planner) keepGrown() *grown {
	slots := mapped(p.slots, func(s *donorSlot) donorSlot {
		one := *s
		one.options = slices.Clone(s.options)
		return one
	})
	return &grown{slots: slots, demands: p.demands, problem: p.problem}
}

// openSlots are the slots where a plan takes something that was not looked at.
func (p *planner) openSlots(r plan.Result) []*donorSlot {
	var open []*donorSlot
	for _, one := range r.Plans {
		for i, choice := range one.Choice {
			if s := p.slots[i]; s.options[choice].other && !slices.Contains(open, s) {
				open = append(open, s)
			}
		}
	}
	return open
}

// counted keeps one plan of several unless all are asked for.
func (p *planner) counted(r plan.Result) plan.Result {
	if !p.q.All && len(r.Plans) > 1 {
		r.Plans = r.Plans[:1]
	}
	return r
}

// findBound looks for a plan of what was looked at so far: nothing that costs
// more need be looked at.
func (p *planner) findBound(known *grown) error {
	closed, _ := known.closed()
	r, err := plan.Solve(p.ctx, closed, plan.Options{Deadline: p.left(), Prefer: p.q.Prefer})
	if len(r.Plans) > 0 && (p.bound == nil || r.Plans[0].Cost.Less(*p.bound, p.q.Prefer)) {
		p.bound = &r.Plans[0].Cost
	}
	return err
}

// closed is the problem without what was not looked at.
func (g *grown) closed() (plan.Problem, []*demand) {
	problem := plan.Problem{Slots: g.problem.Slots, Demands: slices.Clone(g.problem.Demands)}
	demands := slices.Clone(g.demands)
	for i, s := range g.slots {
		for j, o := range s.options {
			if o.other {
				problem.Demands = append(problem.Demands, allBut(i, j, len(s.options)))
				demands = append(demands, &demand{ways: make([]donorWay, len(s.options)-1)})
			}
		}
	}
	return problem, demands
}

// outOfTime takes the best of what was looked at, in the tenth of the time by
// which a deadline may be passed.
func (p *planner) outOfTime(known *grown) (plan.Result, error) {
	took := p.q.Time + time.Since(p.end)
	if p.ctx.Err() != nil || known == nil {
		return plan.Result{Took: took}, p.ctx.Err()
	}
	p.slots = mapped(known.slots, func(s donorSlot) *donorSlot { return &s })
	p.problem, p.demands = known.closed()
	best, err := plan.Solve(p.ctx, p.problem, plan.Options{Deadline: max(time.Millisecond, p.q.Time/20), Prefer: p.q.Prefer})
	best.Proved, best.Clash, best.EqualAtLeast, best.Took = false, nil, true, took
	return best, err
}

// allBut is the demand that a slot takes anything but one option.
func allBut(slot, option, options int) plan.Demand {
	d := plan.Demand{Name: "only what was looked at", Slots: []int{slot}}
	for o := range options {
		if o != option {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{o}})
		}
	}
	return d
}

// build makes the problem of the slots, adding those that a demand reaches.
func (p *planner) build() error {
	if err := p.gather(); err != nil {
		return err
	}
	for {
		reached := p.enumerate()
		if p.fault != nil || p.late {
			return p.fault
		}
		added := false
		for _, id := range reached {
			added = p.addSlot(id) || added
		}
		if !added {
			break
		}
	}
	p.problem = plan.Problem{}
	for _, s := range p.slots {
		slot := plan.Slot{Name: s.at.Local()}
		for _, o := range s.options {
			slot.Options = append(slot.Options, plan.Option{Name: optionName(o), Cost: o.cost})
		}
		p.problem.Slots = append(p.problem.Slots, slot)
	}
	p.demands = kept(p.demands, func(d *demand) bool { return !d.holdsAnyway })
	for _, d := range p.demands {
		one := plan.Demand{Name: d.what + " " + localName(d.id), Slots: d.slots}
		for i, way := range d.ways {
			one.Allowed = append(one.Allowed, plan.Combination{Options: d.options[i], Name: way.name, Cost: way.cost})
		}
		p.problem.Demands = append(p.problem.Demands, one)
	}
	return nil
}

func optionName(o donorOption) string {
	switch {
	case o.part != "":
		return string(o.part) + " (" + o.from + ")"
	case o.other:
		return "something else, which nobody looked at"
	}
	return "nothing (" + o.from + ")"
}
