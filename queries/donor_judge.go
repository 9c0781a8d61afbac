package queries

import (
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
	"matewell/queries/plan"
)

// donorWay is one way for a demand to hold with certain parts on.
type donorWay struct {
	outcome Outcome
	cost    plan.Cost
	name    string
	get     []Get         // adapters to get, things to make
	modify  []DonorModify // what else has to be done
}

// safetyWeight is how many other unknowns one that is safety-relevant
// outweighs.
const safetyWeight = 1000

func (p *planner) unknownsOf(safety bool) int {
	if safety {
		return safetyWeight
	}
	return 1
}

// outcome judges a demand with certain parts at its slots; ok is false when
// there is nothing to judge.
func (p *planner) outcome(d *demand, parts map[graph.PositionID]graph.PartID) (Outcome, bool) {
	key := p.keyWith(d, parts)
	if o, ok := p.judged[key]; ok {
		return o, o.What != ""
	}
	var o Outcome
	if all := d.judge(p.examiner(p.setupWith(p.base, parts))); len(all) > 0 {
		o = all[0]
	}
	p.judged[key] = o
	return o, o.What != ""
}

// setupWith is a setup with other parts on; what equals the machine before is
// no change.
func (p *planner) setupWith(s *Setup, parts map[graph.PositionID]graph.PartID) *Setup {
	next := *s
	next.changes = maps.Clone(s.changes)
	if next.changes == nil {
		next.changes = map[graph.PositionID]Seat{}
	}
	for id, part := range parts {
		was := p.before.Seat(id)
		if _, fixed := p.fixed[id]; fixed {
			continue
		}
		if part == was.Part.ID && !was.Empty {
			delete(next.changes, id)
			continue
		}
		next.changes[id] = p.seatOf(id, part, was.Position)
	}
	return &next
}

func (p *planner) seatOf(id graph.PositionID, part graph.PartID, at graph.Position) Seat {
	key := seatKey{id, part}
	if seat, ok := p.seats[key]; ok {
		return seat
	}
	seat := Seat{Position: at, Changed: true, Why: "planned"}
	seat.Part, seat.Empty = p.before.part(part)
	p.seats[key] = seat
	return seat
}

// waysFor are the ways for a demand to hold after an outcome; none when it
// can't.
func (p *planner) waysFor(d *demand, o Outcome) []donorWay {
	ways := p.waysWithout(d, o)
	if isSettled(o) {
		return ways
	}
	ways = append(ways, p.waysThrough(o)...)
	p.countUnpriced(d, ways)
	return ways
}

// isSettled reports whether an outcome asks for nothing.
func isSettled(o Outcome) bool { return o.After <= o.Before || o.After == graph.Fits }

// waysWithout are those of the ways that need no part between.
func (p *planner) waysWithout(d *demand, o Outcome) []donorWay {
	free := donorWay{outcome: o}
	if isSettled(o) {
		return []donorWay{free}
	}
	var ways []donorWay
	switch o.After {
	case graph.FitsWithChanges:
		ways = append(ways, p.wayOfChanges(o))
	case graph.Unknown:
		way := free
		way.cost = plan.Cost{Unknowns: p.unknownsOf(len(o.Safety) > 0)}
		ways = append(append(ways, way), p.waysDespite(o)...)
	case graph.DoesNotFit:
		ways = append(ways, p.waysDespite(o)...)
	}
	p.countUnpriced(d, ways)
	return ways
}

// countUnpriced has what has no price count, when plans are compared, as much
// as the dearest that could do the same: a price nobody knows must not win.
func (p *planner) countUnpriced(d *demand, ways []donorWay) {
	dearest := 0
	for _, way := range ways {
		dearest = max(dearest, way.cost.Money)
	}
	if d.what == OfRun {
		for _, id := range d.may(Outcome{}) {
			if i, ok := p.slotAt[id]; ok {
				for _, o := range p.slots[i].options {
					dearest = max(dearest, o.cost.Money)
				}
			}
		}
	}
	for i := range ways {
		if len(ways[i].get) > 0 && ways[i].cost.Money == 0 {
			ways[i].cost.Money = dearest
		}
	}
}

// wayOfChanges is the way of doing what the checks ask for. What has to be made
// to measure is never below the class "drill or shim".
func (p *planner) wayOfChanges(o Outcome) donorWay {
	way := donorWay{outcome: o}
	for _, c := range o.Checks {
		if c.Verdict == graph.Fits {
			continue
		}
		orders := usefulOrders(o.Checks, c.Orders)
		way.get = append(way.get, mapped(orders, func(order mating.Order) Get { return madeGet(order, o) })...)
		way.cost.Effort = max(way.cost.Effort, int(c.Effort))
		if len(c.Do) > 0 && len(orders) == 0 {
			way.modify = append(way.modify, DonorModify{At: o.What + " " + localName(o.ID), Do: strings.Join(c.Do, "; "), Effort: c.Effort.String()})
		}
	}
	way.cost.Parts = len(way.get)
	way.cost.Distance = 2 * len(way.get) // a part that somebody lists comes before one to be ordered by its sizes
	if len(way.get) > 0 {
		way.cost.Effort = max(way.cost.Effort, int(graph.EffortDrillShim))
	}
	way.name = wayName(way)
	return way
}

func madeGet(order mating.Order, o Outcome) Get {
	return Get{What: order.Kind, Position: placeToMake(o), Text: order.Text, Spec: order.Spec, Quantity: 1, For: []string{o.ID}}
}

// placeToMake is where something made goes: at an end that was not changed.
func placeToMake(o Outcome) graph.PositionID {
	for _, e := range o.Ends {
		if !e.Changed {
			return e.Position
		}
	}
	return o.Ends[0].Position
}

func wayName(way donorWay) string {
	names := mapped(way.get, func(g Get) string { return g.Text })
	return strings.Join(append(names, mapped(way.modify, func(m DonorModify) string { return m.Do })...), "; ")
}

// waysDespite are the ways to make good what does not fit: a line made to
// measure, hardware bought by its sizes, or what somebody did before. A claim
// that it can be done, against the dimensions, leaves it unknown.
func (p *planner) waysDespite(o Outcome) []donorWay {
	var ways []donorWay
	if way := p.wayOfChanges(o); len(way.get) > 0 && madeToMeasure(o) {
		if o.What == OfJoint { // hardware is bought, not made
			way.cost.Effort = int(graph.EffortHandTools)
		}
		ways = append(ways, way)
	}
	if o.After == graph.Unknown {
		return ways
	}
	for _, e := range o.Ends {
		if o.What != OfJoint || !e.Changed {
			continue
		}
		for _, f := range p.wordOn(e.Position, e.Part).by {
			if way, ok := p.recorded(o, f); ok {
				ways = append(ways, way)
			}
		}
	}
	return ways
}

// madeToMeasure reports whether what an outcome orders does away with the
// fault: another line, or other bolts in the same holes.
func madeToMeasure(o Outcome) bool {
	if o.What == OfRun {
		return true
	}
	return o.What == OfJoint && blamesBolts(o.Checks) && !slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict == graph.DoesNotFit && len(c.Orders) == 0
	})
}

// recorded is the way somebody went with the very part at the very place.
func (p *planner) recorded(o Outcome, f graph.Finding) (donorWay, bool) {
	if f.Verdict != graph.FitsWithChanges || len(f.Changes) == 0 || f.Method == graph.MethodHeard || f.Method == graph.MethodRead {
		return donorWay{}, false
	}
	way := donorWay{outcome: o, cost: plan.Cost{Unknowns: p.unknownsOf(len(o.Safety) > 0), Effort: int(graph.EffortHandTools)}}
	for _, c := range f.Changes {
		way.cost.Effort = max(way.cost.Effort, int(c.Effort))
		way.modify = append(way.modify, DonorModify{At: o.What + " " + localName(o.ID), Do: c.Do, Effort: c.Effort.String(), By: string(f.ID)})
	}
	way.name = wayName(way)
	return way, true
}

// waysThrough are the ways through a part that stands between the two sides of
// a joint.
func (p *planner) waysThrough(o Outcome) []donorWay {
	if o.What != OfJoint || o.After == graph.Unknown || blamesBolts(o.Checks) {
		return nil
	}
	if o.After == graph.FitsWithChanges && effortOf(o.Checks) <= graph.EffortHandTools && !hasOrders(o.Checks) {
		return nil
	}
	var ways []donorWay
	s := p.setupOf(o)
	for _, part := range p.between(s.side(o.joint.A), s.side(o.joint.B)) {
		way := donorWay{outcome: o, name: "through " + string(part.ID)}
		way.cost = plan.Cost{Effort: int(graph.EffortHandTools), Parts: 1, Money: p.price(part, 1), Distance: 1}
		way.get = []Get{{What: GetAdapter, Position: o.joint.B.Position, Part: part.ID, Name: part.Name, Quantity: 1, Text: nameOf(part),
			For: []string{o.ID}, Price: priceOf(part)}}
		ways = append(ways, way)
	}
	return ways
}

// between are the parts that stand between two sides, worked out once for all
// joints whose sides measure the same.
func (p *planner) between(a, b mating.Side) []graph.Part {
	key := sideText(a) + " " + sideText(b)
	if parts, ok := p.joined[key]; ok {
		return parts
	}
	var parts []graph.Part
	for _, id := range p.adaptersBetween(a.Feature.Kind, b.Feature.Kind) {
		part, ok := p.before.library.ranked(id, &p.before.Variant)
		if ok && !part.IsKit() && len(part.Features) <= maxAdapter && joins(part, a, b) {
			parts = append(parts, part)
		}
	}
	p.joined[key] = parts
	return parts
}

// setupOf is the setup that an outcome was judged on, as far as its ends go.
func (p *planner) setupOf(o Outcome) *Setup {
	parts := map[graph.PositionID]graph.PartID{}
	for _, e := range o.Ends {
		parts[e.Position] = e.Part
	}
	return p.setupWith(p.base, parts)
}

// adaptersBetween are the parts that are little else than two sides, one like
// either of two features. They are read when first asked for; a store that
// can't be read gives none, and the reader's own fault stops the search.
func (p *planner) adaptersBetween(a, b string) []graph.PartID {
	if a == "" || b == "" {
		return nil
	}
	wanted := unique([]string{a, b})
	key := strings.Join(wanted, " ")
	if ids, ok := p.adapters[key]; ok {
		return ids
	}
	p.adapters[key] = nil
	l := p.before.library
	kinds, err := l.r.KindsWith(p.ctx, wanted...)
	kinds = kept(kinds, func(id graph.KindID) bool { return !isHardware(id) })
	if err == nil {
		err = l.readKinds(p.ctx, kinds)
	}
	if err != nil {
		p.fault = err
		return nil
	}
	small := kept(kinds, func(id graph.KindID) bool { return standsBetween(l.kinds[id], a, b) })
	if len(small) == 0 {
		return nil
	}
	ids, err := l.r.PartsOfKind(p.ctx, small...)
	if err == nil && len(ids) > maxOfKind {
		ids = nil
	}
	if err == nil {
		err = l.readParts(p.ctx, ids)
	}
	p.fault = err
	p.adapters[key] = ids
	return ids
}

// standsBetween reports whether a kind has two sides and little else, of the
// sorts that a feature of either sort meets.
func standsBetween(k graph.Kind, a, b string) bool {
	sides := kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind != "finish" && !f.May })
	if len(sides) != 2 || len(k.Features) > maxAdapter {
		return false
	}
	isThread := func(kind string) bool { return kind == "male-thread" || kind == "female-thread" }
	if isThread(a) && isThread(b) {
		return isThread(sides[0].Kind) && isThread(sides[1].Kind)
	}
	return slices.ContainsFunc(sides, func(f graph.KindFeature) bool { return f.Kind == a || f.Kind == b })
}
