package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// Where a part of a plan comes from.
const (
	fromBuilt = "as it is"
	fromDonor = "donor"
	fromGraph = "graph"
	FromAsked = "asked for"
	fromNew   = "as built" // for a place that is empty now
	fromBox   = "box "     // and the name of the box
	fromOffer = "offer "   // and its name
	fromEmpty = "empty now"
	fromOut   = "left out" // of a place that only one of machine and donor has
	// FromOffers is, in a goal, that the plan chooses among the offers.
	FromOffers = "the offers"
)

// donorSlot is a position of the machine that may take another part.
type donorSlot struct {
	at      graph.PositionID
	options []donorOption
	// grown is true once its candidates were read. Before that it has what is
	// there, and "something else" that mates with everything and costs the
	// least any part could: a plan that takes it makes the slot grow, one that
	// does not is a smallest plan all the same.
	grown bool
	fixed bool
	// wanted is true for a place that must get something out of the offers, whatever
	// it is.
	wanted bool
	narrow narrowness // of a rough plan: what was looked at for it
	// exact is true where what a part leaves undecided is counted beside all that may come with
	// it; vague where that would be too much, and may not be what it is.
	exact, vague bool
}

// isGoal reports whether a slot is one that was asked to change.
func (s *donorSlot) isGoal() bool { return s.fixed || s.wanted }

// donorOption is one part for a position.
type donorOption struct {
	part  graph.PartID
	from  string
	other bool // "something else", not looked at yet
	// weighed is true when it was seen whether the part would earn its place.
	weighed bool
	open    bool // it would not, and counts as an unknown
	// unpriced is true where the money in its cost is no price but what counts for one that
	// nobody knows.
	unpriced bool
	cost     plan.Cost
}

// seatKey is a part at a position.
type seatKey struct {
	at   graph.PositionID
	part graph.PartID
}

// addSlot makes a position a slot that may stay or take something else. A
// position that must stay, or that holds what makes the machine that machine,
// becomes none. One that is empty may stay empty, as long as nothing touches it.
func addSlot(p *planner, id graph.PositionID) bool {
	if !mayAdd(p, id) {
		return false
	}
	seat := p.base.Seat(id)
	_, empty := p.empty[id]
	stays := donorOption{part: seat.Part.ID, from: fromBuilt}
	switch {
	case empty:
		stays.from = fromEmpty
	case p.base.Brings(id):
		stays.from = fromOut
	}
	s := &donorSlot{at: id, options: []donorOption{stays}}
	if !p.rough { // a rough plan looks at what it may take at once
		s.options = append(s.options, donorOption{other: true, from: "something else", cost: least(p, id)})
	}
	add(p, s)
	return true
}

// mayAdd reports whether a place has no slot yet and could have one.
func mayAdd(p *planner, id graph.PositionID) bool {
	seat := p.base.Seat(id)
	_, empty := p.empty[id]
	_, have := p.slotAt[id]
	return !have && !p.keep[id] && (!seat.Empty || empty || p.base.Brings(id)) && !swap.IsMachine(seat.Part)
}

// least is the least that any other part at one of some places could cost.
func least(p *planner, places ...graph.PositionID) plan.Cost {
	cost := plan.Cost{Effort: int(graph.EffortHandTools), Parts: 1, Distance: 1}
	if p.q.Boxes || slices.ContainsFunc(places, func(id graph.PositionID) bool { return mayGo(p, id) }) {
		cost.Parts = 0 // it may lie in a box, or what is there come off for good
	}
	if len(p.empty) > 0 {
		cost.Distance = 0 // it may be what was built there
	}
	return cost
}

// mayGo reports whether what sits at a place may come off for good: the donor has no such
// place, and it carries nothing that hung on it alone in a plan before.
func mayGo(p *planner, id graph.PositionID) bool {
	return p.before.MayGo(id) && !slices.Contains(p.q.carriers, id)
}

func add(p *planner, s *donorSlot) {
	p.slotAt[s.at] = len(p.slots)
	p.slots = append(p.slots, s)
}

// grow reads the candidates of slots, in few calls for all of them.
func grow(p *planner, slots []*donorSlot) error {
	ids := lists.Mapped(slots, func(s *donorSlot) graph.PositionID { return s.at })
	byKind := map[graph.KindID][]graph.PartID{}
	if len(p.lots) > 0 || slices.ContainsFunc(slots, func(s *donorSlot) bool { return s.narrow != donorsOnly }) {
		var err error
		if byKind, err = readCandidates(p, ids); err != nil {
			return err
		}
	}
	if err := p.before.Library().ReadLineages(p.ctx, append(boughtFor(p, slots, byKind),
		lists.Mapped(ids, p.builtAt)...)); err != nil {
		return err
	}
	if p.donor != nil {
		if err := p.donor.Load(p.ctx, lists.Mapped(ids, p.onDonor)...); err != nil {
			return err
		}
	}
	for _, s := range slots {
		s.options = slices.DeleteFunc(s.options, func(o donorOption) bool { return o.other })
		addFromLots(p, s) // first: what is in a box need not come off the donor
		if p.donor != nil {
			if seat := p.donor.Seat(p.onDonor(s.at)); !seat.Empty && isFree(p, s.at) {
				addOption(p, s, seat.Part.ID, fromDonor)
			}
		}
		if mayGo(p, s.at) {
			s.options = append(s.options, donorOption{from: fromOut,
				cost: plan.Cost{Effort: int(graph.EffortHandTools), Distance: 1}})
		}
		if built := p.empty[s.at]; built != "" {
			addOption(p, s, built, fromNew)
		}
		addFromGraph(p, s, byKind)
		countUnpricedAt(p, s)
		s.grown = true
	}
	dropDear(p, slots)
	return nil
}

// boughtFor are the parts that slots may have bought, by their numbers.
func boughtFor(p *planner, slots []*donorSlot, byKind map[graph.KindID][]graph.PartID) []graph.PartID {
	var parts []graph.PartID
	for _, s := range slots {
		if s.narrow == donorsOnly {
			continue
		}
		parts = append(parts, listedAtNamesakes(p, s.at)...)
		if s.narrow != listedOnly {
			for _, kind := range kindsAt(p, s.at) {
				parts = append(parts, byKind[kind]...)
			}
		}
	}
	return lists.Unique(parts)
}

// addFromGraph adds what can be had by its number: what some list has at a place of
// that name, and all of the kinds that go there.
func addFromGraph(p *planner, s *donorSlot, byKind map[graph.KindID][]graph.PartID) {
	if s.narrow == donorsOnly {
		return
	}
	for _, part := range listedAtNamesakes(p, s.at) {
		addOption(p, s, part, fromGraph)
	}
	if s.narrow == listedOnly {
		return
	}
	for _, kind := range kindsAt(p, s.at) {
		for _, part := range byKind[kind] {
			addOption(p, s, part, fromGraph)
		}
	}
}

// readCandidates reads what sources list at the positions of the same names on
// any model, what lies in boxes and offers, and every part of the kinds that go there.
// The kinds are mostly known beforehand, so that all is one read of parts; where
// another model has another kind there, those are read besides.
func readCandidates(p *planner, ids []graph.PositionID) (map[graph.KindID][]graph.PartID, error) {
	l := p.before.Library()
	if err := readModels(p); err != nil {
		return nil, err
	}
	var all []graph.PositionID
	for _, id := range ids {
		all = append(all, namesakes(p, id)...)
	}
	if err := l.ReadPositions(p.ctx, all); err != nil {
		return nil, err
	}
	listed := inLots(p)
	for _, id := range ids {
		listed = append(listed, listedAtNamesakes(p, id)...)
	}
	if err := readKindsOfParts(p, ids, listed); err != nil {
		return nil, err
	}
	if err := readKindsOfParts(p, ids, nil); err != nil {
		return nil, err
	}
	return p.byKind, readMeant(p, ids)
}

// readModels reads which models there are.
func readModels(p *planner) error {
	if p.models != nil {
		return nil
	}
	models, err := p.before.Library().Reader().Models(p.ctx)
	p.models = lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	return err
}

// readKindsOfParts reads all parts of the kinds that are known to go to the
// positions, and some more parts.
func readKindsOfParts(p *planner, ids []graph.PositionID, more []graph.PartID) error {
	var kinds []graph.KindID
	for _, id := range ids {
		kinds = append(kinds, kindsAt(p, id)...)
	}
	kinds = lists.Kept(lists.Unique(kinds), func(id graph.KindID) bool { _, have := p.byKind[id]; return !have })
	if len(kinds) > 0 {
		parts, err := p.before.Library().Reader().PartsOfKind(p.ctx, kinds...)
		if err != nil {
			return err
		}
		more = append(more, parts...)
	}
	if err := p.before.Library().ReadParts(p.ctx, more); err != nil {
		return err
	}
	for _, kind := range kinds {
		p.byKind[kind] = lists.Kept(lists.Unique(slices.Clone(more)),
			func(id graph.PartID) bool { return p.before.Library().Part(id).Kind == kind })
	}
	return nil
}

func namesakes(p *planner, id graph.PositionID) []graph.PositionID {
	return lists.Mapped(p.models, id.On)
}

func listedAtNamesakes(p *planner, id graph.PositionID) []graph.PartID {
	var parts []graph.PartID
	for _, at := range namesakes(p, id) {
		parts = append(parts, machine.PartsIn(p.before.Library().ListedAt(at))...)
	}
	return lists.Unique(parts)
}

// kindsAt are the kinds of part that may go to a position: that of what is
// there, of what belongs there, and of what any model has there. Of hardware
// only what is listed somewhere is tried.
func kindsAt(p *planner, id graph.PositionID) []graph.KindID {
	seat := p.before.Seat(id)
	kinds := []graph.KindID{seat.Part.Kind, seat.Position.Kind}
	for _, part := range listedAtNamesakes(p, id) {
		kinds = append(kinds, p.before.Library().Part(part).Kind)
	}
	return lists.Kept(lists.Unique(kinds), func(k graph.KindID) bool { return !machine.IsOrderedBySize(k) })
}
