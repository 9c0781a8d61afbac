package main

import (
	"testing"

	"matewell/queries/donor"
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
		if got := overBudgetWords(donor.DonorAnswer{OverBudget: &cost}); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}
