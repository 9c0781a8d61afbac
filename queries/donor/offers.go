package donor

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// ofOffer and ofParcel are, in the problem that is solved, that a part of an offer
// is to be had only with the whole of it, and an offer only with its postage.
const (
	ofOffer  = "offer"
	ofParcel = "parcel"
)

func isOffered(from string) bool { return strings.HasPrefix(from, fromOffer) }

// addOffered adds some of a part to what lies in an offer. Of one part in two
// conditions the worse one counts.
func addOffered(t *task, o graph.Offer, part graph.PartID, quantity int, c graph.Condition) {
	from := fromOffer + o.Name
	if i := slices.IndexFunc(t.lots, func(l lot) bool { return l.part == part && l.from == from }); i >= 0 {
		t.lots[i].quantity += quantity
		t.lots[i].condition = worse(t.lots[i].condition, c)
		return
	}
	t.lots = append(t.lots, lot{part: part, from: from, quantity: quantity, condition: cmp.Or(c, graph.ConditionUsed)})
}

func worse(a, b graph.Condition) graph.Condition {
	order := []graph.Condition{graph.ConditionNew, graph.ConditionUsed, graph.ConditionInspect}
	return order[max(slices.Index(order, a), slices.Index(order, cmp.Or(b, graph.ConditionUsed)))]
}

// addFromLots gives a slot what lies in the boxes and in the offers, where there
// are enough for it. Several places may have the same one; see addLots.
func addFromLots(p *planner, s *donorSlot) {
	for _, l := range p.lots {
		kind := p.before.Library().Part(l.part).Kind
		seat := p.before.Seat(s.at) // hardware is not looked for among all numbers, but what lies there is at hand
		isOfPlace := slices.Contains(kindsAt(p, s.at), kind) ||
			kind != "" && (kind == seat.Part.Kind || kind == seat.Position.Kind)
		if p.wantedAt(s.at) <= l.quantity && isOfPlace && !mustBeNew(p, s.at, l) {
			addOption(p, s, l.part, l.from)
		}
	}
}

// mustBeNew reports whether a place takes a new part every time, and this is none.
func mustBeNew(p *planner, at graph.PositionID, l lot) bool {
	return l.condition != graph.ConditionNew && p.before.Position(at).Renew
}

// lotOf is the lot that an option comes out of; nil for none.
func lotOf(p *planner, o donorOption) *lot {
	if i := slices.IndexFunc(p.lots, func(l lot) bool { return l.is(o) }); i >= 0 {
		return &p.lots[i]
	}
	return nil
}

// priceWithPostage is the most that an offer may add to a plan.
func priceWithPostage(o graph.Offer) int { return o.Price.Hundredths + o.Postage.Hundredths }

// dearestOffer is what the dearest of the offers costs that a slot may take from.
func dearestOffer(p *planner, s *donorSlot) int {
	dearest := 0
	for _, o := range p.q.Offers {
		from := fromOffer + o.Name
		if slices.ContainsFunc(s.options, func(x donorOption) bool { return x.from == from }) {
			dearest = max(dearest, priceWithPostage(o))
		}
	}
	return dearest
}

// addOffers adds to a problem that an offer is paid for, whole, once one of its
// parts is taken, and the postage of a parcel once something in it is bought: a
// slot more for each, which the places that may take from it ask.
func addOffers(p *planner, problem *plan.Problem, demands []*demand) []*demand {
	add := func(what, id string, d plan.Demand) {
		problem.Demands = append(problem.Demands, d)
		demands = append(demands, &demand{Connection: examine.Connection{What: what, ID: id},
			ways: make([]*donorWay, len(d.Allowed))})
	}
	bought := map[string]int{} // the slot of an offer
	for _, o := range p.q.Offers {
		users := usersOfOffer(p, o)
		if len(users) == 0 || priceWithPostage(o) == 0 && !o.Unpriced {
			continue
		}
		at := len(problem.Slots)
		bought[o.Name] = at
		problem.Slots = append(problem.Slots, plan.Slot{Name: "offer " + o.Name,
			Options: []plan.Option{{Name: "left"}, {Name: "bought", Cost: plan.Cost{Money: countedPrice(p, o, users)}}}})
		for _, i := range users {
			add(ofOffer, o.Name, asksOffer(p, o, i, at))
		}
	}
	for _, parcel := range parcels(p, bought) {
		at := len(problem.Slots)
		problem.Slots = append(problem.Slots, parcel.slot())
		for _, o := range parcel.offers {
			add(ofParcel, parcel.name, parcel.asks(o, bought[o.Name], at))
		}
	}
	return demands
}

// countedPrice is what an offer counts for: its price; where nobody named one, more than all else
// together that could do for the places that may take from it, so that it is bought only for want
// of that.
func countedPrice(p *planner, o graph.Offer, users []int) int {
	if !o.Unpriced {
		return o.Price.Hundredths
	}
	counted := 1
	for _, other := range p.q.Offers {
		counted += priceWithPostage(other)
	}
	for _, i := range users {
		dearest := 0
		for _, option := range p.slots[i].options {
			dearest = max(dearest, option.cost.Money)
		}
		counted += dearest
	}
	return counted
}

// usersOfOffer are the slots that may take something out of an offer.
func usersOfOffer(p *planner, o graph.Offer) []int {
	var users []int
	for i, s := range p.slots {
		if slices.ContainsFunc(s.options, func(x donorOption) bool { return x.from == fromOffer+o.Name }) {
			users = append(users, i)
		}
	}
	return users
}

// asksOffer is the demand that what a slot takes from an offer was bought.
func asksOffer(p *planner, o graph.Offer, slot, offer int) plan.Demand {
	d := plan.Demand{Name: "what " + p.slots[slot].at.Local() + " takes of " + o.Name + " is bought",
		Slots: []int{slot, offer}}
	for i, option := range p.slots[slot].options {
		if option.from != fromOffer+o.Name {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{i, 0}})
		}
		d.Allowed = append(d.Allowed, plan.Combination{Options: []int{i, 1}})
	}
	return d
}

// parcel is what is sent together, the least postage first.
type parcel struct {
	name    string
	offers  []graph.Offer
	postage []int // what it may cost, each once
}

// parcels are those of the offers that a problem may buy and that cost postage, in
// the order of the offers.
func parcels(p *planner, bought map[string]int) []parcel {
	var all []parcel
	for _, o := range p.q.Offers {
		if _, may := bought[o.Name]; !may || o.Postage.Hundredths == 0 {
			continue
		}
		i := slices.IndexFunc(all, func(x parcel) bool { return x.name == parcelOf(o) })
		if i < 0 {
			i = len(all)
			all = append(all, parcel{name: parcelOf(o)})
		}
		all[i].offers = append(all[i].offers, o)
	}
	for i, one := range all {
		slices.SortStableFunc(one.offers, func(a, b graph.Offer) int {
			return cmp.Compare(a.Postage.Hundredths, b.Postage.Hundredths)
		})
		all[i].postage = slices.Compact(lists.Mapped(one.offers,
			func(o graph.Offer) int { return o.Postage.Hundredths }))
	}
	return all
}

// parcelOf is the parcel that an offer comes in; its own when it names none.
func parcelOf(o graph.Offer) string { return cmp.Or(o.Parcel, "that of "+o.Name) }

// slot is what the postage comes to: nothing, or that of one of the offers.
func (c parcel) slot() plan.Slot {
	s := plan.Slot{Name: "parcel " + c.name, Options: []plan.Option{{Name: "not sent"}}}
	for _, postage := range c.postage {
		of := measure.Money{Hundredths: postage, Currency: c.offers[0].Postage.Currency}
		s.Options = append(s.Options, plan.Option{Name: "postage " + of.String(), Cost: plan.Cost{Money: postage}})
	}
	return s
}

// asks is the demand that a bought offer has its postage paid.
func (c parcel) asks(o graph.Offer, offer, at int) plan.Demand {
	d := plan.Demand{Name: "postage of " + o.Name, Slots: []int{offer, at}}
	for i := range len(c.postage) + 1 {
		d.Allowed = append(d.Allowed, plan.Combination{Options: []int{0, i}})
		if i > 0 && c.postage[i-1] >= o.Postage.Hundredths {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{1, i}})
		}
	}
	return d
}

// mayShare reports whether some place takes more of a part than an offer has of it, so that
// several counters together could fill it: that is not looked at, and nothing is proved.
func mayShare(p *planner) bool {
	return slices.ContainsFunc(p.slots, func(s *donorSlot) bool {
		return slices.ContainsFunc(p.lots, func(l lot) bool {
			return isOffered(l.from) && l.quantity < p.wantedAt(s.at) && !mustBeNew(p, s.at, l) &&
				slices.Contains(kindsAt(p, s.at), p.before.Library().Part(l.part).Kind)
		})
	})
}
