package donor

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// BoughtOffer is an offer that a plan buys, with what becomes of each part in it.
type BoughtOffer struct {
	Name      string          `json:"name"`
	Title     string          `json:"title,omitempty"`
	Price     string          `json:"price"`
	Postage   string          `json:"postage,omitempty"` // empty when it is paid with another of its parcel
	Parcel    string          `json:"parcel,omitempty"`
	Condition graph.Condition `json:"condition"`
	Used      []OfferedUse    `json:"used"`
	// Left is what nothing needs: to keep or to sell.
	Left []OfferedLeft `json:"left"`
}

// OfferedUse is where a part of an offer goes.
type OfferedUse struct {
	Position graph.PositionID `json:"position"`
	Part     graph.PartID     `json:"part"`
	PartName string           `json:"part_name,omitempty"`
	Quantity int              `json:"quantity"`
	// Inspect is true when nobody who knows has looked at it.
	Inspect bool `json:"inspect,omitempty"`
}

// OfferedLeft is what is left over of one part.
type OfferedLeft struct {
	Part      graph.PartID    `json:"part"`
	PartName  string          `json:"part_name,omitempty"`
	Quantity  int             `json:"quantity"`
	Condition graph.Condition `json:"condition"`
	Price     string          `json:"price,omitempty"` // that somebody asked for one
}

// DonorRoute is what the whole way costs, what was asked for included.
type DonorRoute struct {
	Offers  string `json:"offers,omitempty"`
	Postage string `json:"postage,omitempty"`
	Other   string `json:"other,omitempty"` // parts and things made that are in no offer, as far as they have a price
	Total   string `json:"total"`
	// LeftOver is what others asked for what is left over, as far as it is known:
	// nobody has paid it yet.
	LeftOver string `json:"left_over,omitempty"`
}

// bought works out what a plan buys, in the order of the offers, and which postage
// each adds: that of a parcel is paid with its dearest.
func bought(p *planner, d *DonorPlan) []BoughtOffer {
	var all []BoughtOffer
	dearest := map[string]int{} // of a parcel: the offer that pays, as an index into all
	parts := slices.Concat(d.Take, d.Get)
	for _, o := range p.q.Offers {
		from := fromOffer + o.Name
		if !slices.ContainsFunc(parts, func(x DonorPart) bool { return x.From == from }) {
			continue
		}
		b := BoughtOffer{Name: o.Name, Title: o.Title, Price: o.Asked(), Parcel: o.Parcel, Condition: o.Condition,
			Used: []OfferedUse{}, Left: []OfferedLeft{}}
		for _, l := range p.lots {
			if l.from == from {
				shareOut(p, &b, l, parts)
			}
		}
		all = append(all, b)
		i, have := dearest[parcelOf(o)]
		if !have || offerNamed(p, all[i].Name).Postage.Hundredths < o.Postage.Hundredths {
			dearest[parcelOf(o)] = len(all) - 1
		}
	}
	for _, i := range dearest {
		if m := offerNamed(p, all[i].Name).Postage; m.Hundredths > 0 {
			all[i].Postage = m.String()
		}
	}
	return all
}

func offerNamed(p *planner, name string) graph.Offer {
	return p.q.Offers[slices.IndexFunc(p.q.Offers, func(o graph.Offer) bool { return o.Name == name })]
}

// shareOut says of one lot where its parts go and how many are left.
func shareOut(p *planner, b *BoughtOffer, l lot, parts []DonorPart) {
	part := p.before.Library().Part(l.part)
	left := l.quantity
	for _, x := range parts {
		if x.Part != l.part || x.From != l.from {
			continue
		}
		b.Used = append(b.Used, OfferedUse{Position: x.Position, Part: x.Part, PartName: part.Name, Quantity: x.Quantity,
			Inspect: l.condition == graph.ConditionInspect})
		left -= x.Quantity
	}
	if left > 0 {
		b.Left = append(b.Left, OfferedLeft{Part: l.part, PartName: part.Name, Quantity: left, Condition: l.condition,
			Price: swap.PriceOf(part)})
	}
}

// route adds up what the whole way costs. Other is in hundredths.
func route(p *planner, bought []BoughtOffer, other int) *DonorRoute {
	if len(p.q.Offers) == 0 {
		return nil
	}
	offers, postage, left := 0, 0, 0
	for _, b := range bought {
		o := offerNamed(p, b.Name)
		offers += o.Price.Hundredths
		if b.Postage != "" {
			postage += o.Postage.Hundredths
		}
		for _, l := range b.Left {
			if m, ok := inCurrency(p, l.Price); ok {
				left += m * l.Quantity
			}
		}
	}
	r := &DonorRoute{Total: money(p, offers+postage+other)}
	for to, sum := range map[*string]int{&r.Offers: offers, &r.Postage: postage, &r.Other: other, &r.LeftOver: left} {
		if sum > 0 {
			*to = money(p, sum)
		}
	}
	return r
}

// money writes a sum in the currency of the question.
func money(p *planner, hundredths int) string {
	return measure.Money{Hundredths: hundredths, Currency: p.currency}.String()
}

// inCurrency is a price in hundredths; false when there is none, or in another
// currency.
func inCurrency(p *planner, price string) (int, bool) {
	m, err := measure.ParseMoney(price)
	return m.Hundredths, err == nil && m.Currency == p.currency
}

// toInspect are the places that get something which somebody must look at before
// it is used.
func toInspect(bought []BoughtOffer) []OfferedUse {
	var all []OfferedUse
	for _, b := range bought {
		all = append(all, lists.Kept(slices.Clone(b.Used), func(u OfferedUse) bool { return u.Inspect })...)
	}
	return all
}

// notProved says what stands against riding as long as nobody has proved that it is what it
// is called: a part out of a box that was identified by eye.
func notProved(p *planner, d DonorPlan) []swap.Hindrance {
	var said []swap.Hindrance
	for _, part := range d.Get {
		l := lotOf(p, donorOption{part: part.Part, from: part.From})
		if l != nil && isBoxed(l.from) && l.condition == graph.ConditionInspect && part.Safety != graph.SafetyNone {
			said = append(said, swap.ByEye(part.Position, part.Part))
		}
	}
	return said
}

// notInspected says what stands against riding as long as nobody has looked at it.
func notInspected(p *planner, bought []BoughtOffer) []swap.Hindrance {
	var said []swap.Hindrance
	for _, u := range toInspect(bought) {
		if at := p.before.Position(u.Position); at.Safety != graph.SafetyNone {
			said = append(said, swap.Judged(graph.Unknown, u.Position.Local(), "nobody who knows has looked at "+
				machine.NameOf(p.before.Library().Part(u.Part))))
		}
	}
	return said
}
