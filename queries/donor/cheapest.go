package donor

import (
	"context"
	"slices"
	"time"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// CheapestRoute is the whole way that costs least money, whatever the work.
type CheapestRoute struct {
	Cost DonorCost `json:"cost"`
	Buy  []string  `json:"buy"` // the offers by name
	// Same is true when it costs as much as the plan that is told.
	Same bool `json:"same"`
	// Proved is true when nothing is cheaper with as little left unknown.
	Proved bool `json:"proved"`
}

// shortestLook is below which time nothing is looked for.
const shortestLook = 50 * time.Millisecond

// cheapestRoute looks, in the time that is left, for the plan that costs least
// money with as few things left unknown. It is nil without offers, without a plan,
// when money counts first anyway, and when there was no time.
func cheapestRoute(ctx context.Context, r graph.Reader, q DonorQuestion, a DonorAnswer) (*CheapestRoute, error) {
	if len(q.Offers) == 0 || q.Prefer == plan.PreferMoney || len(a.Plans) == 0 {
		return nil, nil
	}
	if q.Time -= q.now().Sub(q.Began); q.Time < shortestLook {
		return nil, nil
	}
	q.Prefer, q.All, q.Better, q.Began = plan.PreferMoney, false, nil, q.now()
	cheap, err := donorKept(ctx, r, q)
	if err != nil || len(cheap.Plans) == 0 || robs(cheap) {
		return nil, err
	}
	first := cheap.Plans[0]
	return &CheapestRoute{Cost: first.Cost, Buy: lists.Mapped(first.Buy, func(b BoughtOffer) string { return b.Name }),
		Same: first.Cost.Money == a.Plans[0].Cost.Money, Proved: cheap.Outcome == plan.ProvedSmallest}, nil
}

// notBought are the offers that the first plan leaves, in their order.
func notBought(p *planner, a DonorAnswer) []string {
	if len(a.Plans) == 0 {
		return nil
	}
	var left []string
	for _, o := range p.q.Offers {
		if !slices.ContainsFunc(a.Plans[0].Buy, func(b BoughtOffer) bool { return b.Name == o.Name }) {
			left = append(left, o.Name)
		}
	}
	return left
}

// tellOverBudget says what the cheapest plan costs when none keeps the budget.
func tellOverBudget(p *planner, a *DonorAnswer, result plan.Result) error {
	if result.OverBudget == nil {
		return nil
	}
	p.ctx.until(time.Time{})
	made, err := planOf(p, *result.OverBudget)
	if err != nil {
		return err
	}
	made.Cost.Counted = money(p, result.OverBudget.Cost.Money)
	a.OverBudget = &made.Cost
	return nil
}
