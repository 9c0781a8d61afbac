package donor_test

import (
	"testing"

	"matewell/graph/measure"
	"matewell/queries/donor"
)

// TestWhatTheDonorKeepsIsPaidFor: a wheel that the donor needs is bought, so that it
// counts as a part to find and its price in the sum; one that is taken does not.
func TestWhatTheDonorKeepsIsPaidFor(t *testing.T) {
	var costs [2]donor.DonorCost
	for i, stays := range []bool{false, true} {
		q := demoDonors()[3]
		q.DonorStays = stays
		a := answered(t, q)
		if len(a.Plans) == 0 {
			t.Fatalf("donor stays %v: no plan, %s", stays, a.Outcome)
		}
		costs[i] = a.Plans[0].Cost
		if len(a.Plans[0].Take) > 0 && stays {
			t.Errorf("taken from a donor that needs it: %+v", a.Plans[0].Take)
		}
	}
	var sums [2]measure.Money
	for i, cost := range costs {
		var err error
		if sums[i], err = measure.ParseMoney(cost.Money); err != nil {
			t.Fatal(err)
		}
	}
	if more := sums[1].Hundredths - sums[0].Hundredths; more < 140_00 || costs[1].Parts != costs[0].Parts+1 {
		t.Errorf("taken: %s, %d parts; bought: %s, %d parts; want 140 EUR and a part more", costs[0].Money, costs[0].Parts,
			costs[1].Money, costs[1].Parts)
	}
}
