package queries

import (
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/plan"
)

// Where a part of a plan comes from.
const (
	fromBuilt = "as it is"
	fromDonor = "donor"
	fromGraph = "graph"
	fromAsked = "asked for"
	fromBox   = "box " // and the name of the box
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
}

// donorOption is one part for a position.
type donorOption struct {
	part  graph.PartID
	from  string
	other bool // "something else", not looked at yet
	cost  plan.Cost
}

// seatKey is a part at a position.
type seatKey struct {
	at   graph.PositionID
	part graph.PartID
}

// addSlot makes a position a slot that may stay or take something else. A
// position that must stay, or that holds what makes the machine that machine,
// becomes none.
func (p *planner) addSlot(id graph.PositionID) bool {
	seat := p.base.Seat(id)
	if _, have := p.slotAt[id]; have || p.keep[id] || seat.Empty || isMachine(seat.Part) {
		return false
	}
	p.add(&donorSlot{at: id, options: []donorOption{{part: seat.Part.ID, from: fromBuilt}, {other: true, from: "something else", cost: p.least()}}})
	return true
}

// least is the least that any other part could cost.
func (p *planner) least() plan.Cost {
	cost := plan.Cost{Effort: int(graph.EffortHandTools), Parts: 1, Distance: 1}
	if p.q.Boxes {
		cost.Parts = 0 // it may lie in a box
	}
	return cost
}

func (p *planner) add(s *donorSlot) {
	p.slotAt[s.at] = len(p.slots)
	p.slots = append(p.slots, s)
}

// grow reads the candidates of slots, in few calls for all of them.
func (p *planner) grow(slots []*donorSlot) error {
	ids := mapped(slots, func(s *donorSlot) graph.PositionID { return s.at })
	if p.donor != nil {
		if err := p.donor.Load(p.ctx, mapped(ids, p.onDonor)...); err != nil {
			return err
		}
	}
	if err := p.readNamesakes(ids); err != nil {
		return err
	}
	byKind, err := p.partsByKind(ids)
	if err != nil {
		return err
	}
	for _, s := range slots {
		s.options = slices.DeleteFunc(s.options, func(o donorOption) bool { return o.other })
		if p.donor != nil {
			if seat := p.donor.Seat(p.onDonor(s.at)); !seat.Empty {
				p.offer(s, seat.Part.ID, fromDonor)
			}
		}
		p.offerBoxes(s)
		for _, part := range p.listedAtNamesakes(s.at) {
			p.offer(s, part, fromGraph)
		}
		for _, kind := range p.kindsAt(s.at) {
			for _, part := range byKind[kind] {
				p.offer(s, part, fromGraph)
			}
		}
		p.countUnpricedAt(s)
		s.grown = true
	}
	return nil
}

// readNamesakes reads what sources list at the positions of the same names on
// any model.
func (p *planner) readNamesakes(ids []graph.PositionID) error {
	l := p.before.library
	if p.models == nil {
		models, err := l.r.Models(p.ctx)
		if err != nil {
			return err
		}
		p.models = mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	}
	var all []graph.PositionID
	for _, id := range ids {
		all = append(all, p.namesakes(id)...)
	}
	if err := l.readPositions(p.ctx, all); err != nil {
		return err
	}
	var parts []graph.PartID
	for _, id := range ids {
		parts = append(parts, p.listedAtNamesakes(id)...)
	}
	return l.readParts(p.ctx, append(parts, p.boxed()...))
}

func (p *planner) namesakes(id graph.PositionID) []graph.PositionID {
	return mapped(p.models, func(m graph.ModelID) graph.PositionID { return graph.PositionID(string(m) + ":" + id.Local()) })
}

func (p *planner) listedAtNamesakes(id graph.PositionID) []graph.PartID {
	var parts []graph.PartID
	for _, at := range p.namesakes(id) {
		parts = append(parts, partsIn(p.before.library.fitments[at])...)
	}
	return unique(parts)
}

// kindsAt are the kinds of part that may go to a position: that of what is
// there, of what belongs there, and of what any model has there. Of hardware
// only what is listed somewhere is tried.
func (p *planner) kindsAt(id graph.PositionID) []graph.KindID {
	seat := p.before.Seat(id)
	kinds := []graph.KindID{seat.Part.Kind, seat.Position.Kind}
	for _, part := range p.listedAtNamesakes(id) {
		kinds = append(kinds, p.before.library.parts[part].Kind)
	}
	return kept(unique(kinds), func(k graph.KindID) bool { return !isHardware(k) })
}

func (p *planner) partsByKind(ids []graph.PositionID) (map[graph.KindID][]graph.PartID, error) {
	var kinds []graph.KindID
	for _, id := range ids {
		kinds = append(kinds, p.kindsAt(id)...)
	}
	byKind := map[graph.KindID][]graph.PartID{}
	if kinds = unique(kinds); len(kinds) == 0 {
		return byKind, nil
	}
	parts, err := p.before.library.r.PartsOfKind(p.ctx, kinds...)
	if err != nil {
		return nil, err
	}
	if err := p.before.library.readParts(p.ctx, parts); err != nil {
		return nil, err
	}
	for _, id := range parts {
		kind := p.before.library.parts[id].Kind
		byKind[kind] = append(byKind[kind], id)
	}
	return byKind, nil
}

// countUnpricedAt has a part without a price count, when plans are compared, as
// much as the dearest for the same place: a price nobody knows must not win.
// What the donor has is there already.
func (p *planner) countUnpricedAt(s *donorSlot) {
	dearest := 0
	for _, o := range s.options {
		dearest = max(dearest, o.cost.Money)
	}
	for i, o := range s.options {
		if o.from == fromGraph && o.cost.Money == 0 {
			s.options[i].cost.Money = dearest
		}
	}
}

// offer adds a part to the options of a slot, unless it is there already, is a
// kit, or has nothing described that could mate.
func (p *planner) offer(s *donorSlot, id graph.PartID, from string) {
	part, ok := p.before.library.parts[id]
	if !ok || part.IsKit() || from == fromGraph && (len(part.Features) == 0 || p.isForOtherSide(s.at, part)) ||
		slices.ContainsFunc(s.options, func(o donorOption) bool { return o.part == id }) {
		return
	}
	o := donorOption{part: id, from: from, cost: plan.Cost{Effort: int(graph.EffortHandTools), Distance: 1}}
	if !strings.HasPrefix(from, fromBox) {
		o.cost.Parts = 1
		o.cost.Money = p.price(part, max(1, p.before.Seat(s.at).Position.Quantity))
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

func (p *planner) offerBoxes(s *donorSlot) {
	if !p.q.Boxes || p.before.Bike == nil {
		return
	}
	for _, box := range p.before.Bike.Boxes {
		for _, item := range box.Items {
			if slices.Contains(p.kindsAt(s.at), p.before.library.parts[item.Part].Kind) {
				p.offer(s, item.Part, fromBox+box.Name)
			}
		}
	}
}

// price is what a number of a part costs, in hundredths of the first currency
// met; zero when nobody says, or in another currency.
func (p *planner) price(part graph.Part, quantity int) int {
	if len(part.Price) == 0 {
		return 0
	}
	amount, currency, ok := parsePrice(part.Price[0].Text)
	if !ok || p.currency != "" && currency != p.currency {
		return 0
	}
	p.currency = currency
	return amount * quantity
}

// parsePrice reads "35 EUR" or "19.50 EUR" into hundredths.
func parsePrice(text string) (hundredths int, currency string, ok bool) {
	number, currency, _ := strings.Cut(strings.TrimSpace(text), " ")
	q, err := measure.ParseQuantity(number, measure.Ratio)
	if err != nil || q.Nominal < 0 || q.Nominal > math.MaxInt32 {
		return 0, "", false
	}
	return int(math.Round(q.Nominal * 100)), currency, currency != ""
}

// word is what findings say of a part at a position.
type word struct {
	against bool         // somebody says that it does not fit
	effort  graph.Effort // of the changes that somebody needed
	by      []graph.Finding
}

// wordOn gathers the findings that stand on a part at a position of the
// machine.
func (p *planner) wordOn(at graph.PositionID, part graph.PartID) word {
	key := seatKey{at, part}
	if w, ok := p.words[key]; ok {
		return w
	}
	var w word
	for _, f := range p.before.library.findings[part] {
		if f.Position != at || f.Withdrawn != "" || len(f.On) > 0 && !slices.Contains(f.On, p.before.Variant.ID) || f.Verdict == graph.NoVerdict {
			continue
		}
		w.by = append(w.by, f)
		w.against = w.against || f.Verdict == graph.DoesNotFit
		if f.Verdict == graph.FitsWithChanges {
			for _, c := range f.Changes {
				w.effort = max(w.effort, c.Effort)
			}
		}
	}
	p.words[key] = w
	return w
}
