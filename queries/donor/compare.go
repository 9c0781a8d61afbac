package donor

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// DonorCompared puts several donors side by side on the same goal.
type DonorCompared struct {
	On     graph.VariantID `json:"on"`
	Take   []string        `json:"take"`
	Keep   []string        `json:"keep,omitempty"`
	Prefer string          `json:"prefer"`
	// Donors are those with a plan first, the smallest plan first.
	Donors []ComparedDonor `json:"donors"`
}

// ComparedDonor is one donor.
type ComparedDonor struct {
	From    graph.VariantID `json:"from"`
	Outcome string          `json:"outcome"`
	Cost    *DonorCost      `json:"cost,omitempty"` // nil without a plan
	Ready   bool            `json:"ready_to_ride"`
	// Brings are the parts asked for, Needs what the plan adds.
	Brings []DonorPart `json:"brings"`
	Needs  []string    `json:"needs"`
	Why    string      `json:"why,omitempty"` // what stands against it, without a plan

	cost plan.Cost
}

// CompareDonors plans the same goal for each donor, each in the time of the
// question; at, unless nil, is told which one it comes to, from 0. Errors are those
// of Donor.
func CompareDonors(ctx context.Context, r graph.Reader, q DonorQuestion, donors []string,
	at func(int)) (DonorCompared, error) {
	c := DonorCompared{Take: q.Take, Keep: q.Keep, Prefer: q.Prefer.String()}
	for i, from := range donors {
		if at != nil {
			at(i)
		}
		one := q
		if i > 0 { // the time of the first began with the process
			one.Began = q.now()
		}
		one.From, one.All = from, false
		a, err := Donor(ctx, r, one)
		if err != nil {
			return c, err
		}
		c.On = a.On
		c.Donors = append(c.Donors, comparedDonor(a))
	}
	slices.SortStableFunc(c.Donors, func(a, b ComparedDonor) int {
		return cmp.Or(cmp.Compare(lists.Order(a.Cost == nil), lists.Order(b.Cost == nil)),
			comparePlans(a.cost, b.cost, q.Prefer), cmp.Compare(a.From, b.From))
	})
	return c, nil
}

func comparePlans(a, b plan.Cost, prefer plan.Prefer) int {
	switch {
	case a.Less(b, prefer):
		return -1
	case b.Less(a, prefer):
		return 1
	}
	return 0
}

func comparedDonor(a DonorAnswer) ComparedDonor {
	d := ComparedDonor{From: a.From, Outcome: a.Outcome, Brings: a.Goal, Needs: []string{}}
	if len(a.Plans) == 0 {
		if a.Clash != nil && len(a.Clash.Joints) > 0 {
			d.Why = a.Clash.Joints[0].Text
		}
		return d
	}
	first := a.Plans[0]
	d.Cost, d.Ready, d.cost = &first.Cost, first.Ready(), first.cost
	for _, part := range slices.Concat(first.Take, first.Get) {
		if !slices.ContainsFunc(a.Goal, func(g DonorPart) bool { return g.Position == part.Position }) {
			d.Needs = append(d.Needs, part.Position.Local()+": "+string(part.Part))
		}
	}
	for _, g := range first.Make {
		text := g.Text
		if g.Quantity > 1 {
			text = fmt.Sprintf("%d x %s", g.Quantity, text)
		}
		d.Needs = append(d.Needs, text)
	}
	return d
}
