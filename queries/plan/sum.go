package plan

import "slices"

// terms is the costs of one thing at one level, of which exactly one holds:
// literal by weight, weights above zero, what weighs nothing left out.
type terms []term

type term struct{ literal, weight int }

// node is a sum of weights: for each total it may reach, a variable that holds
// at least when the inputs add up to it. Totals past the limit share the last
// variable, at limit+1.
type node []term // sorted by weight

// totalOf adds up groups of terms in clauses, as a balanced tree over the groups
// in the order given (a generalised totaliser). Only "inputs hold, so the
// output holds" is written, which is all an upper bound needs. It gives up,
// with false, once more than room clauses were written.
func totalOf(c *clauses, groups []terms, limit, room int) (node, bool) {
	if len(groups) == 0 {
		return nil, true
	}
	if len(groups) == 1 {
		return leaf(c, groups[0], limit), true
	}
	half := len(groups) / 2
	a, ok1 := totalOf(c, groups[:half], limit, room)
	b, ok2 := totalOf(c, groups[half:], limit, room)
	if !ok1 || !ok2 || len(c.list)+len(a)*len(b) > room {
		return nil, false
	}
	return merge(c, a, b, limit), true
}

// leaf gives every weight of a group one variable.
func leaf(c *clauses, group terms, limit int) node {
	by := map[int][]int{}
	for _, t := range group {
		w := min(t.weight, limit+1)
		by[w] = append(by[w], t.literal)
	}
	var out node
	for w, literals := range by {
		out = append(out, term{literals[0], w})
	}
	slices.SortFunc(out, func(a, b term) int { return a.weight - b.weight })
	for i, t := range out {
		if literals := by[t.weight]; len(literals) > 1 {
			out[i].literal = c.fresh()
			for _, l := range literals {
				c.add(-l, out[i].literal)
			}
		}
	}
	return out
}

func merge(c *clauses, a, b node, limit int) node {
	sums := map[int]bool{}
	for _, x := range append(node{{0, 0}}, a...) {
		for _, y := range append(node{{0, 0}}, b...) {
			sums[min(x.weight+y.weight, limit+1)] = true
		}
	}
	delete(sums, 0)
	var out node
	at := map[int]int{}
	for s := range sums {
		out = append(out, term{0, s})
	}
	slices.SortFunc(out, func(a, b term) int { return a.weight - b.weight })
	for i := range out {
		out[i].literal = c.fresh()
		at[out[i].weight] = out[i].literal
	}
	for _, x := range a {
		c.add(-x.literal, at[x.weight])
		for _, y := range b {
			c.add(-x.literal, -y.literal, at[min(x.weight+y.weight, limit+1)])
		}
	}
	for _, y := range b {
		c.add(-y.literal, at[y.weight])
	}
	return out
}

// below demands that the sum is at most bound.
func (n node) below(c *clauses, bound int) {
	for _, t := range n {
		if t.weight > bound {
			c.add(-t.literal)
		}
	}
}

// addBinary adds up terms in clauses as a binary number, lowest bit first: few
// clauses whatever the weights, but the solver sees through it less well than
// through total.
func addBinary(c *clauses, groups []terms) number {
	var columns [][]int
	put := func(bit, literal int) {
		for len(columns) <= bit {
			columns = append(columns, nil)
		}
		columns[bit] = append(columns[bit], literal)
	}
	for _, g := range groups {
		for _, t := range g {
			for bit := 0; t.weight>>bit > 0; bit++ {
				if t.weight>>bit&1 == 1 {
					put(bit, t.literal)
				}
			}
		}
	}
	var out number
	for bit := 0; bit < len(columns); bit++ {
		column := columns[bit]
		for len(column) > 1 {
			n := min(3, len(column))
			sum, carry := adder(c, column[:n])
			column = append(slices.Clone(column[n:]), sum)
			put(bit+1, carry)
		}
		if len(column) == 0 {
			out = append(out, 0)
		} else {
			out = append(out, column[0])
		}
	}
	return out
}

// adder adds two or three bits: all the inputs that make sum or carry true do,
// and all that make them false do.
func adder(c *clauses, in []int) (sum, carry int) {
	sum, carry = c.fresh(), c.fresh()
	for row := range 1 << len(in) {
		ones := 0
		var clause []int
		for i, l := range in {
			if row>>i&1 == 1 {
				ones++
				clause = append(clause, -l)
			} else {
				clause = append(clause, l)
			}
		}
		c.add(append(slices.Clone(clause), signed(sum, ones&1 == 1))...)
		c.add(append(clause, signed(carry, ones > 1))...)
	}
	return sum, carry
}

func signed(literal int, holds bool) int {
	if holds {
		return literal
	}
	return -literal
}

// number is a binary sum, lowest bit first; 0 is a bit that never holds.
type number []int

// below demands that the number is at most bound.
func (n number) below(c *clauses, bound int) {
	for i, bit := range n {
		if bit == 0 || bound>>i&1 == 1 {
			continue
		}
		clause := []int{-bit}
		possible := true
		for j := i + 1; j < len(n) && possible; j++ {
			if bound>>j&1 == 1 {
				if n[j] == 0 {
					possible = false // a higher bit of the bound is never reached: the number is less anyway
				} else {
					clause = append(clause, -n[j])
				}
			}
		}
		if possible && bound>>len(n) == 0 {
			c.add(clause...)
		}
	}
}
