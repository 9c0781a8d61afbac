package plan

import "math"

// never is the weight of what isn't allowed.
const never = math.MaxInt64

// factor is a table over some open slots: for every choice at them, the least
// weight and in how many ways it is reached. The last slot counts fastest.
type factor struct {
	slots  []int
	stride []int // by slots: how far one option further is
	weight []int64
	ways   []int // capped at MostTotal
}

func newFactor(slots []int, size func(slot int) int) *factor {
	f := &factor{slots: slots, stride: make([]int, len(slots))}
	n := 1
	for k := len(slots) - 1; k >= 0; k-- {
		f.stride[k] = n
		n *= size(slots[k])
	}
	f.weight, f.ways = make([]int64, n), make([]int, n)
	for i := range f.weight {
		f.weight[i] = never
	}
	return f
}

// put adds one way to reach an entry.
func (f *factor) put(at int, weight int64, ways int) {
	switch {
	case weight < f.weight[at]:
		f.weight[at], f.ways[at] = weight, ways
	case weight == f.weight[at] && weight != never:
		f.ways[at] = min(f.ways[at]+ways, MostTotal)
	}
}

// strideOf is how far one option of the slot is; 0 when the factor doesn't have
// the slot.
func (f *factor) strideOf(slot int) int {
	for k, s := range f.slots {
		if s == slot {
			return f.stride[k]
		}
	}
	return 0
}

// bucket is a slot taken out of the tables: what it depended on.
type bucket struct {
	slot    int
	scope   []int // the slots it met, still open when it was taken out
	factors []*factor
}

// each calls f for every choice at the bucket's scope and every option of its
// slot, with what they weigh together and in how many ways; at is the entry of
// the scope. It stops early when f says so.
func (b *bucket) each(size func(slot int) int, f func(at, option int, weight int64, ways int) bool) {
	n := len(b.factors)
	base, own := make([]int, n), make([]int, n)
	steps := make([][]int, len(b.scope))
	for k, s := range b.scope {
		steps[k] = make([]int, n)
		for i, factor := range b.factors {
			steps[k][i] = factor.strideOf(s)
		}
	}
	for i, factor := range b.factors {
		own[i] = factor.strideOf(b.slot)
	}
	choice := make([]int, len(b.scope))
	for at := 0; ; at++ {
		for option := range size(b.slot) {
			weight, ways := b.look(base, own, option)
			if weight != never && !f(at, option, weight, ways) {
				return
			}
		}
		k := len(choice) - 1
		for ; k >= 0; k-- { // count on, the last slot fastest
			choice[k]++
			for i, step := range steps[k] {
				base[i] += step
			}
			if choice[k] < size(b.scope[k]) {
				break
			}
			for i, step := range steps[k] {
				base[i] -= step * choice[k]
			}
			choice[k] = 0
		}
		if k < 0 {
			return
		}
	}
}

// look adds up the factors at one entry.
func (b *bucket) look(base, own []int, option int) (int64, int) {
	var weight int64
	ways := 1
	for i, factor := range b.factors {
		j := base[i] + own[i]*option
		if factor.weight[j] == never {
			return never, 0
		}
		weight += factor.weight[j]
		if n := factor.ways[j]; n > 1 {
			ways = times(ways, n)
		}
	}
	return weight, ways
}

// times multiplies counts, capped at MostTotal.
func times(a, b int) int {
	if a > 0 && b > MostTotal/a {
		return MostTotal
	}
	return a * b
}
