package plan

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// brute tries every choice through every combination: the least cost, how many
// plans have it, and whether there is any.
func brute(p Problem, prefer Prefer) (best Cost, count int) {
	eachCost(p, func(c Cost) {
		switch {
		case count == 0 || c.Less(best, prefer):
			best, count = c, 1
		case c == best:
			count++
		}
	})
	return best, count
}

// eachCost calls f with the cost of every plan there is.
func eachCost(p Problem, f func(Cost)) {
	choice := make([]int, len(p.Slots))
	slots := upTo(len(p.Slots))
	for {
		var base Cost
		for s, o := range choice {
			base = base.Plus(p.Slots[s].Options[o].Cost)
		}
		bruteDemands(p, choice, 0, base, f)
		if !step(&p, slots, choice) {
			return
		}
	}
}

func bruteDemands(p Problem, choice []int, i int, so Cost, f func(Cost)) {
	if i == len(p.Demands) {
		f(so)
		return
	}
	d := p.Demands[i]
	for _, c := range d.Allowed {
		match := true
		for k, s := range d.Slots {
			match = match && choice[s] == c.Options[k]
		}
		if match {
			bruteDemands(p, choice, i+1, so.Plus(c.Cost), f)
		}
	}
}

// tiny draws a small problem with no structure at all: repeated combinations,
// demands that can't hold, equal options, big money.
func tiny(t *rapid.T) Problem {
	var p Problem
	cost := rapid.Custom(func(t *rapid.T) Cost {
		return Cost{rapid.SampledFrom([]int{0, 0, 1}).Draw(t, "unknowns"), rapid.IntRange(0, 4).Draw(t, "effort"),
			rapid.IntRange(0, 2).Draw(t, "parts"), rapid.SampledFrom([]int{0, 10, 20, 1234567, 1 << 33}).Draw(t, "money"),
			rapid.IntRange(0, 1).Draw(t, "distance")}
	})
	for range rapid.IntRange(0, 5).Draw(t, "slots") {
		var s Slot
		for range rapid.IntRange(1, 3).Draw(t, "options") {
			s.Options = append(s.Options, Option{Cost: cost.Draw(t, "cost")})
		}
		p.Slots = append(p.Slots, s)
	}
	if len(p.Slots) == 0 {
		return p
	}
	for range rapid.IntRange(0, 5).Draw(t, "demands") {
		d := Demand{Slots: rapid.SliceOfNDistinct(rapid.IntRange(0, len(p.Slots)-1), 1, min(3, len(p.Slots)),
			rapid.ID).Draw(t, "slots")}
		for range rapid.IntRange(0, 8).Draw(t, "combinations") {
			var c Combination
			for _, s := range d.Slots {
				c.Options = append(c.Options, rapid.IntRange(0, len(p.Slots[s].Options)-1).Draw(t, "option"))
			}
			if rapid.Bool().Draw(t, "costs") {
				c.Cost = cost.Draw(t, "extra")
			}
			d.Allowed = append(d.Allowed, c)
		}
		p.Demands = append(p.Demands, d)
	}
	return p
}

// Solve finds what trying everything finds: the same cost, the same number of
// ties, or that there is nothing.
func TestSolveEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(t)
		prefer := rapid.SampledFrom([]Prefer{PreferEffort, PreferParts, PreferMoney}).Draw(t, "prefer")
		want, count := brute(p, prefer)
		steps := rapid.SampledFrom([]int{0, -1}).Draw(t, "steps") // -1: everything to the solver
		got, err := Solve(context.Background(), p, Options{Prefer: prefer, All: true, steps: steps})
		if err != nil || !got.Proved {
			t.Fatalf("proved %v, error %v", got.Proved, err)
		}
		if count == 0 {
			checkClash(t, p, got)
			return
		}
		if len(got.Plans) != min(count, mostPlans) || got.Equal > count || (got.Equal < count) != got.EqualAtLeast {
			t.Fatalf("%d plans, %d equal (at least: %v), want %d", len(got.Plans), got.Equal, got.EqualAtLeast, count)
		}
		for i, plan := range got.Plans {
			if plan.Cost != want {
				t.Fatalf("plan %d costs %v, want %v", i, plan.Cost, want)
			}
			for _, other := range got.Plans[:i] {
				if slices.Equal(plan.Choice, other.Choice) && slices.Equal(plan.Through, other.Through) {
					t.Fatalf("plan %d is listed twice", i)
				}
			}
		}
	})
}

// checkClash tries every set of demands up to the size of the clash: it must
// clash, none smaller may, and Open must be exactly the demands that, left out
// of the whole, let a plan exist.
func checkClash(t *rapid.T, p Problem, got Result) {
	if len(got.Plans) != 0 || got.Clash == nil || !got.Clash.Smallest || !got.Clash.Minimal {
		t.Fatalf("no plan exists, but got %+v", got)
	}
	clashes := func(demands []int) bool {
		part := Problem{Slots: p.Slots}
		for _, d := range demands {
			part.Demands = append(part.Demands, p.Demands[d])
		}
		_, count := brute(part, PreferEffort)
		return count == 0
	}
	if !clashes(got.Clash.Demands) {
		t.Fatalf("demands %v do hold together", got.Clash.Demands)
	}
	for bits := range 1 << len(p.Demands) {
		var some []int
		for d := range p.Demands {
			if bits>>d&1 == 1 {
				some = append(some, d)
			}
		}
		if len(some) < len(got.Clash.Demands) && clashes(some) {
			t.Fatalf("demands %v clash, fewer than %v", some, got.Clash.Demands)
		}
	}
	for _, d := range got.Clash.Demands {
		opens := !clashes(without(upTo(len(p.Demands)), []int{d}))
		if opens != slices.Contains(got.Clash.Open, d) {
			t.Fatalf("demand %d opens the way: %v, but Open is %v", d, opens, got.Clash.Open)
		}
	}
}
