package donor_test

import (
	"context"
	"testing"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
)

// Whoever stops the search as soon as there is a plan gets that one, checked; who
// stops it before there is one gets none, and no proof that there is none.
func TestStopGivesTheBestSoFar(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	q := donor.DonorQuestion{On: "skerry-620/2002/eu", From: "fjeld-750/2003/eu",
		Take: []string{"front-brake/master-cylinder"}}
	whole, err := donor.Donor(context.Background(), r, q)
	if err != nil || len(whole.Plans) == 0 {
		t.Fatal(err, whole.Outcome)
	}

	stop, told := make(chan struct{}), 0
	q.Stop, q.Better = stop, func(c donor.DonorCost) {
		if told++; told == 1 {
			close(stop)
		}
	}
	a, err := donor.Donor(context.Background(), r, q)
	if err != nil || len(a.Plans) != 1 || told == 0 {
		t.Fatalf("%q, %d plans, told %d times, error %v", a.Outcome, len(a.Plans), told, err)
	}
	if a.Outcome != "best found until stopped" || a.Plans[0].Cost.Parts < whole.Plans[0].Cost.Parts {
		t.Errorf("%q with %d parts; the smallest has %d", a.Outcome, a.Plans[0].Cost.Parts, whole.Plans[0].Cost.Parts)
	}

	q.Better = nil // stopped from the start
	if a, err = donor.Donor(context.Background(), r, q); err != nil || len(a.Plans) > 0 || a.Clash != nil ||
		a.Outcome != "no plan found until stopped" {
		t.Errorf("%q, %d plans, clash %v, error %v", a.Outcome, len(a.Plans), a.Clash, err)
	}
}
