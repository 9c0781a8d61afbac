package plan

// mostClauses is where a piece's sum turns from a unary tree, which the solver
// sees through best, to binary numbers, which stay small.
const mostClauses = 60_000

// forbid rules out everything that weighs anything.
func forbid(w *dense, groups []terms) {
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

// weights is what each thing costs at a level above the least of its group,
// divided by what all of that can be divided by; base is the sum of the least.
func weights(w *dense, l level) (groups []terms, base, unit int) {
	for _, g := range w.groups() {
		if len(g.costs) == 0 {
			continue
		}
		least := at(g.costs[0], l)
		for _, c := range g.costs {
			least = min(least, at(c, l))
		}
		base += least
		var t terms
		for i, c := range g.costs {
			if extra := at(c, l) - least; extra > 0 {
				t = append(t, term{g.literals[i], extra})
				unit = gcd(unit, extra)
			}
		}
		if len(t) > 0 {
			groups = append(groups, t)
		}
	}
	base += at(w.settled, l)
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
