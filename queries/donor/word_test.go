package donor_test

import (
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/readertest"
)

// TestNoPlanAgainstTheDimensions: a finding that a wheel with other hub holes went on
// with other discs is no way for the discs that are there. With too little to spend on
// others there is no plan, and with enough there is one; of none does a connection
// not fit once all is done.
func TestNoPlanAgainstTheDimensions(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for _, hundredths := range []int{5000, 15000, 0} {
		q := donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu",
			Take: []string{"front-wheel/wheel"}, Time: 5 * time.Second}
		if hundredths > 0 {
			q.Budget = measure.Money{Hundredths: hundredths, Currency: "EUR"}
		}
		a, err := donor.Donor(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		if hundredths == 0 && len(a.Plans) == 0 {
			t.Errorf("no plan without a limit: %s", a.Outcome)
		}
		for _, p := range a.Plans {
			left := slices.Clone(p.Swap.DoesNotMate)
			if p.Swap.Then != nil {
				left = p.Swap.Then.Left
			}
			for _, o := range left {
				if o.After == graph.DoesNotFit && !examine.IsOfPart(o) {
					t.Errorf("%d: offered, though %s %s does not fit: %s", hundredths, o.What, o.ID, o.Why)
				}
			}
		}
	}
}
