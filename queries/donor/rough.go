package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// narrowness is what a rough plan may put at a place besides what is there.
type narrowness int

const (
	anyPart    narrowness = iota // all there is: no rough plan
	donorsOnly                   // what the donor has, and what lies in boxes and offers
	listedOnly                   // what some list has at a place of that name besides
)

// mostRounds is how often a rough problem is widened before it is given up.
const mostRounds = 12

// fewCombinations is up to how many combinations of one demand are all tried for a
// rough plan. Of more, those are that have the parts of one machine all but one.
const fewCombinations = 64

// roughPlan looks for some plan at once, as a mechanic would: what touches comes over
// from the donor too, the rest is made. It is a plan like any other, so that it is a
// fall-back, and its size bounds all that is looked at for a better one; its money does
// not, since what has no price counts more the more parts are known.
func roughPlan(p *planner) error {
	if p.plain || p.most > 0 { // of a piece of advice a few judgements decide
		return nil
	}
	for _, from := range []narrowness{donorsOnly, listedOnly} {
		if from == donorsOnly && p.donor == nil && len(p.lots) == 0 {
			continue
		}
		n := roughPlanner(p, from)
		err := tryRough(n)
		if n.known != nil {
			size := *n.bound
			size.Money, size.Distance = plan.MostTotal, plan.MostTotal
			p.known, p.bound, p.told = n.known, &size, n.told
		}
		if err != nil || n.known != nil {
			return err
		}
	}
	return nil
}

// roughPlanner is a planner of the same task, with slots of its own. What was judged it
// shares, but for what was tried by slots.
func roughPlanner(p *planner, from narrowness) *planner {
	n := plannerWith(p.task, p.memory.shared(), p.ctx)
	n.notes, n.narrow, n.told = nil, from, p.told
	return n
}

// tryRough widens a rough problem, where something can't hold, until it has a plan, or
// there is nothing to widen it with.
func tryRough(p *planner) error {
	if err := addGoals(p); err != nil {
		return err
	}
	for range mostRounds {
		if p.ctx.isNearlyOver() {
			return nil
		}
		stuck, err := roughRound(p)
		if err != nil || p.known != nil {
			return err
		}
		var fresh []*donorSlot
		for _, id := range stuck {
			if addSlot(p, id) {
				fresh = append(fresh, p.slots[p.slotAt[id]])
			}
		}
		if len(fresh) == 0 && p.wide {
			return nil
		}
		if len(fresh) == 0 { // then what might hold better is looked at too
			p.wide, p.trials = true, map[string]map[string]*trial{}
			continue
		}
		if err := grow(p, fresh); err != nil {
			return err
		}
	}
	return nil
}

// roughRound looks for a plan of the problem as it is; without one it gives the places
// of what does not hold with some of the parts.
func roughRound(p *planner) ([]graph.PositionID, error) {
	if err := gather(p); err != nil {
		return nil, err
	}
	stuck := enumerateWith(p, false)
	if err := cmp.Or(p.fault, p.ctx.Err()); err != nil {
		return nil, err
	}
	for _, d := range p.demands {
		if len(d.ways) == 0 {
			return lists.Unique(append(stuck, d.Places...)), nil
		}
	}
	p.problem, p.demands = assembled(p)
	return stuck, solveClosed(p, p.problem, p.demands)
}

// straightChoices goes through the choices that have the first option alive at every
// slot, or the last, all but one.
func straightChoices(d *demand, alive [][]bool, try func(choice []int, cost plan.Cost)) {
	tried := map[string]bool{}
	once := func(choice []int) {
		key := make([]byte, 0, 2*len(choice))
		for _, o := range choice {
			key = append(key, byte(o), byte(o>>8))
		}
		if !tried[string(key)] {
			tried[string(key)] = true
			try(choice, plan.Cost{})
		}
	}
	options := make([][]int, len(d.slots))
	for k, i := range d.slots {
		if options[k] = indexesOf(alive[i], func(ok bool) bool { return ok }); len(options[k]) == 0 {
			return
		}
	}
	for _, end := range []func([]int) int{slices.Min[[]int], slices.Max[[]int]} {
		base := lists.Mapped(options, end)
		for k := range base {
			for _, o := range options[k] {
				choice := slices.Clone(base)
				choice[k] = o
				once(choice)
			}
		}
	}
}

// slotsAt are the slots by their places.
func slotsAt(slots []*donorSlot) map[graph.PositionID]int {
	at := map[graph.PositionID]int{}
	for i, s := range slots {
		at[s.at] = i
	}
	return at
}
