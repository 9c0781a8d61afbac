package donor_test

import (
	"context"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// No plan is given whose own parts the machine refuses once all of it is on: not
// where they go, nor elsewhere, such as a bolt made longer for one joint that meets
// the bottom of the next. What is only told of, and what was so before, may stay.
func TestNoPlanThatItsWholeRefuses(t *testing.T) {
	const on, from = "skerry-620/2003/eu/late", "fjeld-750/2003/eu"
	r := once.New(readertest.New(demotest.Facts(t)))
	positions, err := r.PositionsOf(context.Background(), "fjeld-750")
	if err != nil {
		t.Fatal(err)
	}
	wanted, plans := sampletest.Share(t, 40, 10), 0
	for _, p := range positions {
		take := p.ID.Local()
		always := take == "final-drive/carrier" || take == "front-brake/caliper-left" || take == "front-brake/splitter"
		if !always && !wanted(take) {
			continue
		}
		a, err := donor.Donor(context.Background(), r, donor.DonorQuestion{On: on, From: from, Take: []string{take},
			Time: time.Second})
		if err != nil {
			continue // not every place of the donor is on the machine
		}
		for _, one := range a.Plans {
			plans++
			left := append(one.Swap.DoesNotMate, one.Swap.Unknown...)
			if one.Swap.Then != nil {
				left = one.Swap.Then.Left
			}
			for _, o := range left {
				if o.After == graph.DoesNotFit && o.What != examine.OfRoad && o.What != examine.OfHeat {
					t.Errorf("%s, %s: %s %s: %s", take, a.Outcome, o.What, o.ID, o.Why)
				}
			}
		}
	}
	if plans < 3 {
		t.Errorf("%d plans were looked at", plans)
	}
}
