package queries

import (
	"context"
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
	ctx, cancel := context.WithTimeout(p.ctx, p.q.Time)
	defer cancel()
	start := time.Now()
	var best plan.Result
	for {
		if err := p.build(); err != nil {
			return best, err
		}
		left := max(time.Millisecond, p.q.Time-time.Since(start))
		result, err := plan.Solve(p.ctx, p.problem, plan.Options{Deadline: left, Prefer: p.q.Prefer, All: true})
		if err != nil {
			return best, err
		}
		result.Took = time.Since(start)
		open := p.openSlots(result)
		if len(open) == 0 {
			return p.counted(result), nil
		}
		if ctx.Err() != nil {
			return p.outOfTime(result), nil
		}
		if err := p.grow(open); err != nil {
			return best, err
		}
	}
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

// outOfTime closes what was not looked at and takes the best that is left.
func (p *planner) outOfTime(r plan.Result) plan.Result {
	for i, s := range p.slots {
		for j, o := range s.options {
			if o.other {
				p.problem.Demands = append(p.problem.Demands, allBut(i, j, len(s.options)))
			}
		}
	}
	best, err := plan.Solve(p.ctx, p.problem, plan.Options{Deadline: p.q.Time / 10, Prefer: p.q.Prefer})
	if err != nil {
		best = plan.Result{}
	}
	best.Proved, best.Clash, best.EqualAtLeast, best.Took = false, nil, true, r.Took
	return best
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
		if p.fault != nil {
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
