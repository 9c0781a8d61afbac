package plan

import (
	"context"
	"slices"
)

// press runs with the levels settled so far and keeps the choice it finds.
func press(ctx context.Context, e *elimination) (bool, error) {
	t, p, err := under(ctx, e, e.class)
	if err != nil || t.weight == never {
		return false, err
	}
	e.last, e.lastPack = t, p
	each(e, func(choice []int) bool {
		for i, s := range e.piece.slots {
			e.kept.Choice[s] = e.r.options[s][choice[i]]
		}
		return false
	})
	for _, d := range e.piece.demands {
		e.kept.Through[d] = ways(e, d, e.kept.Choice)[0]
	}
	e.keep()
	return true, nil
}

// under runs with the levels settled so far and no effort above a class.
func under(ctx context.Context, e *elimination, class int) (*tables, pack, error) {
	p, _ := packed(e, e.levels, class) // sparse has tried it with all levels
	t, err := e.run(ctx, p.of)
	return t, p, err
}

// spread adds every way a choice can go through its demands, but the plan that
// is already first.
func spread(e *elimination, found []Plan, next Plan, demands []int) []Plan {
	if len(found) >= mostPlans {
		return found
	}
	if len(demands) == 0 {
		if slices.Equal(next.Choice, found[0].Choice) && slices.Equal(next.Through, found[0].Through) {
			return found
		}
		return append(found, Plan{Choice: next.Choice, Through: slices.Clone(next.Through)})
	}
	for _, c := range ways(e, demands[0], next.Choice) {
		next.Through[demands[0]] = c
		found = spread(e, found, next, demands[1:])
	}
	return found
}

// ways are the lightest combinations a demand can go through for a choice.
func ways(e *elimination, demand int, choice []int) []int {
	d := e.r.p.Demands[demand]
	var out []int
	least := int64(never)
	for _, c := range e.r.allowed[demand] {
		match := true
		for k, s := range d.Slots {
			match = match && choice[s] == d.Allowed[c].Options[k]
		}
		if !match {
			continue
		}
		switch w := e.lastPack.of(d.Allowed[c].Cost); {
		case w < least:
			out, least = []int{c}, w
		case w == least && w != never:
			out = append(out, c)
		}
	}
	return out
}

// each calls f for every lightest choice of the last run, as indices into the
// options left of each slot of the piece, until f says to stop.
func each(e *elimination, f func(choice []int) bool) {
	at := make(map[int]int, len(e.piece.slots))
	choice := make([]int, len(e.piece.slots))
	var back func(i int) bool
	back = func(i int) bool {
		if i < 0 {
			for k, s := range e.piece.slots {
				choice[k] = at[s]
			}
			return f(choice)
		}
		b := e.last.buckets[i]
		for _, o := range lightest(b, at, e.size(b.slot)) {
			at[b.slot] = o
			if !back(i - 1) {
				return false
			}
		}
		return true
	}
	back(len(e.last.buckets) - 1)
}

// lightest are the options of the bucket's slot that weigh least, given what
// the slots of its scope take.
func lightest(b *bucket, at map[int]int, size int) []int {
	base, own := make([]int, len(b.factors)), make([]int, len(b.factors))
	for i, f := range b.factors {
		for k, s := range f.slots {
			if s == b.slot {
				own[i] = f.stride[k]
			} else {
				base[i] += at[s] * f.stride[k]
			}
		}
	}
	var out []int
	least := int64(never)
	for o := range size {
		switch w, _ := b.look(base, own, o); {
		case w < least:
			out, least = []int{o}, w
		case w == least && w != never:
			out = append(out, o)
		}
	}
	return out
}
