package donor

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// Shop makes one list of what to get for a plan: what comes from elsewhere than
// the donor and the boxes, what is made, what goes on new, and what the work uses
// up. Errors come from the reader.
func Shop(ctx context.Context, r graph.Reader, q DonorQuestion, d DonorPlan) (swap.ShopAnswer, error) {
	before, _, err := machines(ctx, r, q)
	if err != nil {
		return swap.ShopAnswer{}, err
	}
	a := d.Swap
	a.Get = d.Make
	answer := swap.NewShopAnswer(a)
	for _, b := range d.Buy {
		answer.Offers = append(answer.Offers, swap.ShopOffer{Name: b.Name, Title: b.Title, Price: b.Price, Postage: b.Postage,
			For: lists.Mapped(b.Used, func(u OfferedUse) graph.PositionID { return u.Position })})
	}
	question, err := a.ShopQuestion(ctx, before, d.apart)
	if err != nil {
		return answer, err
	}
	// what the donor or an offer gives; what a box gives is taken off the list by its number,
	// and what goes on new is on the list as such
	there := map[graph.PositionID]bool{}
	for _, list := range [][]DonorPart{d.Take, d.Get} {
		for _, part := range list {
			there[part.Position] = isOffered(part.From) || part.From == fromDonor ||
				isBoxed(part.From) && !isProvedIn(question.Boxes, part.Part) // by eye
		}
	}
	for _, part := range d.Refused { // what goes there instead is on the list
		there[part.Position] = true
	}
	kept := question.Needs[:0]
	for _, n := range question.Needs {
		for _, part := range d.Get {
			if n.Why == shop.WhyAsked && len(n.At) == 1 && n.At[0] == part.Position {
				n.Quantity = part.Quantity
			}
		}
		if n.Why != shop.WhyAsked || len(n.At) != 1 || !there[n.At[0]] {
			kept = append(kept, n)
		}
	}
	question.Needs = kept
	return listed(ctx, before, answer, question)
}

// listed puts the list into an answer, and what of it can't be had against riding.
func listed(ctx context.Context, before *machine.Setup, answer swap.ShopAnswer,
	q shop.Question) (swap.ShopAnswer, error) {
	var err error
	if answer.List, err = shop.Make(ctx, before.Library().Reader(), q); err != nil {
		return answer, err
	}
	answer.NotReady = append(answer.NotReady, swap.NotToBeHad(before, answer.List)...)
	answer.Ready = len(answer.NotReady) == 0
	return answer, nil
}

// isProvedIn reports whether some of a part in boxes is known to be that, and sound.
func isProvedIn(boxes []machine.InBox, id graph.PartID) bool {
	return slices.ContainsFunc(boxes, func(b machine.InBox) bool { return b.Part == id && b.IsProved() })
}

// ShopSwap makes one list of what to get for a swap that nobody planned: what its order of
// work lays out. Errors are those of swap.Swap.
func ShopSwap(ctx context.Context, r graph.Reader, q swap.SwapQuestion) (swap.ShopAnswer, error) {
	before, _, a, err := swap.Between(ctx, r, q)
	if err != nil {
		return swap.ShopAnswer{}, err
	}
	work, err := OrderOfWork(ctx, before, &a, a.Refused()...)
	if err != nil {
		return swap.ShopAnswer{}, err
	}
	answer := swap.NewShopAnswer(a)
	question, err := a.ShopQuestion(ctx, before, work.apart)
	if err != nil {
		return answer, err
	}
	return listed(ctx, before, answer, question)
}
