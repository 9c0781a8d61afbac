package plan

import "context"

// mostClauses is where a piece's sum turns from a unary tree, which the solver
// sees through best, to binary numbers, which stay small.
const mostClauses = 60_000

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
		groups, base, unit := w.weights(l)
		value := (w.cost.at(l) - base) / unit
		if value == 0 {
			w.forbid(groups)
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
				value = (w.cost.at(l) - base) / unit
			} else {
				least = target + 1
			}
		}
		bounded.below(&w.clauses, value)
	}
	return nil
}

// forbid rules out everything that weighs anything.
func (w *dense) forbid(groups []terms) {
	for _, g := range groups {
		for _, t := range g {
			w.add(-t.literal)
		}
	}
}

// aim is the next sum to try between the least that is still possible and the
// one had: close by, since a near miss is proved fastest, and half-way where
// the gap is wide.
func aim(least, value int) int {
	if value-least > 32 {
		return (least + value) / 2
	}
	return value - 1
}

// sum is a total in clauses that can be held below a bound.
type sum interface {
	below(c *clauses, bound int)
}

// bound writes the sum of groups as clauses, fit to tell totals up to limit
// apart.
func (w *dense) bound(groups []terms, limit int) sum {
	mark, vars := len(w.list), w.vars
	if n, ok := w.total(groups, limit, mark+mostClauses); ok {
		return n
	}
	w.list, w.vars = w.list[:mark], vars
	return w.binary(groups)
}

// weights is what each thing costs at a level above the least of its group,
// divided by what all of that can be divided by; base is the sum of the least.
func (w *dense) weights(l level) (groups []terms, base, unit int) {
	for _, g := range w.groups() {
		if len(g.costs) == 0 {
			continue
		}
		least := g.costs[0].at(l)
		for _, c := range g.costs {
			least = min(least, c.at(l))
		}
		base += least
		var t terms
		for i, c := range g.costs {
			if extra := c.at(l) - least; extra > 0 {
				t = append(t, term{g.literals[i], extra})
				unit = gcd(unit, extra)
			}
		}
		if len(t) > 0 {
			groups = append(groups, t)
		}
	}
	base += w.settled.at(l)
	unit = max(unit, 1)
	for _, g := range groups {
		for i := range g {
			g[i].weight /= unit
		}
	}
	return groups, base, unit
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
