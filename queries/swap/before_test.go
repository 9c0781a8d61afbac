package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestReadyIsOneThing: whether a machine may be ridden after a swap is the same in the
// answer, in what stands against it and in the exit status, whatever is got besides;
// and what stands against it has its caution.
func TestReadyIsOneThing(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	asked := []swap.SwapQuestion{
		{On: "skerry-620/2002/eu", Swaps: []swap.Replacement{{Position: "exhaust/header-1", Part: "Tarnholt 105.7001"}}},
		{On: "skerry-620/2003/eu/late", Swaps: []swap.Replacement{{Position: "front-brake/hose-upper", Part: "DK-1740"}}}}
	for _, s := range demotest.Swaps() {
		asked = append(asked, swap.SwapQuestion{On: s.On, Swaps: s.Swaps})
	}
	then := 0
	for _, q := range asked {
		a, err := swap.Swap(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		open := slices.Concat(a.Before, a.DoesNotMate, a.Unknown)
		if a.Then != nil {
			open = append(open, a.Then.Left...)
			if a.Ready && !a.Then.Ready {
				t.Errorf("%v: ready as it is, and not with all that there is to get", q.Swaps)
			}
			if !a.Then.Ready {
				then++
			}
		}
		if a.Ready != (len(a.NotReady) == 0) || (swap.SwapReport{Answers: []swap.SwapAnswer{a}}).SafetyOpen() == a.Ready {
			t.Errorf("%v: ready %v, against it %v", q.Swaps, a.Ready, a.NotReady)
		}
		for _, o := range open {
			if o.After <= graph.FitsWithChanges || len(o.Safety) == 0 {
				continue
			}
			if a.Ready {
				t.Errorf("%v: ready, and %s %s is %s", q.Swaps, o.What, o.ID, o.After)
			}
			for _, c := range queries.CautionsFor(o.Safety...) {
				if !slices.Contains(a.Cautions, c) {
					t.Errorf("%v: no caution for %s, %s", q.Swaps, o.ID, c.Text)
				}
			}
		}
	}
	if then == 0 {
		t.Error("no swap was left open with all that there is to get")
	}
}

// TestWhatWasSoBeforeIsTold: a spacer that mates leaves a wheel whose inner row does
// not fit as it was; the swap says so, and is not ready.
func TestWhatWasSoBeforeIsTold(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	half := func(wheel graph.PartID) graph.Bike {
		b := graph.Bike{ID: "half", Variant: "skerry-620/2003/eu/late", Found: []graph.Fitted{
			{Position: "skerry-620:front-wheel/spacer-left"}}}
		if wheel != "" {
			b.Found = append(b.Found, graph.Fitted{Position: "skerry-620:front-wheel/wheel", Part: wheel})
		}
		return b
	}
	for _, test := range []struct {
		name, spacer string
		wheel        graph.PartID
		hub          bool
	}{
		{"another wheel", "Varnhegg 32-200.1", "Tarnholt 205.7006", true},
		{"its own wheel", "Tarnholt 205.4025", "", false},
	} {
		facts := facts
		facts.Bikes = append(slices.Clone(facts.Bikes), half(test.wheel))
		a, err := swap.Swap(t.Context(), readertest.New(facts), swap.SwapQuestion{On: "half",
			Swaps: []swap.Replacement{{Position: "front-wheel/spacer-left", Part: test.spacer}}})
		if err != nil {
			t.Fatal(err)
		}
		told := slices.ContainsFunc(a.Before, func(o examine.Outcome) bool { return o.What == examine.OfInnerRow })
		if told != test.hub || test.hub && a.Ready {
			t.Errorf("%s: told %v, ready %v (%v)", test.name, told, a.Ready, a.NotReady)
		}
	}
}
