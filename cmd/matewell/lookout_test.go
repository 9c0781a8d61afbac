package main

import (
	"testing"

	"matewell/queries/donor"
)

// What a plan costs stands in a few words beside the search.
func TestLookoutWords(t *testing.T) {
	for want, cost := range map[string]donor.DonorCost{
		"4 parts, lathe or weld, 3 unknown": {Parts: 4, Effort: "lathe or weld", SafetyUnknowns: 1, OtherUnknowns: 2},
		"1 part, hand tools":                {Parts: 1, Effort: "hand tools"},
	} {
		if got := soFar(cost); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
