package plan

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// Both ways to write a sum let exactly those inputs through that add up to the
// bound or less.
func TestSumsKeepTheirBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c clauses
		var groups []terms
		total, high := 0, rapid.SampledFrom([]int{2, 30, 1 << 20}).Draw(t, "high")
		for range rapid.IntRange(1, 7).Draw(t, "groups") {
			var g terms
			chosen := rapid.IntRange(-1, 2).Draw(t, "chosen") // one of the group, or none
			for i := range rapid.IntRange(1, 3).Draw(t, "terms") {
				x := term{c.fresh(), rapid.IntRange(1, high).Draw(t, "weight")}
				g = append(g, x)
				if i == chosen {
					total += x.weight
					c.add(x.literal)
				} else {
					c.add(-x.literal)
				}
			}
			groups = append(groups, g)
		}
		bound := max(0, total+rapid.SampledFrom([]int{-high, -1, 0, 1, high}).Draw(t, "off by"))
		var s sum
		if rapid.Bool().Draw(t, "binary") {
			s = addBinary(&c, groups)
		} else {
			n, ok := totalOf(&c, groups, bound+rapid.IntRange(0, high).Draw(t, "limit above bound"), 1<<30)
			if !ok {
				t.Fatal("a small sum gave up")
			}
			s = n
		}
		s.below(&c, bound)
		model, err := c.solve(context.Background(), nil)
		if err != nil || (model != nil) != (total <= bound) {
			t.Fatalf("a total of %d passes a bound of %d: %v, error %v", total, bound, model != nil, err)
		}
	})
}

// A sum too big for a tree says so, and the piece turns to binary numbers.
func TestBigSumsTurnBinary(t *testing.T) {
	var c clauses
	var groups []terms
	for i := range 40 {
		groups = append(groups, terms{{c.fresh(), 1<<i | 1}})
	}
	if _, ok := totalOf(&c, groups, 1<<41, 10_000); ok {
		t.Error("a tree over 2^40 totals fitted into 10,000 clauses")
	}
	w := &dense{encoding: &encoding{clauses: c}}
	if _, binary := w.bound(groups, 1<<41).(number); !binary {
		t.Error("a big sum did not turn binary")
	}
}
