package plan

import (
	"context"
	"math/rand/v2"
	"slices"
)

// How improve goes about it. By count, not by time, so that what comes before a
// proof is the same in every run.
const (
	mostFree     = 40      // slots let go of at once
	improveSteps = 200_000 // what the tables of one neighbourhood may take
	patience     = 60      // neighbourhoods in a row without a gain before the proof is tried
)

// improver makes a plan cheaper bit by bit: it lets go of a few slots that meet
// one another, holds all others, and settles those few exactly (large
// neighbourhood search). A plan that no neighbourhood makes cheaper may still
// not be a cheapest one.
type improver struct {
	r      *room
	plan   Plan
	open   []int // slots that have a choice and are not settled exactly already
	rnd    *rand.Rand
	budget int        // no plan may cost more money; zero is no limit
	better func(Plan) // told of each plan that is cheaper than all before; may be nil
}

// newImprover starts from a plan that holds. Only the slots named are let go of.
func newImprover(r *room, from Plan, open []int, better func(Plan)) *improver {
	from.Choice, from.Through = slices.Clone(from.Choice), slices.Clone(from.Through)
	return &improver{r: r, plan: from, open: open, better: better,
		rnd: rand.New(rand.NewPCG(uint64(len(open)), 7))}
}

// until looks for gains until the context ends, or, when rounds is not zero,
// until that many neighbourhoods in a row gave none.
func (m *improver) until(ctx context.Context, rounds int) {
	size := 2
	for idle := 0; len(m.open) > 0 && ctx.Err() == nil && (rounds == 0 || idle < rounds); {
		if m.round(ctx, size) {
			idle = 0
			continue
		}
		idle++
		if size += 1 + size/8; size > mostFree { // what a small one does not find, a larger one may
			size = 2
		}
	}
}

// round tries one neighbourhood of at most so many slots and reports a gain.
func (m *improver) round(ctx context.Context, size int) bool {
	n := m.around(m.pick(size))
	r := newRoom(&n.problem, m.r.prefer)
	if ok, err := r.reduce(ctx); err != nil || !ok {
		return false
	}
	s := newSearch(r, improveSteps)
	if s.tangled() || s.run(ctx) != nil {
		return false
	}
	next := n.into(m.plan, s.best())
	cost, err := m.r.p.costOf(next.Choice, next.Through)
	if err != nil || !cost.Less(m.plan.Cost, m.r.prefer) || m.budget > 0 && cost.Money > m.budget {
		return false
	}
	next.Cost = cost
	m.plan = next
	if m.better != nil {
		m.better(next)
	}
	return true
}

// pick is a slot taken at random and those that it meets, and those meet, up to
// a number.
func (m *improver) pick(size int) []int {
	free := []int{m.open[m.rnd.IntN(len(m.open))]}
	in := map[int]bool{free[0]: true}
	for at := 0; at < len(free) && len(free) < size; at++ {
		met := met(m.r, free[at])
		m.rnd.Shuffle(len(met), func(i, j int) { met[i], met[j] = met[j], met[i] })
		for _, s := range met {
			if !in[s] && len(free) < size {
				in[s] = true
				free = append(free, s)
			}
		}
	}
	slices.Sort(free)
	return free
}

// met are the open slots that share a demand with a slot, each once, sorted.
func met(r *room, slot int) []int {
	var met []int
	for _, d := range r.demands[slot] {
		for _, s := range r.p.Demands[d].Slots {
			if s != slot && r.open(s) {
				met = append(met, s)
			}
		}
	}
	slices.Sort(met)
	return slices.Compact(met)
}

// neighbourhood is the problem of a few slots while all others stay as a plan
// has them. Its last slot stands for those others: it has the effort class that
// they need anyway.
type neighbourhood struct {
	problem Problem
	slots   []int   // by slot of the problem, but the last: the slot it is
	options [][]int // the option it is
	demands []int   // by demand of the problem: the demand it is
	through [][]int // the combination it is
}

// around makes the problem of some slots, sorted.
func (m *improver) around(free []int) neighbourhood {
	n := neighbourhood{slots: free}
	at := map[int]int{}
	for i, s := range free {
		at[s] = i
		slot := Slot{}
		for _, o := range m.r.options[s] {
			slot.Options = append(slot.Options, m.r.p.Slots[s].Options[o])
		}
		n.problem.Slots, n.options = append(n.problem.Slots, slot), append(n.options, m.r.options[s])
		n.demands = append(n.demands, m.r.demands[s]...)
	}
	slices.Sort(n.demands)
	n.demands = slices.Compact(n.demands)
	for _, d := range n.demands {
		demand, through := m.seen(d, at)
		n.problem.Demands, n.through = append(n.problem.Demands, demand), append(n.through, through)
	}
	n.problem.Slots = append(n.problem.Slots, Slot{Options: []Option{{Cost: Cost{Effort: m.effortOutside(at,
		n.demands)}}}})
	return n
}

// seen is a demand as the free slots see it, and which of its combinations each
// of what it allows there is.
func (m *improver) seen(demand int, at map[int]int) (out Demand, through []int) {
	d := m.r.p.Demands[demand]
	for _, s := range d.Slots {
		if i, free := at[s]; free {
			out.Slots = append(out.Slots, i)
		}
	}
	for _, c := range m.r.allowed[demand] {
		var options []int
		holds := true
		for k, s := range d.Slots {
			if _, free := at[s]; free {
				i, found := slices.BinarySearch(m.r.options[s], d.Allowed[c].Options[k])
				holds = holds && found
				options = append(options, i)
			} else {
				holds = holds && m.plan.Choice[s] == d.Allowed[c].Options[k]
			}
		}
		if holds {
			out.Allowed, through = append(out.Allowed, Combination{Options: options, Cost: d.Allowed[c].Cost}), append(through,
				c)
		}
	}
	return out, through
}

// effortOutside is the highest effort class of all that stays.
func (m *improver) effortOutside(free map[int]int, demands []int) int {
	class := 0
	for s, o := range m.plan.Choice {
		if _, is := free[s]; !is {
			class = max(class, m.r.p.Slots[s].Options[o].Cost.Effort)
		}
	}
	for d, c := range m.plan.Through {
		if _, touched := slices.BinarySearch(demands, d); !touched {
			class = max(class, m.r.p.Demands[d].Allowed[c].Cost.Effort)
		}
	}
	return class
}

// into is a plan with what was found for the neighbourhood in it.
func (n neighbourhood) into(p Plan, found Plan) Plan {
	next := Plan{Choice: slices.Clone(p.Choice), Through: slices.Clone(p.Through)}
	for i, s := range n.slots {
		next.Choice[s] = n.options[i][found.Choice[i]]
	}
	for i, d := range n.demands {
		next.Through[d] = n.through[i][found.Through[i]]
	}
	return next
}
