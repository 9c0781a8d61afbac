package plan

import (
	"context"
	"slices"
)

// encoding is a piece as clauses.
type encoding struct {
	clauses
	part
	written bool
	option  map[[2]int]int // literal of a slot's option; settled slots have none
	through map[[2]int]int // variable of a demand's combination; absent where options decide it
}

// blank is the encoding of a piece before anything is written.
func blank(p part) *encoding {
	return &encoding{part: p, option: map[[2]int]int{}, through: map[[2]int]int{}}
}

// encode writes a piece as clauses: every open slot takes exactly one option,
// every demand exactly one of its combinations.
func (e *encoding) encode(ctx context.Context) error {
	for _, s := range e.piece.slots {
		if e.r.open(s) {
			e.slot(s, e.r.options[s])
		}
	}
	for _, d := range e.piece.demands {
		if err := ctx.Err(); err != nil {
			return err
		}
		if !e.plain(d) {
			e.table(d)
		}
	}
	return nil
}

// slot gives each option of a slot a literal of which exactly one holds: two
// options share one variable.
func (e *encoding) slot(s int, options []int) {
	if len(options) == 2 {
		v := e.fresh()
		e.option[[2]int{s, options[0]}], e.option[[2]int{s, options[1]}] = v, -v
		return
	}
	var vars []int
	for _, o := range options {
		v := e.fresh()
		e.option[[2]int{s, o}] = v
		vars = append(vars, v)
	}
	e.one(vars)
}

// holds reports whether a model makes a literal true.
func holds(model []bool, literal int) bool {
	if literal < 0 {
		return !model[-literal-1]
	}
	return model[literal-1]
}

// literals are those of a combination's options at open slots.
func (e *encoding) literals(demand, combination int) []int {
	d := e.r.p.Demands[demand]
	var out []int
	for k, s := range d.Slots {
		if v, open := e.option[[2]int{s, d.Allowed[combination].Options[k]}]; open {
			out = append(out, v)
		}
	}
	return out
}

// index numbers what a combination takes at the open slots of its demand; two
// combinations with one index take the same there.
func (e *encoding) index(demand, combination int) int {
	d := e.r.p.Demands[demand]
	n := 0
	for k, s := range d.Slots {
		i, _ := slices.BinarySearch(e.r.options[s], d.Allowed[combination].Options[k])
		n = n*len(e.r.options[s]) + i // a settled slot adds nothing
	}
	return n
}

// plain encodes a demand that costs nothing and lists nothing twice without
// variables of its own: a pair by the mates of each option, a larger group by
// what it forbids, where that is less than what it allows. It reports false for
// any other demand.
func (e *encoding) plain(demand int) bool {
	d := e.r.p.Demands[demand]
	seen := map[int]bool{}
	for _, c := range e.r.allowed[demand] {
		index := e.index(demand, c)
		if d.Allowed[c].Cost != (Cost{}) || seen[index] {
			return false
		}
		seen[index] = true
	}
	open := 0
	for _, s := range d.Slots {
		if e.r.open(s) {
			open++
		}
	}
	switch {
	case open < 2: // arc consistency has done it all
		return true
	case open == 2:
		e.mates(demand)
		return true
	}
	return e.forbid(demand, seen)
}

func (e *encoding) mates(demand int) {
	of := map[int][]int{}
	var order []int
	for _, c := range e.r.allowed[demand] {
		pair := e.literals(demand, c)
		for k, v := range pair {
			if len(of[v]) == 0 {
				order = append(order, v)
			}
			of[v] = append(of[v], pair[1-k])
		}
	}
	for _, v := range order {
		e.add(append([]int{-v}, of[v]...)...)
	}
}

// mostForbidden is how large a table may be to be written by what it forbids.
const mostForbidden = 4096

func (e *encoding) forbid(demand int, allowed map[int]bool) bool {
	var open []int
	size := 1
	for _, s := range e.r.p.Demands[demand].Slots {
		if e.r.open(s) {
			open = append(open, s)
			size = min(size*len(e.r.options[s]), mostForbidden+1)
		}
	}
	if size > mostForbidden || size-len(allowed) > len(allowed) {
		return false
	}
	for index := range size {
		if allowed[index] {
			continue
		}
		clause := make([]int, len(open))
		rest := index
		for k := len(open) - 1; k >= 0; k-- {
			options := e.r.options[open[k]]
			clause[k] = -e.option[[2]int{open[k], options[rest%len(options)]}]
			rest /= len(options)
		}
		e.add(clause...)
	}
	return true
}

// table encodes a demand with a variable for each combination: exactly one
// holds, it brings its options, and each option asks for one that has it.
func (e *encoding) table(demand int) {
	var vars []int
	with := map[int][]int{}
	same := map[int][]int{}
	var order, keys []int
	for _, c := range e.r.allowed[demand] {
		v := e.fresh()
		e.through[[2]int{demand, c}] = v
		vars = append(vars, v)
		options := e.literals(demand, c)
		for _, o := range options {
			e.add(-v, o)
			if len(with[o]) == 0 {
				order = append(order, o)
			}
			with[o] = append(with[o], v)
		}
		key := e.index(demand, c)
		if len(same[key]) == 0 {
			keys = append(keys, key)
		}
		same[key] = append(same[key], v)
	}
	e.add(vars...)
	for _, o := range order {
		e.add(append([]int{-o}, with[o]...)...)
	}
	for _, key := range keys { // other combinations already exclude each other by their options
		e.atMostOne(same[key])
	}
}

// read takes the choice for the piece out of a model into p.
func (e *encoding) read(model []bool, p *Plan) {
	for _, s := range e.piece.slots {
		p.Choice[s] = e.r.options[s][0]
		for _, o := range e.r.options[s] {
			if v, open := e.option[[2]int{s, o}]; open && holds(model, v) {
				p.Choice[s] = o
			}
		}
	}
	for _, d := range e.piece.demands {
		p.Through[d] = e.held(d, model, p.Choice)
	}
}

// held is the combination a demand goes through.
func (e *encoding) held(demand int, model []bool, choice []int) int {
	d := e.r.p.Demands[demand]
	for _, c := range e.r.allowed[demand] {
		if v, ok := e.through[[2]int{demand, c}]; ok {
			if model[v-1] {
				return c
			}
			continue
		}
		match := true
		for k, s := range d.Slots {
			settled := len(e.r.options[s]) == 1
			match = match && (settled || choice[s] == d.Allowed[c].Options[k])
		}
		if match {
			return c
		}
	}
	return -1 // no model of the clauses gets here; the plan's own check would say so
}
