package plan

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Under a budget Solve finds what trying everything finds, and of budgets that
// nobody can keep the least that it would take.
func TestBudgetEqualsBruteForce(t *testing.T) {
	kept, broken := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(t)
		prefer := rapid.SampledFrom([]Prefer{PreferEffort, PreferParts, PreferMoney}).Draw(t, "prefer")
		budget := rapid.SampledFrom([]int{5, 10, 30, 1234577, 3 * 1234567, 1 << 34}).Draw(t, "budget")
		var best Cost
		least, found := -1, false
		eachCost(p, func(c Cost) {
			if least < 0 || c.Money < least {
				least = c.Money
			}
			if c.Money <= budget && (!found || c.Less(best, prefer)) {
				best, found = c, true
			}
		})
		got, err := Solve(context.Background(), p, Options{Prefer: prefer, Budget: budget})
		if err != nil || !got.Proved {
			t.Fatalf("proved %v, error %v", got.Proved, err)
		}
		switch {
		case found:
			kept++
			if len(got.Plans) == 0 || got.Plans[0].Cost != best {
				t.Fatalf("got %v, want %v", got.Plans, best)
			}
		case least >= 0:
			broken++
			if len(got.Plans) > 0 || got.OverBudget == nil || got.OverBudget.Cost.Money != least ||
				got.Verdict() != "no plan within the budget" {
				t.Fatalf("got %v, %v, want the plan for %d", got.Plans, got.OverBudget, least)
			}
		case len(got.Plans) > 0 || got.OverBudget != nil:
			t.Fatal("a plan where there is none")
		}
	})
	if kept == 0 || broken == 0 {
		t.Errorf("%d budgets kept, %d not", kept, broken)
	}
}

// By hand: the donor's leg costs 90.00 with hand tools, the bracket 20.00 from the
// lathe. With 50.00 to spend it is the bracket, with 10.00 nothing.
func TestBudgetByHand(t *testing.T) {
	got := prove(t, swap(), Options{Budget: 9000})
	if want := []int{1, 1, 1}; !slices.Equal(got.Plans[0].Choice, want) {
		t.Errorf("with 90.00 it takes %v, want %v", got.Plans[0].Choice, want)
	}
	got = prove(t, swap(), Options{Budget: 8999})
	if want := []int{1, 0, 1}; !slices.Equal(got.Plans[0].Choice, want) || got.Plans[0].Cost.Money != 2000 {
		t.Errorf("a cent less takes %v, want %v", got.Plans[0].Choice, want)
	}
	none, err := Solve(context.Background(), swap(), Options{Budget: 1999})
	if err != nil || len(none.Plans) > 0 || none.OverBudget == nil || none.OverBudget.Cost.Money != 2000 {
		t.Errorf("with 19.99 there is %v, and %v at least; error %v", none.Plans, none.OverBudget, err)
	}
}

// A chain of places, each with a cheap part that takes more parts and a dear one
// that takes fewer: the money goes where it saves most, which no order of places
// from first to last finds. The answer is that of a knapsack of whole things.
func TestBudgetIsAKnapsack(t *testing.T) {
	saves, costs := []int{4, 3, 2, 7, 1, 5, 6, 2, 3, 4}, []int{50, 41, 22, 93, 11, 72, 80, 18, 37, 55}
	var p Problem
	for i := range saves {
		p.Slots = append(p.Slots, Slot{Options: []Option{{Cost: Cost{Parts: saves[i]}}, {Cost: Cost{Money: costs[i]}}}})
		if i > 0 { // both go with both: only the money joins them
			p.Demands = append(p.Demands, Demand{Slots: []int{i - 1, i}, Allowed: []Combination{{Options: []int{0, 0}},
				{Options: []int{0, 1}, Cost: Cost{Distance: 1}}, {Options: []int{1, 0}, Cost: Cost{Distance: 1}},
				{Options: []int{1, 1}}}})
		}
	}
	const budget = 230
	saved := make([]int, budget+1) // most parts saved with so much money: the textbook table
	total := 0
	for i := range saves {
		total += saves[i]
		for m := budget; m >= costs[i]; m-- {
			saved[m] = max(saved[m], saved[m-costs[i]]+saves[i])
		}
	}
	got := prove(t, p, Options{Budget: budget})
	if c := got.Plans[0].Cost; c.Parts != total-saved[budget] || c.Money > budget {
		t.Errorf("got %+v, want %d parts for at most %d", c, total-saved[budget], budget)
	}
}
