package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// adapterFor finds a part that goes between the two sides of a joint: one of
// its features mates with each.
func (f *follower) adapterFor(s *machine.Setup, o examine.Outcome) (Get, bool) {
	if o.What != examine.OfJoint || o.After == graph.Unknown || examine.BlamesBolts(o.Checks) {
		return Get{}, false
	}
	a, b := s.Side(o.Joint.A), s.Side(o.Joint.B)
	for _, id := range f.adapters {
		part, ok := s.Library().Ranked(id, &s.Variant)
		if !ok || part.IsKit() || len(part.Features) > machine.MaxAdapter {
			continue
		}
		if examine.Joins(part, a, b) && examine.HasMetal(part, a, b) && examine.Shifts(part, a, b, f.discAt(s, o)) {
			return Get{What: GetAdapter, Position: o.Joint.B.Position, Part: part.ID, Name: machine.NameOf(part), Quantity: 1,
				Text: machine.NameOf(part), Price: PriceOf(part)}, true
		}
	}
	return Get{}, false
}

// discAt is the disc of the caliper that a joint holds, as far as it was read.
func (f *follower) discAt(s *machine.Setup, o examine.Outcome) mating.Side {
	around := []*examine.Connections{f.around[o.Joint.A.Position], f.around[o.Joint.B.Position], f.start}
	for _, c := range around {
		if c == nil {
			continue
		}
		if disc := c.DiscAt(s, o.Joint); !disc.IsZero() {
			return disc
		}
	}
	return mating.Side{}
}

func (f *follower) addAdapter(o examine.Outcome, g Get) {
	f.closed[o.ID] = true
	f.done[o.What+" "+o.ID] = true
	f.get(g, o)
}

// readAdapters reads the parts that may go between two sides: those of kinds
// with a feature like either side of a failing joint, and little else.
func (f *follower) readAdapters(s *machine.Setup, problems []examine.Outcome) error {
	var kinds []graph.KindID
	for _, o := range problems {
		if o.What != examine.OfJoint || o.After == graph.Unknown || examine.BlamesBolts(o.Checks) {
			continue
		}
		between, err := f.kindsBetween(s, s.KindOf(o.Joint.A), s.KindOf(o.Joint.B))
		if err != nil {
			return err
		}
		kinds = append(kinds, between...)
	}
	if err := s.Library().ReadKinds(f.ctx, kinds); err != nil {
		return err
	}
	small := lists.Kept(lists.Unique(kinds), func(id graph.KindID) bool { return IsAdapterKind(s.Library().Kind(id)) })
	ids, err := s.Library().ReadPartsOf(f.ctx, small)
	f.adapters = ids
	return err
}

// kindsBetween are the kinds of part that have a feature like a and one like b.
func (f *follower) kindsBetween(s *machine.Setup, a, b string) ([]graph.KindID, error) {
	withA, err := f.kindsLike(s, a)
	if err != nil {
		return nil, err
	}
	withB, err := f.kindsLike(s, b)
	return lists.Kept(withA, func(id graph.KindID) bool { return slices.Contains(withB, id) }), err
}

// kindsLike are the kinds of part with a feature of a kind, or of one that goes
// where it goes.
func (f *follower) kindsLike(s *machine.Setup, kind string) ([]graph.KindID, error) {
	if of, read := f.like[kind]; read || kind == "" {
		return slices.Clone(of), nil
	}
	alike := []string{kind}
	if kind == "banjo" || kind == "screwed-end" {
		alike = []string{"banjo", "screwed-end"}
	}
	of, err := s.Library().Reader().KindsWith(f.ctx, alike...)
	f.like[kind] = of
	return slices.Clone(of), err
}

// IsAdapterKind reports whether a kind of part is little else than two sides.
func IsAdapterKind(k graph.Kind) bool {
	sides := lists.Kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind != "finish" && !f.May })
	return len(sides) == 2 && len(k.Features) <= machine.MaxAdapter
}
