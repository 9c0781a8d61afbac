package bike

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Offered is something that can be had and holds what a position needs. An offer is
// had whole or not at all: which of several is the cheapest whole way is for a plan
// to say.
type Offered struct {
	Offer     string          `json:"offer"`
	Title     string          `json:"title,omitempty"` // in the seller's words
	Part      graph.PartID    `json:"part"`
	Quantity  int             `json:"quantity"`          // how many of it lie there
	Others    int             `json:"others,omitempty"`  // pieces that lie there besides
	Price     string          `json:"price"`             // of all of it
	Postage   string          `json:"postage,omitempty"` // besides
	Condition graph.Condition `json:"condition"`
	How       string          `json:"how"` // as BoxUse.How
}

// Text is the offer in words: "offered in a fork, complete: 1 for 60 EUR and 12 EUR
// postage, used, with 8 other pieces".
func (o Offered) Text() string {
	text := fmt.Sprintf("offered in %s: %d x %s for %s", cmp.Or(o.Title, o.Offer), o.Quantity, o.Part, o.Price)
	if o.Price == graph.PriceUnknown {
		text = strings.TrimSuffix(text, o.Price) + "a price that nobody named"
	}
	if o.Postage != "" {
		text += " and " + o.Postage + " postage"
	}
	switch o.Condition {
	case graph.ConditionInspect:
		text += ", and nobody who knows has looked at it"
	default:
		text += ", " + string(o.Condition)
	}
	if o.Others == 1 {
		text += ", with 1 other piece"
	} else if o.Others > 1 {
		text += fmt.Sprintf(", with %d other pieces", o.Others)
	}
	return text
}

// offering is one part in an offer.
type offering struct {
	offer  graph.Offer
	part   graph.OfferedPart
	pieces int // in the whole offer
}

// readOffers reads what lies in offers.
func readOffers(ctx context.Context, m *ownMachine, offers []graph.Offer) ([]offering, error) {
	var all []offering
	for _, o := range offers {
		parts, err := machine.PartsOffered(ctx, m.setup, o)
		if err != nil {
			return nil, err
		}
		pieces := 0
		for _, p := range parts {
			pieces += p.Quantity
		}
		for _, p := range parts {
			all = append(all, offering{offer: o, part: p, pieces: pieces})
		}
	}
	ids := lists.Mapped(all, func(o offering) graph.PartID { return o.part.Part })
	return all, m.setup.Library().ReadParts(ctx, lists.Unique(ids))
}
