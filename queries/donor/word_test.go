package donor_test

import (
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/graph/sampletest"
	"matewell/queries/examine"
)

// TestNoPlanAgainstTheDimensions: a finding that a wheel with other hub holes went on
// with other discs is no way for the discs that are there. With too little to spend on
// others there is no plan, and with enough there is one; of none does a connection
// not fit once all is done. The time is counted in work, and may be
// too short for a plan within a budget.
func TestNoPlanAgainstTheDimensions(t *testing.T) {
	limit := time.Duration(sampletest.Of(t, 300, 1000)) * time.Millisecond
	for _, hundredths := range []int{5000, 15000, 0} {
		q := demoDonors()[3]
		if hundredths > 0 {
			q.Time, q.Budget = limit, measure.Money{Hundredths: hundredths, Currency: "EUR"}
		}
		a := answered(t, q)
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
