package donor_test

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/once"
	"matewell/queries/plan"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestDonorPlansHold takes any few parts of any donor and puts every plan to the
// swap engine as a question of its own, knowing nothing of how the plan was
// made: nothing may be worse than before but what the plan itself names.
func TestDonorPlansHold(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	places := []string{"front-brake/master-cylinder", "front-brake/lever", "clutch/lever", "clutch/release",
		"front-wheel/wheel",
		"mirrors/mirror-right", "rear-suspension/shock", "lamps/headlamp", "final-drive/sprocket-front", "tank/tank",
		"stands/side-stand"}
	machines := []string{"skerry-620/2002/eu", "skerry-620/2005/uk", "skerry-620/2003/eu/late", "winter-project"}
	donors := []string{"fjeld-750/2003/eu", "fjeld-750/2004/uk", "skerry-620/2005/eu", "skerry-620/2001/eu"}
	planned := 0
	sampletest.Checks(t, 5, 100)
	rapid.Check(t, func(t *rapid.T) {
		q := donor.DonorQuestion{On: rapid.SampledFrom(machines).Draw(t, "on"),
			From:   rapid.SampledFrom(donors).Draw(t, "from"),
			Take:   rapid.SliceOfNDistinct(rapid.SampledFrom(places), 1, 2, rapid.ID).Draw(t, "take"),
			Prefer: rapid.SampledFrom([]plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney}).Draw(t, "prefer")}
		a, err := donor.Donor(context.Background(), r, q)
		if err != nil {
			var lacks *queries.NotFoundError
			if !errors.As(err, &lacks) {
				t.Fatal(err)
			}
			t.Skip(err) // a place that one of the two lacks
		}
		for _, p := range a.Plans {
			planned++
			holds(t, r, a, p)
		}
	})
	if planned == 0 {
		t.Error("no plan was tried")
	}
}

func holds(t *rapid.T, r graph.Reader, a donor.DonorAnswer, p donor.DonorPlan) {
	q := swap.SwapQuestion{On: cmp.Or(string(a.Bike), string(a.On)), Scheme: a.Scheme}
	for _, part := range slices.Concat(p.Take, p.Get) {
		q.Swaps = append(q.Swaps, swap.Replacement{Position: part.Position.Local(), Part: string(part.Part)})
	}
	got, err := swap.Swap(context.Background(), r, q)
	if lacks := (*queries.NotFoundError)(nil); errors.As(err, &lacks) {
		return // a place that only the donor has: no swap on the machine tells of it
	}
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, g := range p.Make {
		for _, id := range g.For {
			named[id] = true
		}
	}
	for _, o := range slices.Concat(got.DoesNotMate, got.Unknown) {
		judged := !examine.IsOfPart(o)
		if judged && o.After > o.Before && !named[o.ID] &&
			p.Cost.SafetyUnknowns+p.Cost.OtherUnknowns == 0 {
			t.Errorf("%v: %s %s comes out %q: %s", q.Swaps, o.What, o.ID, o.After, o.Why)
		}
	}
}
