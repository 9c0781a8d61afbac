package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// maxAdapter is how many features an adapter has at most: it is a part with
// little else than its two sides.
const maxAdapter = 6

// adapterFor finds a part that goes between the two sides of a joint: one of
// its features mates with each.
func (f *follower) adapterFor(s *Setup, o Outcome) (Get, bool) {
	if o.What != OfJoint || o.After == graph.Unknown || blamesBolts(o.Checks) {
		return Get{}, false
	}
	a, b := s.side(o.joint.A), s.side(o.joint.B)
	for _, id := range f.adapters {
		part, ok := s.Library().ranked(id, &s.Variant)
		if !ok || part.IsKit() || len(part.Features) > maxAdapter {
			continue
		}
		if joins(part, a, b) {
			return Get{What: GetAdapter, Position: o.joint.B.Position, Part: part.ID, Name: nameOf(part), Quantity: 1,
				Text: nameOf(part), Price: priceOf(part)}, true
		}
	}
	return Get{}, false
}

// joins reports whether one feature of a part mates with a and another with b.
func joins(part graph.Part, a, b mating.Side) bool {
	side := func(f graph.Feature) mating.Side { return mating.Side{Part: part.ID, Feature: f} }
	for _, one := range part.Features {
		if !mates(a, side(one)) {
			continue
		}
		for _, other := range part.Features {
			if other.Name != one.Name && mates(side(other), b) {
				return true
			}
		}
	}
	return false
}

func mates(a, b mating.Side) bool {
	checks := mating.Judge(mating.Meeting{A: a, B: b})
	switch mating.Worst(checks) {
	case graph.Fits:
		return true
	case graph.FitsWithChanges: // pins to move in a plug are what an adapter is to spare one
		return a.Feature.Kind != "connector" && effortOf(checks) <= graph.EffortHandTools
	}
	return false
}

func (f *follower) addAdapter(o Outcome, g Get) {
	f.closed[o.ID] = true
	f.done[o.What+" "+o.ID] = true
	f.get(g, o)
}

// readAdapters reads the parts that may go between two sides: those of kinds
// with a feature like either side of a failing joint, and little else.
func (f *follower) readAdapters(s *Setup, problems []Outcome) error {
	var kinds []graph.KindID
	for _, o := range problems {
		if o.What != OfJoint || o.After == graph.Unknown || blamesBolts(o.Checks) {
			continue
		}
		between, err := f.kindsBetween(s, s.kindOf(o.joint.A), s.kindOf(o.joint.B))
		if err != nil {
			return err
		}
		kinds = append(kinds, between...)
	}
	if err := s.Library().readKinds(f.ctx, kinds); err != nil {
		return err
	}
	small := kept(unique(kinds), func(id graph.KindID) bool { return isAdapterKind(s.Library().kind(id)) })
	ids, err := s.Library().readPartsOf(f.ctx, small)
	f.adapters = ids
	return err
}

// kindsBetween are the kinds of part that have a feature like a and one like b.
func (f *follower) kindsBetween(s *Setup, a, b string) ([]graph.KindID, error) {
	withA, err := f.kindsLike(s, a)
	if err != nil {
		return nil, err
	}
	withB, err := f.kindsLike(s, b)
	return kept(withA, func(id graph.KindID) bool { return slices.Contains(withB, id) }), err
}

// kindsLike are the kinds of part with a feature of a kind, or of one that goes
// where it goes.
func (f *follower) kindsLike(s *Setup, kind string) ([]graph.KindID, error) {
	if of, read := f.like[kind]; read || kind == "" {
		return slices.Clone(of), nil
	}
	alike := []string{kind}
	if kind == "banjo" || kind == "screwed-end" {
		alike = []string{"banjo", "screwed-end"}
	}
	of, err := s.Library().reader().KindsWith(f.ctx, alike...)
	f.like[kind] = of
	return slices.Clone(of), err
}

// isAdapterKind reports whether a kind of part is little else than two sides.
func isAdapterKind(k graph.Kind) bool {
	sides := kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind != "finish" && !f.May })
	return len(sides) == 2 && len(k.Features) <= maxAdapter
}
