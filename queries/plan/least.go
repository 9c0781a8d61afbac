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
func floors(ctx context.Context, s *search) {
	for _, m := range s.methods {
		if w, isDense := m.(*dense); isDense {
			w.floor = w.part.least(ctx)
		}
	}
}

// leastClass is the lowest effort class that some slot or demand can do with.
func leastClass(p *part) int {
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

// smallTable is what a demand weighs, unless its table would be too large.
func smallTable(e *elimination, demand int, weigh func(Cost) int64) (*factor, bool) {
	size := 1
	for _, s := range e.open(demand) {
		if size *= e.size(s); size > leastTable {
			return nil, false
		}
	}
	return e.combinations(demand, weigh), true
}

func leastOf(p *part, demand int, l level) int {
	least := -1
	for _, c := range p.r.allowed[demand] {
		if v := at(p.r.p.Demands[demand].Allowed[c].Cost, l); least < 0 || v < least {
			least = v
		}
	}
	return max(least, 0)
}

// smallBuckets shares the factors at a slot out among buckets whose tables are
// small enough; once the steps are used up each factor has one of its own.
func smallBuckets(e *elimination, slot int, factors []*factor, steps *int) []*bucket {
	var out []*bucket
	for _, f := range factors {
		at := slices.IndexFunc(out, func(b *bucket) bool { return *steps > 0 && tableWith(e, b, f) <= leastTable })
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
		*steps -= tableWith(e, b, b.factors[0])
	}
	return out
}

// tableWith is how many entries the table of a bucket has with one more factor.
func tableWith(e *elimination, b *bucket, f *factor) int {
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
func summedOut(e *elimination, b *bucket) *factor {
	out := newFactor(b.scope, e.size)
	b.each(e.size, func(at, _ int, weight int64, ways int) bool {
		out.put(at, weight, ways)
		return true
	})
	return out
}
