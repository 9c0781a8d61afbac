package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// maxAdapter is how many features an adapter has at most: it is a part with
// little else than its two sides.
const maxAdapter = 4

// adapterFor finds a part that goes between the two sides of a joint: one of
// its features mates with each.
func (f *follower) adapterFor(s *Setup, o Outcome) (Get, bool) {
	if o.What != OfJoint || o.After == graph.Unknown || blamesBolts(o.Checks) {
		return Get{}, false
	}
	a, b := s.side(o.joint.A), s.side(o.joint.B)
	for _, id := range f.adapters {
		part, ok := s.library.ranked(id, &s.Variant)
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
	verdict := mating.Worst(mating.Judge(mating.Meeting{A: a, B: b}))
	return verdict == graph.Fits || verdict == graph.FitsWithChanges &&
		effortOf(mating.Judge(mating.Meeting{A: a, B: b})) <= graph.EffortHandTools
}

func (f *follower) addAdapter(o Outcome, g Get) {
	f.closed[o.ID] = true
	f.done[o.What+" "+o.ID] = true
	f.get(g, o)
}

// readAdapters reads the parts that may go between two sides: those of kinds
// that have a feature like either side of a failing joint, and few others.
func (f *follower) readAdapters(s *Setup, problems []Outcome) error {
	var wanted []string
	for _, o := range problems {
		if o.What == OfJoint && o.After != graph.Unknown && !blamesBolts(o.Checks) {
			wanted = append(wanted, s.kindOf(o.joint.A), s.kindOf(o.joint.B))
		}
	}
	wanted = kept(unique(wanted), func(kind string) bool { return kind != "" && kind != "male-thread" && kind != "female-thread" })
	if len(wanted) == 0 {
		return nil
	}
	kinds, err := s.library.r.KindsWith(f.ctx, wanted...)
	if err != nil {
		return err
	}
	if err := s.library.readKinds(f.ctx, kinds); err != nil {
		return err
	}
	small := kept(kinds, func(id graph.KindID) bool {
		return isAdapterKind(s.library.kinds[id], wanted)
	})
	if len(small) == 0 {
		return nil
	}
	ids, err := s.library.r.PartsOfKind(f.ctx, small...)
	if err != nil {
		return err
	}
	if len(ids) > maxOfKind {
		ids = nil
	}
	f.adapters = ids
	return s.library.readParts(f.ctx, ids)
}

// isAdapterKind reports whether a kind of part is little else than two sides,
// one of them of a wanted sort.
func isAdapterKind(k graph.Kind, wanted []string) bool {
	sides := kept(slices.Clone(k.Features), func(f graph.KindFeature) bool { return f.Kind != "finish" && !f.May })
	return len(sides) == 2 && len(k.Features) <= maxAdapter &&
		slices.ContainsFunc(sides, func(f graph.KindFeature) bool { return slices.Contains(wanted, f.Kind) })
}
