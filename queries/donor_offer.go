package queries

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/plan"
)

// countUnpricedAt has a part without a price count, when plans are compared, as
// much as the dearest for the same place: a price nobody knows must not win.
// What the donor has is there already.
func (p *planner) countUnpricedAt(s *donorSlot) {
	dearest := 0
	for _, o := range s.options {
		dearest = max(dearest, o.cost.Money)
	}
	for i, o := range s.options {
		if (o.from == fromGraph || o.from == fromNew) && o.cost.Money == 0 {
			s.options[i].cost.Money = dearest
		}
	}
}

// offer adds a part to the options of a slot, unless it is there already, is a
// kit, or has nothing described that could mate.
func (p *planner) offer(s *donorSlot, id graph.PartID, from string) {
	part, ok := p.before.library.parts[id]
	if !ok || part.IsKit() || from == fromGraph && (len(part.Features) == 0 || p.isForOtherSide(s.at, part) || p.isForElsewhere(s.at, id)) ||
		slices.ContainsFunc(s.options, func(o donorOption) bool { return o.part == id }) {
		return
	}
	o := donorOption{part: id, from: from, cost: plan.Cost{Effort: int(graph.EffortHandTools), Distance: 1}}
	if !strings.HasPrefix(from, fromBox) {
		o.cost.Parts = 1
		o.cost.Money = p.price(part, p.wantedAt(s.at))
	}
	if id == p.empty[s.at] {
		o.cost.Distance = 0
	}
	w := p.wordOn(s.at, id)
	o.cost.Effort = max(o.cost.Effort, int(w.effort))
	if w.against {
		o.cost.Unknowns = p.unknownsOf(p.before.Seat(s.at).Position.Safety != graph.SafetyNone)
	}
	s.options = append(s.options, o)
}

// isForOtherSide reports whether a part is called left at a position that is
// right, or the other way round. Spacers go either way.
func (p *planner) isForOtherSide(at graph.PositionID, part graph.Part) bool {
	isCalled := func(side string) bool {
		return slices.ContainsFunc(strings.FieldsFunc(part.Name, func(c rune) bool { return c == ' ' || c == ',' }),
			func(word string) bool { return word == side })
	}
	seat := p.before.Seat(at)
	side := seat.Position.Side
	for _, s := range []string{"left", "right"} {
		if side == "" && strings.HasSuffix(string(at), "-"+s) {
			side = s
		}
	}
	if isSpacer(seat) {
		return false
	}
	return side == "left" && isCalled("right") && !isCalled("left") || side == "right" && isCalled("left") && !isCalled("right")
}

// boxed are the parts in the boxes of the bike, when those may be used.
func (p *planner) boxed() []graph.PartID {
	var ids []graph.PartID
	if p.q.Boxes && p.before.Bike != nil {
		for _, box := range p.before.Bike.Boxes {
			for _, item := range box.Items {
				ids = append(ids, item.Part)
			}
		}
	}
	return ids
}

// offerBoxes offers what lies in the boxes, as often as it lies there: one part
// is not offered at two places. The place reached first, nearest to what was
// asked for, has it; to the others it is as dear as any part.
func (p *planner) offerBoxes(s *donorSlot) {
	if !p.q.Boxes || p.before.Bike == nil {
		return
	}
	for _, box := range p.before.Bike.Boxes {
		for _, item := range box.Items {
			isOfKind := slices.Contains(p.kindsAt(s.at), p.before.library.parts[item.Part].Kind)
			if isOfKind && p.wantedAt(s.at)+p.promised(item.Part, fromBox+box.Name) <= item.Quantity {
				p.offer(s, item.Part, fromBox+box.Name)
			}
		}
	}
}

// wantedAt is how many parts a position takes.
func (p *planner) wantedAt(at graph.PositionID) int {
	return p.before.Quantity(at)
}

// promised is how many of a part in a box were offered to places already.
func (p *planner) promised(part graph.PartID, from string) int {
	count := 0
	for _, s := range p.slots {
		for _, o := range s.options {
			if o.part == part && o.from == from {
				count += p.wantedAt(s.at)
			}
		}
	}
	return count
}
