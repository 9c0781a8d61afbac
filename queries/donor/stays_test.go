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

// TestADonorThatStaysKeepsItsBolts: bolts have no class of their own, and what they hold
// has. Without others in their place the donor is not ridden.
func TestADonorThatStaysKeepsItsBolts(t *testing.T) {
	for _, take := range [][]string{{"final-drive/slider-bolt"},
		{"rear-suspension/shock-bolt-lower", "rear-suspension/shock-nut-lower"}} {
		a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: take,
			DonorStays: true})
		if len(a.Plans) == 0 {
			t.Fatalf("%v: no plan, %s", take, a.Outcome)
		}
		if after := a.Plans[0].DonorAfter; !after.Usable || len(after.Lacks) > 0 {
			t.Errorf("%v: the donor, usable %v, is left without %+v", take, after.Usable, after.Lacks)
		}
	}
	// What nothing with a class hangs on may be missed.
	q := donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu",
		Take: []string{"bodywork/side-panel-bolt-left"}, DonorStays: true}
	if a := answered(t, q); len(a.Plans) == 0 || !a.Plans[0].DonorAfter.Usable || len(a.Plans[0].DonorAfter.Lacks) != 1 {
		t.Errorf("a bolt of a panel: %s, %+v", a.Outcome, a.Plans)
	}
}
