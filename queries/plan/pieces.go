package plan

import "slices"

// piece is a part of the problem that shares no open question with the rest.
type piece struct {
	slots   []int // in an order that keeps neighbours together
	demands []int
}

// pieces splits what is left. A slot with one option left settles nothing
// between its neighbours, so it joins no two of them.
func pieces(r *room) []piece {
	seenSlot := make([]bool, len(r.options))
	seenDemand := make([]bool, len(r.allowed))
	var out []piece
	for s := range r.options {
		if !seenSlot[s] && r.open(s) {
			out = append(out, grow(r, s, seenSlot, seenDemand))
		}
	}
	for s := range r.options { // the settled ones, with what hangs on them alone
		if seenSlot[s] {
			continue
		}
		one := piece{slots: []int{s}}
		for _, d := range r.demands[s] {
			if !seenDemand[d] {
				seenDemand[d] = true
				one.demands = append(one.demands, d)
			}
		}
		out = append(out, one)
	}
	slices.SortStableFunc(out, func(a, b piece) int { return len(a.slots) - len(b.slots) })
	return out
}

// grow collects everything reachable from a slot through open slots, depth
// first, so that neighbours come out next to each other.
func grow(r *room, from int, seenSlot, seenDemand []bool) piece {
	var out piece
	stack := []int{from}
	seenSlot[from] = true
	for len(stack) > 0 {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		out.slots = append(out.slots, s)
		for _, d := range r.demands[s] {
			if seenDemand[d] {
				continue
			}
			seenDemand[d] = true
			out.demands = append(out.demands, d)
			for _, next := range r.p.Demands[d].Slots {
				if !seenSlot[next] && r.open(next) {
					seenSlot[next] = true
					stack = append(stack, next)
				}
			}
		}
	}
	return out
}
