package plan

import (
	"context"
	"slices"
)

// mostSteps is how many table entries elimination may look at in one run before
// a piece counts as dense and goes to the solver. Measured: some 20 to 40 ns each.
const mostSteps = 4_000_000

// elimination solves a sparse piece exactly by dynamic programming: slots are
// taken out one by one, each leaving a table over the slots it met (Bertelè and
// Brioschi's non-serial dynamic programming). Machines are trees with a few
// loops, so the tables stay small; the count of ties comes with it.
type elimination struct {
	part
	order    []int   // the open slots, first out first
	levels   []level // settled so far
	class    int     // no effort above it
	last     *tables // of the last run that was kept
	lastPack pack
}

// sparse gives the elimination of a piece, and false when its tables would take
// more than so many steps, or its costs don't fit into one number.
func sparse(p part, steps int) (*elimination, bool) {
	e := &elimination{part: p, class: MostEffort}
	if _, fits := packed(e, []level{unknowns, parts, money, distance}, MostEffort); !fits {
		return nil, false
	}
	meets := map[int]map[int]bool{}
	for _, s := range p.piece.slots {
		if p.r.open(s) {
			meets[s] = map[int]bool{}
		}
	}
	for _, d := range p.piece.demands {
		e.join(meets, e.open(d))
	}
	for len(meets) > 0 {
		slot, size := e.cheapest(meets)
		if steps -= size; steps < 0 {
			return nil, false
		}
		scope := keys(meets[slot])
		delete(meets, slot)
		for _, s := range scope {
			delete(meets[s], slot)
		}
		e.join(meets, scope)
		e.order = append(e.order, slot)
	}
	return e, true
}

// open is the open slots of a demand, sorted.
func (e *elimination) open(demand int) []int {
	var out []int
	for _, s := range e.r.p.Demands[demand].Slots {
		if e.r.open(s) {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return out
}

func (e *elimination) join(meets map[int]map[int]bool, slots []int) {
	for _, a := range slots {
		for _, b := range slots {
			if a != b {
				meets[a][b] = true
			}
		}
	}
}

// cheapest is the slot whose table is smallest, the first of those that tie.
func (e *elimination) cheapest(meets map[int]map[int]bool) (slot, size int) {
	slot = -1
	for _, s := range e.piece.slots {
		met, open := meets[s]
		if !open {
			continue
		}
		n := e.size(s)
		for m := range met {
			n = min(n*e.size(m), 1<<40)
		}
		if slot < 0 || n < size {
			slot, size = s, n
		}
	}
	return slot, size
}

func (e *elimination) size(slot int) int { return len(e.r.options[slot]) }

func keys(m map[int]bool) []int {
	out := make([]int, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// tables is one run of an elimination: what was taken out, in order, and the
// least weight of all.
type tables struct {
	buckets []*bucket
	weight  int64 // never when nothing is allowed
	ways    int
}

// run takes out every slot, where cost says what everything weighs. It stops
// with the context's error when that is done.
func (e *elimination) run(ctx context.Context, cost func(Cost) int64) (*tables, error) {
	t := &tables{ways: 1}
	live := t.keepOpen(nil, constant(cost(e.settled)))
	for _, s := range e.order {
		live = t.keepOpen(live, e.options(s, cost))
	}
	for _, d := range e.piece.demands {
		live = t.keepOpen(live, e.combinations(d, cost))
	}
	for _, s := range e.order {
		if t.weight == never {
			break
		}
		b := &bucket{slot: s}
		var rest []*factor
		for _, f := range live {
			if slices.Contains(f.slots, s) {
				b.factors = append(b.factors, f)
			} else {
				rest = append(rest, f)
			}
		}
		out, err := e.takeOut(ctx, b)
		if err != nil {
			return nil, err
		}
		live = t.keepOpen(rest, out)
		t.buckets = append(t.buckets, b)
	}
	return t, nil
}

// keepOpen adds a factor to those that still have open slots; one that has none
// counts at once.
func (t *tables) keepOpen(live []*factor, f *factor) []*factor {
	switch {
	case len(f.slots) > 0:
		return append(live, f)
	case f.weight[0] == never:
		t.weight = never
	case t.weight != never:
		t.weight += f.weight[0]
		t.ways = times(t.ways, f.ways[0])
	}
	return live
}

// takeOut sets the bucket's scope and sums its slot out.
func (e *elimination) takeOut(ctx context.Context, b *bucket) (*factor, error) {
	scope := map[int]bool{}
	for _, f := range b.factors {
		for _, s := range f.slots {
			scope[s] = s != b.slot
		}
	}
	delete(scope, b.slot)
	b.scope = keys(scope)
	out := newFactor(b.scope, e.size)
	steps := 0
	b.each(e.size, func(at, _ int, weight int64, ways int) bool {
		out.put(at, weight, ways)
		steps++
		return steps&0xffff != 0 || ctx.Err() == nil
	})
	return out, ctx.Err()
}

func constant(weight int64) *factor {
	return &factor{weight: []int64{weight}, ways: []int{1}}
}

// options is what each option of a slot weighs by itself.
func (e *elimination) options(slot int, cost func(Cost) int64) *factor {
	f := newFactor([]int{slot}, e.size)
	for i, o := range e.r.options[slot] {
		f.put(i, cost(e.r.p.Slots[slot].Options[o].Cost), 1)
	}
	return f
}

// combinations is what a demand weighs for every choice at its open slots.
func (e *elimination) combinations(demand int, cost func(Cost) int64) *factor {
	d := e.r.p.Demands[demand]
	f := newFactor(e.open(demand), e.size)
	for _, c := range e.r.allowed[demand] {
		at := 0
		for k, s := range d.Slots {
			if stride := f.strideOf(s); stride > 0 {
				i, _ := slices.BinarySearch(e.r.options[s], d.Allowed[c].Options[k])
				at += i * stride
			}
		}
		f.put(at, cost(d.Allowed[c].Cost), 1)
	}
	return f
}

// try finds a choice by a run in which nothing weighs anything.
func (e *elimination) try(ctx context.Context) (bool, error) {
	e.class = MostEffort
	return press(ctx, e)
}

func (e *elimination) descend(ctx context.Context, levels []level) error {
	e.levels = append(e.levels, levels...)
	_, err := press(ctx, e)
	return err
}

func (e *elimination) leastEffort(ctx context.Context, have int) (int, error) {
	have = max(have, e.settled.Effort)
	for _, class := range append([]int{have}, e.classes()...) {
		if class < have || class >= e.cost.Effort {
			continue
		}
		t, _, err := under(ctx, e, class)
		if err != nil {
			return 0, err
		}
		if t.weight == e.last.weight {
			return class, nil
		}
	}
	return max(have, e.cost.Effort), nil
}

func (e *elimination) forbidAbove(class int) { e.class = class }

// alternatives reads the ties out of the tables of the last run.
func (e *elimination) alternatives(context.Context) (found []Plan, count int, open bool, err error) {
	found = []Plan{e.copy()}
	each(e, func(choice []int) bool {
		next := e.copy()
		for i, s := range e.piece.slots {
			next.Choice[s] = e.r.options[s][choice[i]]
		}
		found = spread(e, found, next, e.piece.demands)
		return len(found) < mostPlans
	})
	return found, e.last.ways, e.last.ways >= MostTotal, nil
}
