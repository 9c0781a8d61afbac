package donor_test

import (
	"context"
	"testing"
	"time"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// What people take off a donor first gets a plan although thousands of combinations
// lie between it and a proof: a first plan is there once so much was read and judged as
// takes 0.3 s. It is counted in work, a read as 0.4 ms and a judgement as 0.05 ms.
func TestFirstPlanComesAtOnce(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, take := range []string{"front-wheel/wheel", "front-wheel", "yokes"} {
		clock := measuredClock()
		q := donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: []string{take},
			Began: clock.at, Now: clock.now, Time: time.Second}
		first, stop := time.Duration(0), make(chan struct{})
		q.Stop = stop
		q.Better = func(donor.DonorCost) {
			if first == 0 {
				first = clock.at.Sub(q.Began)
				close(stop)
			}
		}
		a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
		switch {
		case err != nil || len(a.Plans) == 0:
			t.Errorf("%s: no plan (%s): %v", take, a.Outcome, err)
		case first > 300*time.Millisecond:
			t.Errorf("%s: a first plan after %v", take, first)
		default:
			cost := a.Plans[0].Cost
			t.Logf("%s: first after %v, %d unknown, %d parts", take, first, cost.SafetyUnknowns, cost.Parts)
		}
	}
}
