package plan

import (
	"context"
	"slices"
)

// mostBacktracks is how often construct takes a choice back before it leaves
// the piece to the solver: by count, not by time, so that the outcome is the
// same in every run.
const mostBacktracks = 2000

// builder puts a choice for one piece together slot by slot: the slot with the
// fewest options left first, its cheapest option first, and after each choice
// what no longer mates is struck off its neighbours (forward checking). What it
// finds is a plan to begin with, not a cheapest one.
type builder struct {
	part
	left  map[int][]int // by open slot: the options that may still be taken
	taken map[int]int
	back  int // choices taken back so far
	steps int
}

// construct finds a first choice and keeps it; false when it gave up, which
// says nothing.
func construct(ctx context.Context, p *part) bool {
	b := &builder{part: *p, left: map[int][]int{}, taken: map[int]int{}}
	for _, s := range p.piece.slots {
		if p.r.open(s) {
			b.left[s] = b.cheapestFirst(s)
		} else {
			b.taken[s] = p.r.options[s][0]
		}
	}
	if !b.fill(ctx) {
		return false
	}
	next := p.copy()
	for _, s := range p.piece.slots {
		next.Choice[s] = b.taken[s]
	}
	for _, d := range p.piece.demands {
		way := cheapestWay(p.r, d, next.Choice)
		if way < 0 { // what three slots ask together shows only once all are taken
			return false
		}
		next.Through[d] = way
	}
	copy(p.kept.Choice, next.Choice)
	copy(p.kept.Through, next.Through)
	p.keep()
	return true
}

func (b *builder) cheapestFirst(slot int) []int {
	options := b.r.p.Slots[slot].Options
	list := slices.Clone(b.r.options[slot])
	slices.SortStableFunc(list, func(x, y int) int { return compare(options[x].Cost, options[y].Cost, b.r.prefer) })
	return list
}

// fill takes an option for every slot that is left.
func (b *builder) fill(ctx context.Context) bool {
	slot := b.next()
	if slot < 0 {
		return true
	}
	options := b.left[slot]
	delete(b.left, slot)
	for _, o := range options {
		if b.steps++; b.back > mostBacktracks || b.steps&0xf == 0 && ctx.Err() != nil {
			break
		}
		b.taken[slot] = o
		undo, ok := b.strike(slot)
		if ok && b.fill(ctx) {
			return true
		}
		b.restore(undo)
		b.back++
	}
	delete(b.taken, slot)
	b.left[slot] = options
	return false
}

// next is the slot with the fewest options left, the first of those that tie;
// -1 when every slot has its option.
func (b *builder) next() int {
	best := -1
	for _, s := range b.piece.slots {
		if left, ok := b.left[s]; ok && (best < 0 || len(left) < len(b.left[best])) {
			best = s
		}
	}
	return best
}

// strike takes off its neighbours what a slot's choice no longer allows; false
// when one of them has nothing left, or a demand can't hold. What was there
// before comes back for restore.
func (b *builder) strike(slot int) (undo map[int][]int, ok bool) {
	undo = map[int][]int{}
	for _, d := range b.r.demands[slot] {
		demand := b.r.p.Demands[d]
		mates := make([][]bool, len(demand.Slots))
		any := false
		for _, c := range b.r.allowed[d] {
			options := demand.Allowed[c].Options
			if !b.agrees(demand.Slots, options) {
				continue
			}
			any = true
			for k, s := range demand.Slots {
				if _, open := b.left[s]; open {
					if mates[k] == nil {
						mates[k] = make([]bool, len(b.r.p.Slots[s].Options))
					}
					mates[k][options[k]] = true
				}
			}
		}
		if !any || !b.narrow(demand.Slots, mates, undo) {
			return undo, false
		}
	}
	return undo, true
}

// agrees reports whether a combination has what was taken so far.
func (b *builder) agrees(slots, options []int) bool {
	for k, s := range slots {
		if o, have := b.taken[s]; have && o != options[k] {
			return false
		}
	}
	return true
}

// narrow leaves each open slot only what mates; false when that is nothing.
func (b *builder) narrow(slots []int, mates [][]bool, undo map[int][]int) bool {
	for k, s := range slots {
		left, open := b.left[s]
		if !open {
			continue
		}
		rest := kept(left, func(o int) bool { return mates[k] != nil && mates[k][o] })
		if len(rest) == len(left) {
			continue
		}
		if _, noted := undo[s]; !noted {
			undo[s] = left
		}
		b.left[s] = rest
		if len(rest) == 0 {
			return false
		}
	}
	return true
}

func (b *builder) restore(undo map[int][]int) {
	for s, left := range undo {
		b.left[s] = left
	}
}

// kept are the members of a list that pass, in a list of its own.
func kept(list []int, pass func(int) bool) []int {
	out := make([]int, 0, len(list))
	for _, v := range list {
		if pass(v) {
			out = append(out, v)
		}
	}
	return out
}

// cheapestWay is the cheapest combination by which a demand holds with a
// choice, the first of those that tie; -1 when it does not hold.
func cheapestWay(r *room, demand int, choice []int) int {
	d := r.p.Demands[demand]
	best := -1
	for _, c := range r.allowed[demand] {
		match := true
		for k, s := range d.Slots {
			match = match && choice[s] == d.Allowed[c].Options[k]
		}
		if match && (best < 0 || d.Allowed[c].Cost.Less(d.Allowed[best].Cost, r.prefer)) {
			best = c
		}
	}
	return best
}
