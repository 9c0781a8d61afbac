package donor_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// atOnce are what people take off a donor first, and single places of which a plan is
// hard to find: what holds one leg of a fork, one disc, an axle is most of the front, and
// so is what sits in one leg, on either side.
var atOnce = []string{"front-wheel/wheel", "fork/spring-right", "front-wheel", "yokes", "fork", "front-brake",
	"bodywork", "fork/leg-left", "fork/leg-right", "front-brake/disc-left", "front-brake/caliper-bolt-left",
	"fork/dust-seal-left", "fork/dust-seal-right", "fork/seal-left", "fork/seal-right", "fork/spring-left",
	"fork/cap-left", "front-wheel/axle", "bodywork/front-mudguard"}

// mayTake is in how much work a first plan is there.
const mayTake = 350 * time.Millisecond

// Whatever is taken off a donor gets a plan although thousands of combinations lie
// between it and a proof, or it is proved that there is none: each assembly, and the
// single places that hang together with most. It is counted in work, a read as 0.4 ms
// and a judgement as 0.05 ms.
func TestFirstPlanComesAtOnce(t *testing.T) {
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	takes, share := slices.Clone(atOnce), sampletest.Share(t, 24, 4)
	for _, at := range facts.Positions {
		if name := at.ID.Assembly().Local(); slices.Contains(at.On, graph.VariantID("fjeld-750/2003/eu")) &&
			!slices.Contains(takes, name) {
			takes = append(takes, name)
		}
	}
	if len(takes) < len(atOnce)+15 {
		t.Fatalf("only %d things to take", len(takes))
	}
	plans := 0
	for i, take := range takes {
		if i >= 4 && !share(take) {
			continue
		}
		first, a := firstPlan(t, r, take)
		switch {
		case len(a.Plans) > 0 && first <= mayTake:
			plans++
			cost := a.Plans[0].Cost
			t.Logf("%s: first after %v, %d unknown, %d parts", take, first, cost.SafetyUnknowns, cost.Parts)
		case len(a.Plans) > 0:
			t.Errorf("%s: a first plan after %v", take, first)
		case a.Outcome != "no plan" || slices.Contains(atOnce, take):
			t.Errorf("%s: %s", take, a.Outcome)
		}
	}
	if plans < 3 {
		t.Errorf("only %d plans: this tells little", plans)
	}
}

// firstPlan looks for a plan of one thing taken, and stops at the first; zero is when
// none came before the answer.
func firstPlan(t *testing.T, r graph.Reader, take string) (first time.Duration, a donor.DonorAnswer) {
	t.Helper()
	clock := &workClock{at: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), read: 400 * time.Microsecond,
		look: 50 * time.Microsecond}
	q := donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: []string{take},
		Began: clock.at, Now: clock.now, Time: 4 * time.Second}
	stop := make(chan struct{})
	q.Stop = stop
	q.Better = func(donor.DonorCost) {
		if first == 0 {
			first = clock.at.Sub(q.Began)
			close(stop)
		}
	}
	a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
	if err != nil {
		t.Fatalf("%s: %v", take, err)
	}
	return first, a
}
