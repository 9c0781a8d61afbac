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
	"matewell/queries/examine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
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

// What gave way to another part and must not go back is bought for no machine, however it
// would make things mate: the loom of an older year, which has no speed signal at all,
// instead of one whose signal the clocks of a whole front end can't read.
func TestNothingRetiredIsBought(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2004/eu", From: "fjeld-750/2004/eu",
		Take: []string{"fork", "yokes", "front-wheel", "front-brake"}, Time: 10 * time.Second})
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	for _, part := range a.Plans[0].Get {
		if part.From == "graph" && part.Retired != "" {
			t.Errorf("%s at %s: %s", part.Part, part.Position, part.Retired)
		}
	}
}

// TestPlanIsAsReadyAsItsSwap puts the parts of plans to swap: what stood against
// riding before, at a place that the plan touches, stands against the plan as well.
func TestPlanIsAsReadyAsItsSwap(t *testing.T) {
	facts := demotest.Facts(t)
	half := func(id graph.BikeID, wheel graph.PartID) graph.Bike {
		b := graph.Bike{ID: id, Variant: "skerry-620/2003/eu/late", Found: []graph.Fitted{
			{Position: "skerry-620:front-wheel/spacer-left"}}}
		if wheel != "" {
			b.Found = append(b.Found, graph.Fitted{Position: "skerry-620:front-wheel/wheel", Part: wheel})
		}
		return b
	}
	facts.Bikes = append(slices.Clone(facts.Bikes), half("half-other", "Tarnholt 205.7006"), half("half-own", ""))
	r := once.New(readertest.New(facts))
	spacer := func(number string) []swap.Replacement {
		return []swap.Replacement{{Position: "front-wheel/spacer-left", Part: number}}
	}
	for _, test := range []struct {
		name  string
		q     donor.DonorQuestion
		ready bool
	}{
		{"the hub of another wheel did not fit",
			donor.DonorQuestion{On: "half-other", Swaps: spacer("Varnhegg 32-200.1")}, false},
		{"its own wheel", donor.DonorQuestion{On: "half-own", Swaps: spacer("Tarnholt 205.4025")}, true},
		{"a wheel of a donor, for which things are made", demoDonors()[3], false},
		{"a lever whose bush is to be faced", donor.DonorQuestion{On: "skerry-620/2003/eu/late",
			Swaps: []swap.Replacement{{Position: "front-brake/lever", Part: "Tarnholt 207.7008"}}}, false},
	} {
		test.q.Time = 20 * time.Second
		a, err := donor.Donor(t.Context(), r, test.q)
		if err != nil || len(a.Plans) == 0 {
			t.Fatalf("%s: %v, %q", test.name, err, a.Outcome)
		}
		q := swap.SwapQuestion{On: test.q.On}
		for _, part := range a.Plans[0].Swap.Swaps {
			if part.Now != "" {
				q.Swaps = append(q.Swaps, swap.Replacement{Position: part.Position.Local(), Part: string(part.Now)})
			}
		}
		s, err := swap.Swap(t.Context(), r, q)
		if err != nil {
			t.Fatalf("%s: %v", test.name, err)
		}
		swapReady := s.Ready || s.Then != nil && s.Then.Ready
		if ready := a.Plans[0].Ready(); ready != test.ready || ready != swapReady {
			t.Errorf("%s: plan ready %v, its swap %v (%v), want %v", test.name, ready, swapReady, s.NotReady, test.ready)
		}
	}
}
