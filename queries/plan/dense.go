package plan

import (
	"context"
	"errors"
)

// dense is a piece whose demands are too tangled for elimination: it goes to
// the solver as clauses.
type dense struct {
	*encoding
	floor Cost // no choice for the piece costs less, level by level
}

// mostLiterals is how large a piece may be to be written as clauses: some 150 MB
// with what the solver makes of them. A larger one is only improved.
const mostLiterals = 1_500_000

// write writes the clauses when they are first asked for; errEnough when they
// would be too many.
func (w *dense) write(ctx context.Context) error {
	if w.written {
		return nil
	}
	size := 0
	for _, d := range w.piece.demands {
		if size += len(w.r.allowed[d]) * (2*len(w.r.p.Demands[d].Slots) + 1); size > mostLiterals {
			return errEnough
		}
	}
	w.written = true
	return w.encode(ctx)
}

// try keeps a choice under the clauses as they are: the first one put together
// slot by slot where that works, any other from the solver.
func (w *dense) try(ctx context.Context) (bool, error) {
	if !w.found && construct(ctx, &w.encoding.part) {
		return true, nil
	}
	if err := w.write(ctx); err != nil {
		return false, err
	}
	model, err := w.solve(ctx, nil)
	if model == nil || err != nil {
		return false, err
	}
	w.read(model, w.kept)
	w.keep()
	return true, nil
}

func (w *dense) leastEffort(ctx context.Context, have int) (int, error) {
	if err := w.write(ctx); err != nil {
		return 0, err
	}
	classes := w.classes()
	have = max(have, w.settled.Effort)
	for w.cost.Effort > have {
		next := have // the highest class in use below what the choice has now
		for _, c := range classes {
			if c < w.cost.Effort {
				next = max(next, c)
			}
		}
		mark := len(w.list)
		w.forbidAbove(next)
		ok, err := w.try(ctx)
		w.list = w.list[:mark]
		if err != nil {
			return 0, err
		}
		if !ok {
			return w.cost.Effort, nil
		}
	}
	return w.cost.Effort, nil
}

// forbidAbove rules out everything above an effort class.
func (w *dense) forbidAbove(class int) {
	w.each(func(literal int, c Cost) {
		if c.Effort > class {
			w.add(-literal)
		}
	})
}

// each calls f for everything in the piece that is open, with its literal.
func (w *dense) each(f func(literal int, c Cost)) {
	for _, g := range w.groups() {
		for i, l := range g.literals {
			f(l, g.costs[i])
		}
	}
}

// group is a slot's options or a demand's combinations: exactly one holds.
type group struct {
	literals []int
	costs    []Cost
}

func (w *dense) groups() []group {
	var out []group
	for _, s := range w.piece.slots {
		var g group
		for _, o := range w.r.options[s] {
			if v, open := w.option[[2]int{s, o}]; open {
				g.literals, g.costs = append(g.literals, v), append(g.costs, w.r.p.Slots[s].Options[o].Cost)
			}
		}
		out = append(out, g)
	}
	for _, d := range w.piece.demands {
		var g group
		for _, c := range w.r.allowed[d] {
			if v, ok := w.through[[2]int{d, c}]; ok {
				g.literals, g.costs = append(g.literals, v), append(g.costs, w.r.p.Demands[d].Allowed[c].Cost)
			}
		}
		out = append(out, g)
	}
	return out
}

// countBudget is how many clauses the solver may learn while it counts the ties
// of one piece: a second or so.
const countBudget = 10_000

// alternatives asks the solver again and again, each time without the choices
// it has given.
func (w *dense) alternatives(ctx context.Context) (found []Plan, count int, open bool, err error) {
	found = []Plan{w.copy()}
	mark := len(w.list)
	defer func() { w.list = w.list[:mark] }()
	budget := countBudget
	for len(found) < mostCounted {
		w.add(w.but(found[len(found)-1])...)
		model, err := w.solve(ctx, &budget)
		if errors.Is(err, errEnough) {
			return found, len(found), true, nil
		}
		if model == nil || err != nil {
			return found, len(found), err != nil, err
		}
		next := w.copy()
		w.read(model, &next)
		found = append(found, next)
	}
	return found, len(found), true, nil
}

// but is the clause that rules out one choice.
func (w *dense) but(p Plan) []int {
	var clause []int
	for _, s := range w.piece.slots {
		if v, open := w.option[[2]int{s, p.Choice[s]}]; open {
			clause = append(clause, -v)
		}
	}
	for _, d := range w.piece.demands {
		if v, ok := w.through[[2]int{d, p.Through[d]}]; ok {
			clause = append(clause, -v)
		}
	}
	return clause
}

// descend presses the piece's sums down, one level after the other, and leaves
// each at its least by clauses that stay.
func (w *dense) descend(ctx context.Context, levels []level) error {
	if err := w.write(ctx); err != nil {
		return err
	}
	for _, l := range levels {
		if err := ctx.Err(); err != nil {
			return err
		}
		groups, base, unit := weights(w, l)
		value := (at(w.cost, l) - base) / unit
		if value == 0 {
			forbid(w, groups)
			continue
		}
		bounded := w.bound(groups, value)
		least := 0
		for least < value {
			target := aim(least, value)
			mark := len(w.list)
			bounded.below(&w.clauses, target)
			ok, err := w.try(ctx)
			w.list = w.list[:mark]
			if err != nil {
				return err
			}
			if ok {
				value = (at(w.cost, l) - base) / unit
			} else {
				least = target + 1
			}
		}
		bounded.below(&w.clauses, value)
	}
	return nil
}

// bound writes the sum of groups as clauses, fit to tell totals up to limit
// apart.
func (w *dense) bound(groups []terms, limit int) sum {
	mark, vars := len(w.list), w.vars
	if n, ok := totalOf(&w.encoding.clauses, groups, limit, mark+mostClauses); ok {
		return n
	}
	w.list, w.vars = w.list[:mark], vars
	return addBinary(&w.encoding.clauses, groups)
}
