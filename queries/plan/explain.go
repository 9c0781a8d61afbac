package plan

import (
	"context"
	"errors"
	"slices"
	"time"
)

// Clash is why there is no plan.
type Clash struct {
	// Demands can't hold together, whatever else is given up; sorted.
	Demands []int
	// Smallest is true when no fewer demands clash anywhere in the problem.
	Smallest bool
	// Minimal is true when the clash goes away with any one of Demands left
	// out; Smallest implies it. Both are false only when time ran out.
	Minimal bool
	// Open are those of Demands which, any one of them met in some new way,
	// would let a plan exist: where an adapter or a measurement opens the way.
	Open []int
}

// mostRounds is how long explain looks for a smallest clash before it takes a
// minimal one.
const mostRounds = 200

// explain finds a smallest clash among the demands of a problem without a plan.
//
// It guesses the smallest set that takes one demand out of every set known to
// be enough to give up (Reiter's hitting sets). If the guess clashes, nothing
// smaller can; if not, growing it to a largest set that holds shows another set
// to give up. After mostRounds guesses, or near the end of the time, it leaves
// out demands one by one instead.
func explain(ctx context.Context, whole *Problem) (*Clash, error) {
	p, names := tight(whole)
	half, cancel := partOf(ctx, 2)
	defer cancel()
	c, err := smallestClash(half, p, mostRounds)
	if c == nil && (err == nil || ctx.Err() == nil && errors.Is(err, context.DeadlineExceeded)) {
		c, err = minimalClash(ctx, p)
	}
	if c != nil && err == nil {
		err = c.open(ctx, p)
	}
	return c.named(names), err
}

// tight is a problem without the demands that hold whatever is chosen, which are in no
// clash, and what the others are called in the whole.
func tight(p *Problem) (*Problem, []int) {
	less := &Problem{Slots: p.Slots}
	var names []int
	for i, d := range p.Demands {
		if !isLoose(p, d) {
			less.Demands, names = append(less.Demands, d), append(names, i)
		}
	}
	return less, names
}

// isLoose reports whether a demand surely holds whatever is chosen: it allows as many
// different choices as there are.
func isLoose(p *Problem, d Demand) bool {
	all := 1
	for _, s := range d.Slots {
		if all *= len(p.Slots[s].Options); all > len(d.Allowed) {
			return false
		}
	}
	held := make([]bool, all)
	for _, c := range d.Allowed {
		index := 0
		for k, o := range c.Options {
			index = index*len(p.Slots[d.Slots[k]].Options) + o
		}
		held[index] = true
	}
	return !slices.Contains(held, false)
}

// named is the clash with its demands called otherwise; nil stays nil.
func (c *Clash) named(names []int) *Clash {
	if c == nil {
		return nil
	}
	for _, list := range [][]int{c.Demands, c.Open} {
		for i, d := range list {
			list[i] = names[d]
		}
	}
	return c
}

// ClashIn is why a problem has no plan, found in so many guesses at a smallest clash, or
// else one by one: however slow the machine is, the same problem gives the same clash.
// It is nil when there is a plan. Open is left out. Errors are those of Solve.
func ClashIn(ctx context.Context, whole Problem, guesses int) (*Clash, error) {
	if err := whole.check(); err != nil {
		return nil, err
	}
	p, names := tight(&whole)
	if met, err := p.holds(ctx, upTo(len(p.Demands))); met != nil || err != nil {
		return nil, err
	}
	c, err := smallestClash(ctx, p, guesses)
	if c == nil && err == nil {
		c, err = minimalClash(ctx, p)
	}
	return c.named(names), err
}

// partOf is the context with one n-th of the time that is left, where there is
// a limit.
func partOf(ctx context.Context, n int) (context.Context, context.CancelFunc) {
	if end, limited := ctx.Deadline(); limited {
		return context.WithTimeout(ctx, time.Until(end)/time.Duration(n))
	}
	return context.WithCancel(ctx)
}

// smallestClash gives nil when it has to give up, after so many guesses.
func smallestClash(ctx context.Context, p *Problem, guesses int) (*Clash, error) {
	var giveUp [][]int
	for range guesses {
		guess, err := smallestHit(ctx, giveUp)
		if err != nil {
			return nil, err
		}
		met, err := p.holds(ctx, guess)
		if err != nil {
			return nil, err
		}
		if met == nil {
			return &Clash{Demands: guess, Smallest: true, Minimal: true}, nil
		}
		if met, err = largest(ctx, p, met); err != nil {
			return nil, err
		}
		giveUp = append(giveUp, without(upTo(len(p.Demands)), met))
	}
	return nil, nil
}

func allows(d Demand, choice []int) bool {
	return slices.ContainsFunc(d.Allowed, func(c Combination) bool {
		for k, s := range d.Slots {
			if choice[s] != c.Options[k] {
				return false
			}
		}
		return true
	})
}

// largest adds demands to a set that holds until no other can be added.
func largest(ctx context.Context, p *Problem, met []int) ([]int, error) {
	for _, d := range upTo(len(p.Demands)) {
		if slices.Contains(met, d) {
			continue
		}
		more, err := p.holds(ctx, append(slices.Clone(met), d))
		if err != nil {
			return nil, err
		}
		if more != nil {
			met = more
		}
	}
	return met, nil
}

// smallestHit is a smallest set with a member of every given set.
func smallestHit(ctx context.Context, sets [][]int) ([]int, error) {
	var c clauses
	variable, names := map[int]int{}, []int{}
	var groups []terms
	for _, set := range sets {
		var clause []int
		for _, d := range set {
			if variable[d] == 0 {
				variable[d] = c.fresh()
				names = append(names, d)
				groups = append(groups, terms{{variable[d], 1}})
			}
			clause = append(clause, variable[d])
		}
		c.add(clause...)
	}
	n, _ := totalOf(&c, groups, len(names), 1<<30)
	hit := names
	for len(hit) > 0 {
		n.below(&c, len(hit)-1)
		model, err := c.solve(ctx, nil)
		if err != nil {
			return nil, err
		}
		if model == nil {
			break
		}
		hit = nil
		for i, d := range names {
			if model[i] { // the names have the first variables
				hit = append(hit, d)
			}
		}
	}
	slices.Sort(hit)
	return hit, nil
}

// minimalClash leaves out demands while what stays still clashes. When the time
// runs out it gives what it has.
func minimalClash(ctx context.Context, p *Problem) (*Clash, error) {
	core := upTo(len(p.Demands))
	for _, d := range upTo(len(p.Demands)) {
		less := without(core, []int{d})
		met, err := p.holds(ctx, less)
		if err != nil {
			return &Clash{Demands: core}, err
		}
		if met == nil {
			core = less
		}
	}
	return &Clash{Demands: core, Minimal: true}, nil
}

// open fills in Open; when the time runs out it holds what is known by then.
func (c *Clash) open(ctx context.Context, p *Problem) error {
	for _, d := range c.Demands {
		met, err := p.holds(ctx, without(upTo(len(p.Demands)), []int{d}))
		if err != nil {
			return err
		}
		if met != nil {
			c.Open = append(c.Open, d)
		}
	}
	return nil
}

func without(list, drop []int) []int {
	gone := set(drop)
	return slices.DeleteFunc(slices.Clone(list), func(d int) bool { return gone[d] })
}
