package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
)

// Closing is what to get so that the swap goes on, parts by their numbers and
// what is made by its sizes.
func (a SwapAnswer) Closing() (needs []shop.Need, made []shop.Made) {
	for _, g := range a.Get {
		if g.IsWork() {
			continue
		}
		at := []graph.PositionID{}
		if g.Position != "" {
			at = append(at, g.Position)
		}
		if g.IsOrdered() {
			made = append(made, shop.Made{What: g.What, Text: g.Text, Quantity: max(1, g.Quantity), At: at, Spec: g.Spec})
			continue
		}
		needs = append(needs, shop.Need{Part: g.Part, Quantity: max(1, g.Quantity), At: at, Why: shop.WhyCloses,
			Safety: a.safetyOf(g)})
	}
	return needs, made
}

// safetyOf is the class of the first outcome that something closes.
func (a SwapAnswer) safetyOf(g Get) graph.Safety {
	for _, list := range [][]examine.Outcome{a.DoesNotMate, a.WithChanges, a.Unknown} {
		for _, o := range list {
			if slices.Contains(g.For, o.ID) && len(o.Safety) > 0 {
				return o.Safety[0]
			}
		}
	}
	return graph.SafetyNone
}

// ShopQuestion is what to make one list of for a swap on the machine before it:
// the parts asked for, what closes the gaps, what goes on new, and what the work
// uses up. A part asked for that does not go there, whatever is done, is left out
// and said; bike is nil for a variant.
func (a SwapAnswer) ShopQuestion(ctx context.Context, before *machine.Setup) (shop.Question, error) {
	q := shop.Question{On: before.Variant, Stock: Stock(before)}
	if before.Bike != nil {
		q.Frame = before.Bike.Frame
	}
	needs, made := a.Closing()
	var places []graph.PositionID
	for _, line := range a.Swaps {
		places = append(places, line.Position)
		if line.Now == "" {
			continue
		}
		if why := a.refusal(line.Position); why != "" {
			q.Refused = append(q.Refused, shop.Refused{Part: line.Now, At: []graph.PositionID{line.Position},
				Safety: line.Safety,
				Why:    why})
			continue
		}
		q.Needs = append(q.Needs, shop.Need{Part: line.Now, Quantity: before.Quantity(line.Position),
			At: []graph.PositionID{line.Position}, Why: shop.WhyAsked, Safety: line.Safety})
	}
	q.Needs, q.Made = append(q.Needs, needs...), made
	for _, row := range a.Renew {
		if row.Part == "" {
			continue // fluid, or in words what the place takes
		}
		places = append(places, row.Position)
		q.Needs = append(q.Needs, shop.Need{Part: row.Part, Quantity: max(1, row.Quantity),
			At:  []graph.PositionID{row.Position},
			Why: shop.WhyRenew, Safety: before.Position(row.Position).Safety})
	}
	places = lists.Unique(places)
	for _, id := range places {
		q.Places = append(q.Places, shop.PlaceTakes{At: id, Pieces: before.Quantity(id), Takes: before.Position(id).Takes})
	}
	circuits, err := before.Library().CircuitsTouching(ctx, before.Variant.ID, places)
	if err != nil {
		return q, err
	}
	for _, c := range circuits {
		if err := before.Load(ctx, c.Members...); err != nil {
			return q, err
		}
	}
	q.Fluids = shop.Fluids(before, circuits)
	return q, nil
}

// refusal says why a part that was asked for can't go to its place; empty where
// what does not mate is closed by something on the list.
func (a SwapAnswer) refusal(at graph.PositionID) string {
	for _, o := range a.DoesNotMate {
		here := slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at })
		closed := slices.ContainsFunc(a.Get, func(g Get) bool { return slices.Contains(g.For, o.ID) })
		if here && !closed {
			return o.Why
		}
	}
	return ""
}

// Stock is what lies in the boxes of the machine, in sound pieces whose number
// was read or measured.
func Stock(s *machine.Setup) map[graph.PartID]int {
	stock := map[graph.PartID]int{}
	if s.Bike == nil {
		return stock
	}
	for _, box := range s.Bike.Boxes {
		for _, item := range box.Items {
			sure := item.Sure == "number read" || item.Sure == "measured"
			if sure && machine.StateOf(s.Library().Part(item.Part), item.Specimen).Is == graph.Sound {
				stock[item.Part] += item.Quantity
			}
		}
	}
	return stock
}

// ShopAnswer is one list of what to get for a swap or a plan.
type ShopAnswer struct {
	On   graph.VariantID `json:"on"`
	Bike graph.BikeID    `json:"bike,omitempty"`
	// Swaps are the parts that it is for.
	Swaps []SwapLine `json:"swaps"`
	shop.List
	Ready    bool              `json:"ready_to_ride"`
	NotReady []string          `json:"not_ready,omitempty"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// SafetyOpen reports whether the swap leaves something open that safety hangs on.
func (a ShopAnswer) SafetyOpen() bool { return !a.Ready || a.List.SafetyOpen() }

// Shop makes one list of what to get for a swap. Errors are those of Swap.
func Shop(ctx context.Context, r graph.Reader, q SwapQuestion) (ShopAnswer, error) {
	before, _, a, err := Between(ctx, r, q)
	if err != nil {
		return ShopAnswer{}, err
	}
	return a.Shop(ctx, before)
}

// Shop makes one list of what to get for the answer on the machine before it.
func (a SwapAnswer) Shop(ctx context.Context, before *machine.Setup) (ShopAnswer, error) {
	answer := ShopAnswer{On: a.On, Bike: a.Bike, Swaps: a.Swaps, Ready: a.Ready, NotReady: a.NotReady,
		Cautions: a.Cautions}
	question, err := a.ShopQuestion(ctx, before)
	if err != nil {
		return answer, err
	}
	answer.List, err = shop.Make(ctx, before.Library().Reader(), question)
	return answer, err
}
