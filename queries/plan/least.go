package plan

import (
	"context"
	"slices"
)

// What the tables of a bound may hold and take. By count, not by time.
const (
	leastTable = 4096
	leastSteps = 300_000
)

// floors works out the bounds of the tangled pieces, as far as there is time.
func (s *search) floors(ctx context.Context) {
	for _, m := range s.methods {
		if w, isDense := m.(*dense); isDense {
			w.floor = w.part.least(ctx)
		}
	}
}

// least is what no plan costs less than, level by level. Of a piece that is
// settled exactly it takes the cost, of a tangled one a bound.
func (s *search) least(best Cost) Cost {
	var least Cost
	for _, m := range s.methods {
		w, isDense := m.(*dense)
		if !isDense {
			least = least.plus(m.state().cost)
			continue
		}
		least = least.plus(w.floor)
	}
	least.Effort = min(least.Effort, best.Effort) // a piece may use a class that another one needs
	return least
}

// least is a bound for one piece; at a level for which there was no time it is
// zero.
func (p *part) least(ctx context.Context) Cost {
	least := Cost{Effort: p.leastClass()}
	for _, b := range []struct {
		of level
		to *int
	}{{unknowns, &least.Unknowns}, {parts, &least.Parts}, {money, &least.Money}, {distance, &least.Distance}} {
		if *b.to = p.bound(ctx, b.of); ctx.Err() != nil {
			*b.to = 0
			break
		}
	}
	return least
}

// leastClass is the lowest effort class that some slot or demand can do with.
func (p *part) leastClass() int {
	class := p.settled.Effort
	for _, s := range p.piece.slots {
		lowest := MostEffort
		for _, o := range p.r.options[s] {
			lowest = min(lowest, p.r.p.Slots[s].Options[o].Cost.Effort)
		}
		class = max(class, lowest)
	}
	for _, d := range p.piece.demands {
		lowest := MostEffort
		for _, c := range p.r.allowed[d] {
			lowest = min(lowest, p.r.p.Demands[d].Allowed[c].Cost.Effort)
		}
		class = max(class, lowest)
	}
	return class
}

// bound is a sum that no choice for the piece stays below at a level. Slots are
// taken out as in elimination, but where the table of a slot would be too large
// it is taken out of a few factors at a time, each time as suits those best
// (mini-buckets, Dechter and Rish): that never gives too much.
func (p *part) bound(ctx context.Context, l level) int {
	e := &elimination{part: *p}
	weigh := func(c Cost) int64 { return int64(c.at(l)) }
	sum := int64(p.settled.at(l))
	var live []*factor
	for _, s := range p.piece.slots {
		if p.r.open(s) {
			live = append(live, e.options(s, weigh))
		}
	}
	for _, d := range p.piece.demands {
		if f, ok := e.smallTable(d, weigh); ok && len(f.slots) > 0 {
			live = append(live, f)
		} else if least := p.leastOf(d, l); ok || least > 0 {
			sum += int64(least)
		}
	}
	steps := leastSteps
	for _, s := range p.piece.slots {
		if !p.r.open(s) {
			continue
		}
		if ctx.Err() != nil {
			return 0
		}
		var here, rest []*factor
		for _, f := range live {
			if slices.Contains(f.slots, s) {
				here = append(here, f)
			} else {
				rest = append(rest, f)
			}
		}
		live = rest
		for _, b := range e.smallBuckets(s, here, &steps) {
			out := e.summedOut(b)
			if len(out.slots) == 0 {
				sum += out.weight[0]
			} else {
				live = append(live, out)
			}
		}
	}
	return int(sum)
}

// smallTable is what a demand weighs, unless its table would be too large.
func (e *elimination) smallTable(demand int, weigh func(Cost) int64) (*factor, bool) {
	size := 1
	for _, s := range e.open(demand) {
		if size *= e.size(s); size > leastTable {
			return nil, false
		}
	}
	return e.combinations(demand, weigh), true
}

func (p *part) leastOf(demand int, l level) int {
	least := -1
	for _, c := range p.r.allowed[demand] {
		if v := p.r.p.Demands[demand].Allowed[c].Cost.at(l); least < 0 || v < least {
			least = v
		}
	}
	return max(least, 0)
}

// smallBuckets shares the factors at a slot out among buckets whose tables are
// small enough; once the steps are used up each factor has one of its own.
func (e *elimination) smallBuckets(slot int, factors []*factor, steps *int) []*bucket {
	var out []*bucket
	for _, f := range factors {
		at := slices.IndexFunc(out, func(b *bucket) bool { return *steps > 0 && e.tableWith(b, f) <= leastTable })
		if at < 0 {
			at = len(out)
			out = append(out, &bucket{slot: slot})
		}
		b := out[at]
		b.factors = append(b.factors, f)
		for _, s := range f.slots {
			if s != slot && !slices.Contains(b.scope, s) {
				b.scope = append(b.scope, s)
			}
		}
	}
	for _, b := range out {
		slices.Sort(b.scope)
		*steps -= e.tableWith(b, b.factors[0])
	}
	return out
}

// tableWith is how many entries the table of a bucket has with one more factor.
func (e *elimination) tableWith(b *bucket, f *factor) int {
	size := e.size(b.slot)
	for _, s := range b.scope {
		size *= e.size(s)
	}
	for _, s := range f.slots {
		if s != b.slot && !slices.Contains(b.scope, s) {
			size *= e.size(s)
		}
		if size > leastTable {
			return size
		}
	}
	return size
}

// summedOut takes the slot of a bucket out of its factors.
func (e *elimination) summedOut(b *bucket) *factor {
	out := newFactor(b.scope, e.size)
	b.each(e.size, func(at, _ int, weight int64, ways int) bool {
		out.put(at, weight, ways)
		return true
	})
	return out
}
