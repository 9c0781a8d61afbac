package donor

import (
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// ofExchange is, in the problem that is solved, that a donor can't be ridden after certain
// exchanges.
const ofExchange = "donor"

// mostTogether is up to how many places one exchange is ruled out by: each more doubles what
// the solver is told.
const mostTogether = 12

// exchange says which parts that it needs a donor gives away for what comes off the
// machine.
type exchange struct {
	none bool // none of them
	// not are exchanges that leave the donor unusable, found by trying: any other may do.
	not []unusable
}

// unusable is, of some places of the machine, from which of them what the donor has is taken,
// and what the machine had goes onto the donor: so, whatever else is exchanged, the donor
// can't be ridden.
type unusable map[graph.PositionID]bool

// mostExchanges is how often a plan is looked for that leaves the donor usable, until it
// keeps all that it needs.
const mostExchanges = 24

// isKnown reports whether an exchange is ruled out already.
func (e exchange) isKnown(u unusable) bool {
	return slices.ContainsFunc(e.not, func(other unusable) bool { return maps.Equal(other, u) })
}

// ruledOut is the demand that an exchange is not made as it was.
func (u unusable) ruledOut(ids []graph.PositionID, gives map[graph.PositionID]int) plan.Demand {
	d := plan.Demand{Name: "the donor can still be ridden"}
	was := 0
	for k, id := range ids {
		d.Slots = append(d.Slots, gives[id])
		if u[id] {
			was |= 1 << k
		}
	}
	for other := range 1 << len(ids) {
		if other == was {
			continue
		}
		c := plan.Combination{}
		for k := range ids {
			c.Options = append(c.Options, other>>k&1)
		}
		d.Allowed = append(d.Allowed, c)
	}
	return d
}

// wrongWith are the exchanges of a plan after which the donor can't be ridden: for each
// thing that is wrong with it, those at the places that decide it; where that is not known,
// all of them together.
func wrongWith(p *planner, d DonorPlan) ([]unusable, error) {
	gets := map[graph.PositionID]graph.PartID{}
	if d.DonorAfter != nil {
		gets = d.DonorAfter.exchanged
	}
	after, err := p.donor.With(p.ctx, gets)
	if err != nil {
		return nil, err
	}
	j, err := swap.Judge(p.ctx, p.lent, after, swap.Asked{Ready: true})
	if err != nil {
		return nil, err
	}
	around, err := examine.ConnectionsAt(p.ctx, after, after.Changed())
	if err != nil {
		return nil, err
	}
	met := around.List(after, after.Changed())
	var found []unusable
	for _, o := range j.Outcomes {
		if places := decidedAt(met, o); o.IsOpen() && len(places) > 0 {
			found = append(found, exchangedAt(p, gets, places))
		}
	}
	if len(found) == 0 {
		found = append(found, exchangedAt(p, gets, lists.Mapped(p.slots,
			func(s *donorSlot) graph.PositionID { return p.onDonor(s.at) })))
	}
	return found, nil
}

// decidedAt are the places that decide an outcome; none where that is not known. What a part
// is at its own place hangs on all that it meets.
func decidedAt(met []examine.Connection, o examine.Outcome) []graph.PositionID {
	at := graph.PositionID(o.ID)
	var places []graph.PositionID
	for _, c := range met {
		switch {
		case c.What == o.What && c.ID == o.ID:
			return c.Places
		case examine.IsOfPart(o) && slices.Contains(c.Places, at):
			places = append(places, c.Places...)
		}
	}
	return lists.Unique(places)
}

// exchangedAt says of some places of the donor whether what it has there is taken, by their
// names on the machine.
func exchangedAt(p *planner, gets map[graph.PositionID]graph.PartID, places []graph.PositionID) unusable {
	u := unusable{}
	for _, s := range p.slots {
		if at := p.onDonor(s.at); slices.Contains(places, at) {
			_, u[s.at] = gets[at]
		}
	}
	for at := range gets {
		if id := at.On(p.before.Variant.Model); slices.Contains(places, at) {
			u[id] = true
		}
	}
	return u
}

// addExchanges adds to a problem that no exchange is made that leaves the donor unusable: a
// slot more for each place that it hangs on, whose option is whether the donor gives what it
// has there.
func addExchanges(p *planner, problem *plan.Problem, demands []*demand) []*demand {
	add := func(d plan.Demand) {
		problem.Demands = append(problem.Demands, d)
		demands = append(demands, &demand{Connection: examine.Connection{What: ofExchange, ID: d.Name},
			ways: make([]*donorWay, len(d.Allowed))})
	}
	gives := map[graph.PositionID]int{}
	for _, u := range p.q.exchange.not {
		ids, may := givenIn(p, u)
		if !may || len(ids) == 0 || len(ids) > mostTogether {
			continue
		}
		for _, id := range ids {
			if _, have := gives[id]; !have {
				gives[id] = len(problem.Slots)
				problem.Slots = append(problem.Slots, plan.Slot{Name: "what the donor has at " + id.Local(),
					Options: []plan.Option{{Name: "kept"}, {Name: "given"}}})
				add(givesAt(p, id, gives[id]))
			}
		}
		add(u.ruledOut(ids, gives))
	}
	return demands
}

// givenIn are the places of an exchange at which the donor may give what it has; false where
// it can't be made, since nothing of the donor's may come to one of its places.
func givenIn(p *planner, u unusable) (ids []graph.PositionID, may bool) {
	for _, id := range lists.KeysOf(u) {
		i, have := p.slotAt[id]
		gives := have && slices.ContainsFunc(p.slots[i].options,
			func(o donorOption) bool { return o.other || o.from == fromDonor })
		switch {
		case gives:
			ids = append(ids, id)
		case u[id]:
			return nil, false
		}
	}
	return ids, true
}

// givesAt is the demand that the donor gives what a place takes of it.
func givesAt(p *planner, id graph.PositionID, gives int) plan.Demand {
	i := p.slotAt[id]
	d := plan.Demand{Name: "what " + id.Local() + " takes the donor gives", Slots: []int{i, gives}}
	for o, option := range p.slots[i].options {
		if option.other || option.from != fromDonor {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{o, 0}})
		}
		if option.other || option.from == fromDonor {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{o, 1}})
		}
	}
	return d
}
