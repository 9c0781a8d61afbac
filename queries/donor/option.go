package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/plan"
)

// countUnpricedAt has a part without a price count, when plans are compared, as
// much as the dearest for the same place: a price nobody knows must not win.
// What the donor has is there already.
func countUnpricedAt(p *planner, s *donorSlot) {
	dearest := dearestOffer(p, s)
	free := false
	for _, o := range s.options {
		if !o.unpriced {
			dearest = max(dearest, o.cost.Money)
		}
		free = free || o.from == fromDonor || isBoxed(o.from)
	}
	for i, o := range s.options {
		if (o.from == fromGraph || o.from == fromNew) && (o.cost.Money == 0 || o.unpriced) {
			s.options[i].unpriced, s.options[i].cost.Money = true, unknownPrice(p, dearest, free)
		}
	}
}

// unknownPrice is what counts for a price that nobody knows where the dearest that could do
// the same costs so much: a hundredth more, so that of two that may cost the same the one
// whose price is known comes first. Where nothing has a price it is nothing, unless
// something is there already, which is no tie with what has to be bought. Against a budget
// it counts no more than the dearest.
func unknownPrice(p *planner, dearest int, isThere bool) int {
	if p.q.Budget.Hundredths > 0 || dearest == 0 && !isThere {
		return dearest
	}
	return dearest + 1
}

// addOption adds a part to the options of a slot, unless it is there already, is a
// kit, or has nothing described that could mate. What gave way to another part and must
// not go back is not bought for a machine that was not built with it. What lies in a box
// or an offer may be wanted elsewhere, so that the same part from anywhere else is another
// option.
func addOption(p *planner, s *donorSlot, id graph.PartID, from string) {
	part := p.before.Library().Part(id)
	if !p.before.Library().Has(id) || part.IsKit() || from == fromGraph && len(part.Features) == 0 ||
		isForAnother(p, s.at, part, from) || from == fromGraph && isRetired(p, s.at, id) ||
		p.before.Library().Refusal(id, p.builtAt(s.at), p.before.Variant, p.before.Frame) != "" ||
		slices.ContainsFunc(s.options, func(o donorOption) bool {
			return o.part == id && (o.from == fromBuilt && !s.wanted || counter(o.from) == counter(from) &&
				!isBoughtToo(p, s.at, o.from, from))
		}) {
		return
	}
	o := donorOption{part: id, from: from, cost: plan.Cost{Effort: int(graph.EffortHandTools), Distance: 1}}
	if !isBoxed(from) {
		o.cost.Parts = p.wantedAt(s.at) // two bolts are two parts
	}
	if !isBoxed(from) && !isOffered(from) && from != fromDonor { // an offer is paid for as a whole
		o.cost.Money = price(p, part, p.wantedAt(s.at))
	}
	if s.wanted || s.fixed {
		o.cost = plan.Cost{} // it was asked for: what it brings is not counted against it
	}
	if id == p.empty[s.at] {
		o.cost.Distance = 0
	}
	w := wordOn(p, s.at, id)
	o.cost.Effort = max(o.cost.Effort, int(w.effort))
	if w.against {
		o.cost.Unknowns = unknownsAt(p, s.at)
	}
	if l := lotOf(p, o); l != nil && l.condition == graph.ConditionInspect {
		o.cost.Unknowns += unknownsAt(p, s.at)
	}
	s.options = append(s.options, o)
}

// isBoughtToo reports whether what the donor has may have to be bought, since the donor, which
// is to stay usable, needs it.
func isBoughtToo(p *planner, at graph.PositionID, have, from string) bool {
	return p.q.DonorStays && have == fromDonor && from == fromGraph && isNeeded(p, at)
}

// isRetired reports whether a part gave way to another and must not go back, unless the
// machine was built with it.
func isRetired(p *planner, at graph.PositionID, part graph.PartID) bool {
	return part != p.builtAt(at) && p.before.Library().Retired(part) != ""
}

// counter is over which counter a part comes: the same number from another is
// another option.
func counter(from string) string {
	switch {
	case isBoxed(from):
		return fromBox
	case isOffered(from):
		return from
	}
	return ""
}

// isForAnother reports whether a part that is found somewhere, in the graph or
// in a box, is meant for another place.
func isForAnother(p *planner, at graph.PositionID, part graph.Part, from string) bool {
	found := from == fromGraph || isBoxed(from) || isOffered(from)
	return found && (isForOtherSide(p, at, part) || isForElsewhere(p, at, part.ID))
}

// isForOtherSide reports whether a part is called left at a position that is
// right, or the other way round. Spacers go either way.
func isForOtherSide(p *planner, at graph.PositionID, part graph.Part) bool {
	seat := p.before.Seat(at)
	return !examine.IsSpacer(seat) && machine.IsCalledForOtherSide(seat.Position, part)
}
