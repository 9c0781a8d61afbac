package main

import (
	"strings"
	"testing"

	"matewell/queries/donor"
	"matewell/queries/plan"
)

// What has no price is counted as the dearest for its place, so that a way whose known
// prices keep the budget may go over it: then both sums are told.
func TestOverBudgetWords(t *testing.T) {
	cost := donor.DonorCost{Money: "30 EUR", Counted: "30 EUR", Parts: 2, Effort: "hand tools"}
	for _, tt := range []struct {
		unpriced []string
		counted  string
		want     string
	}{
		{nil, "30 EUR", "The cheapest way costs 30 EUR: 2 parts to find or make, hand tools."},
		{[]string{"Tarnholt W-2"}, "100 EUR", "The cheapest way costs 30 EUR by the prices known (1 thing without one " +
			"is not in it): 2 parts to find or make, hand tools. No price is known for: Tarnholt W-2. Counted as the " +
			"dearest for its place, the whole is 100 EUR."},
	} {
		cost.Unpriced, cost.Counted = tt.unpriced, tt.counted
		if got := overBudgetWords(donor.DonorAnswer{OverBudget: &cost, Outcome: plan.NotWithinBudget}); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
		unproved := strings.Replace(tt.want, "The cheapest way costs", "The cheapest way found until then costs", 1)
		if got := overBudgetWords(donor.DonorAnswer{OverBudget: &cost}); got != unproved {
			t.Errorf("not proved: got %q, want %q", got, unproved)
		}
	}
}
