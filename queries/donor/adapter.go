package donor

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// waysThrough are the ways through a part that stands between the two sides of
// a joint, or between a lead and what it plugs into.
func waysThrough(p *planner, o examine.Outcome) []donorWay {
	if o.What == examine.OfRun {
		return waysLonger(p, o)
	}
	isUnknown := func(c mating.Check) bool { return c.Verdict == graph.Unknown }
	if o.What != examine.OfJoint || examine.BlamesBolts(o.Checks) || slices.ContainsFunc(o.Checks, isUnknown) {
		return nil // what nobody knows of two sides, nothing between them makes known
	}
	if o.After == graph.FitsWithChanges && examine.EffortOf(o.Checks) <= graph.EffortHandTools &&
		!examine.HasOrders(o.Checks) {
		return nil
	}
	var ways []donorWay
	s := setupOf(p, o)
	a, b, disc := s.Side(o.Joint.A), s.Side(o.Joint.B), p.around.DiscAt(s, o.Joint)
	for _, part := range between(p, a, b) {
		if !examine.HasMetal(part, a, b) || !examine.Shifts(part, a, b, disc) {
			continue
		}
		way := wayThrough(p, o, part, swap.Get{What: swap.GetAdapter, Position: o.Joint.B.Position, Part: part.ID,
			Name: part.Name, Quantity: 1,
			Text: machine.NameOf(part), Price: swap.PriceOf(part)})
		way.through = part
		for _, bolts := range swap.BoltsThroughPart(s, p.around.Known, o, part) {
			way.get = append(way.get, bolts.Closing(o))
		}
		ways = append(ways, way)
	}
	return ways
}

func wayThrough(p *planner, o examine.Outcome, part graph.Part, get swap.Get) donorWay {
	way := donorWay{outcome: o, name: "through " + string(part.ID), get: []swap.Get{get.Closing(o)},
		cost: plan.Cost{Effort: int(graph.EffortHandTools), Parts: 1, Money: price(p, part, 1), Distance: 1}}
	if way.boxed = isInBox(p, part.ID); way.boxed {
		way.cost.Parts, way.cost.Money = 0, 0
	}
	return way
}

// waysLonger are the ways to make a lead reach by an extension.
func waysLonger(p *planner, o examine.Outcome) []donorWay {
	x := p.around.Examiner(p.was, setupOf(p, o))
	if !x.IsLead(o.Run) {
		return nil
	}
	var ways []donorWay
	for _, id := range extensions(p) {
		if get, ok := swap.LengthenedBy(x, o, id); ok {
			ways = append(ways, wayThrough(p, o, p.before.Library().Part(id), get))
		}
	}
	return ways
}

// extensions are the lead extensions, read when first asked for; a fault of the
// reader stops the search.
func extensions(p *planner) []graph.PartID {
	const key = "extensions"
	if ids, have := p.adapters[key]; have {
		return ids
	}
	kinds, err := kindsWithBoth(p, []string{"lead"}, []string{"connector"})
	p.fault = cmp.Or(p.fault, err)
	ids, err := swap.Extensions(p.ctx, p.before.Library(), kinds)
	p.fault = cmp.Or(p.fault, err)
	p.adapters[key] = ids
	return ids
}

// between are the parts that stand between two sides, worked out once for all
// joints whose sides measure the same.
func between(p *planner, a, b mating.Side) []graph.Part {
	key := sideText(a) + " " + sideText(b)
	if parts, ok := p.joined[key]; ok {
		return parts
	}
	var parts []graph.Part
	for _, id := range adaptersBetween(p, a.Feature.Kind, b.Feature.Kind) {
		part, ok := p.before.Library().Ranked(id, &p.before.Variant)
		if ok && !part.IsKit() && len(part.Features) <= machine.MaxAdapter && examine.Joins(part, a, b) {
			parts = append(parts, part)
		}
	}
	p.joined[key] = parts
	return parts
}

// setupOf is the setup that an outcome was judged on, as far as its ends go.
func setupOf(p *planner, o examine.Outcome) *machine.Setup {
	parts := map[graph.PositionID]graph.PartID{}
	for _, e := range o.Ends {
		parts[e.Position] = e.Part
	}
	return setupWith(p, p.base, parts)
}

// adaptersBetween are the parts that are little else than two sides, of which one
// meets a feature of kind a and the other one of kind b. They are read when
// first asked for; a store that can't be read gives none, and the reader's own
// fault stops the search.
func adaptersBetween(p *planner, a, b string) []graph.PartID {
	key := min(a, b) + " " + max(a, b)
	ids, have := p.adapters[key]
	if have || a == "" || b == "" {
		return ids
	}
	ids, err := readAdapters(p, mating.Meets(a), mating.Meets(b))
	p.fault = cmp.Or(p.fault, err)
	p.adapters[key] = ids
	return ids
}

// readAdapters reads the parts with a side of one of the kinds on and another
// of one of the kinds off, and little else. Of more than MaxOfKind none is
// tried.
func readAdapters(p *planner, on, off []string) ([]graph.PartID, error) {
	l := p.before.Library()
	kinds, err := kindsWithBoth(p, on, off)
	if err != nil {
		return nil, err
	}
	kinds = lists.Kept(kinds, func(id graph.KindID) bool { return !machine.IsOrderedBySize(id) })
	if err := l.ReadKinds(p.ctx, kinds); err != nil {
		return nil, err
	}
	kinds = lists.Kept(kinds, func(id graph.KindID) bool { return standsBetween(l.Kind(id), on, off) })
	return l.ReadPartsOf(p.ctx, kinds)
}

// kindsWithBoth are the kinds of part with a feature of one of the kinds on and
// one of the kinds off.
func kindsWithBoth(p *planner, on, off []string) ([]graph.KindID, error) {
	with, err := kindsWith(p, on)
	if err != nil {
		return nil, err
	}
	others, err := kindsWith(p, off)
	return lists.Kept(slices.Clone(with), func(id graph.KindID) bool { return slices.Contains(others, id) }), err
}

// kindsWith are the kinds of part with a feature of one of the kinds, asked for
// once.
func kindsWith(p *planner, features []string) ([]graph.KindID, error) {
	key := strings.Join(features, " ")
	if kinds, have := p.featured[key]; have || len(features) == 0 {
		return kinds, nil
	}
	kinds, err := p.before.Library().Reader().KindsWith(p.ctx, features...)
	p.featured[key] = kinds
	return kinds, err
}

// standsBetween reports whether a kind of part has two sides and little else,
// one of the kinds on and the other of the kinds off.
func standsBetween(k graph.Kind, on, off []string) bool {
	if !swap.IsAdapterKind(k) {
		return false
	}
	sides := swap.SidesOf(k)
	one, other := sides[0].Kind, sides[1].Kind
	return slices.Contains(on, one) && slices.Contains(off, other) ||
		slices.Contains(on, other) && slices.Contains(off, one)
}
