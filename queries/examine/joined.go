package examine

import (
	"iter"
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
)

// placed are the joints known by place, as indices.
type placed struct {
	ends  map[graph.PositionID][]int // that have an end there
	bolts map[graph.PositionID][]int // that are held by what sits there
}

// byPlace sorts the joints known by place, once they are all read.
func (c *Connections) byPlace() *placed {
	if c.placed == nil {
		p := &placed{ends: map[graph.PositionID][]int{}, bolts: map[graph.PositionID][]int{}}
		note := func(at map[graph.PositionID][]int, id graph.PositionID, i int) {
			if had := at[id]; len(had) == 0 || had[len(had)-1] != i {
				at[id] = append(had, i)
			}
		}
		for i := range c.Known {
			j := &c.Known[i]
			note(p.ends, j.A.Position, i)
			note(p.ends, j.B.Position, i)
			for _, id := range j.Fasteners {
				note(p.bolts, id, i)
			}
		}
		c.placed = p
	}
	return c.placed
}

// JointsAt are the joints known that have an end at one of some places, in their order.
func (c *Connections) JointsAt(ids ...graph.PositionID) iter.Seq[*graph.Joint] {
	return c.jointsIn(c.byPlace().ends, ids)
}

// jointsHeldBy are those that are held by what sits at one of some places, in their order.
func (c *Connections) jointsHeldBy(ids ...graph.PositionID) iter.Seq[*graph.Joint] {
	return c.jointsIn(c.byPlace().bolts, ids)
}

func (c *Connections) jointsIn(at map[graph.PositionID][]int, ids []graph.PositionID) iter.Seq[*graph.Joint] {
	var found []int
	for i, id := range ids {
		if i == 0 {
			found = at[id]
		} else if more := at[id]; len(more) > 0 {
			found = slices.Concat(found, more)
		}
	}
	if len(ids) > 1 && !slices.IsSorted(found) {
		slices.Sort(found)
	}
	return func(yield func(*graph.Joint) bool) {
		for n, i := range found {
			if (n == 0 || found[n-1] != i) && !yield(&c.Known[i]) {
				return
			}
		}
	}
}

// joins reports whether a place is joined to one of others.
func (c *Connections) joins(at graph.PositionID, others []graph.PositionID) bool {
	for j := range c.JointsAt(at) {
		if slices.Contains(others, j.A.Position) || slices.Contains(others, j.B.Position) {
			return true
		}
	}
	return false
}

// meets is the first joint of a place, either way round, whose ends are what is looked
// for: own is the one at that place.
func (c *Connections) meets(at graph.PositionID, is func(own, other graph.FeatureRef) bool) (
	own, other graph.FeatureRef, ok bool) {
	for j := range c.JointsAt(at) {
		if own, other, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own.Position == at && is(own, other)
		}); ok {
			return own, other, true
		}
	}
	return graph.FeatureRef{}, graph.FeatureRef{}, false
}

// noteKinds notes the kinds of both sides of each joint as built, which no change
// alters: what looks for joints of some kinds then need not look at every place.
func noteKinds(c *Connections, s *machine.Setup) {
	built := s.AsBuilt()
	c.kinds, c.ofKind = make([][2]string, len(c.Known)), map[string][]int{}
	for i, j := range c.Known {
		c.kinds[i] = [2]string{built.KindOf(j.A), built.KindOf(j.B)}
		for side, kind := range c.kinds[i] {
			if side == 0 || kind != c.kinds[i][0] {
				c.ofKind[kind] = append(c.ofKind[kind], i)
			}
		}
	}
}

// withKind are the indices of the joints known that have a side of a kind as built, and
// of all at whose ends another part sits on one state of the machine; sorted. Before the
// kinds are noted it is all of them.
func (c *Connections) withKind(s *machine.Setup, kind string) []int {
	if len(c.kinds) != len(c.Known) {
		all := make([]int, len(c.Known))
		for i := range all {
			all[i] = i
		}
		return all
	}
	found := slices.Clone(c.ofKind[kind])
	for id := range s.Altered() {
		found = append(found, c.byPlace().ends[id]...)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// builtKindsAt are the kinds of both sides of the joint known at an index, as built.
func builtKindsAt(x *Examiner, i int) [2]string {
	if len(x.kinds) == len(x.Known) {
		return x.kinds[i]
	}
	j := &x.Known[i] // while they are being read
	return [2]string{x.Built.KindOf(j.A), x.Built.KindOf(j.B)}
}

// kindOn is the kind of the first side, or the second, of the joint known at an index on
// one state of the machine.
func kindOn(x *Examiner, s *machine.Setup, i, side int) string {
	ref := x.Known[i].A
	if side == 1 {
		ref = x.Known[i].B
	}
	if len(x.kinds) == len(x.Known) && s.IsAsBuilt(ref.Position) {
		return x.kinds[i][side]
	}
	return s.KindOf(ref)
}

// kindsAt are those, and of what was not built with the feature what sits there now.
func kindsAt(x *Examiner, i int) [2]string {
	j, kinds := &x.Known[i], builtKindsAt(x, i)
	if kinds[0] == "" {
		kinds[0] = x.After.KindOf(j.A)
	}
	if kinds[1] == "" {
		kinds[1] = x.After.KindOf(j.B)
	}
	return kinds
}

// joined are the joints of one kind of feature with another, by what they are as
// built, and their two sides in that order.
func joined(x *Examiner, one, other string) iter.Seq2[graph.Joint, [2]graph.FeatureRef] {
	return func(yield func(graph.Joint, [2]graph.FeatureRef) bool) {
		for _, i := range x.withKind(x.After, one) {
			j, kinds := &x.Known[i], kindsAt(x, i)
			ends := [2]graph.FeatureRef{j.A, j.B}
			if kinds == [2]string{other, one} && one != other {
				ends = [2]graph.FeatureRef{j.B, j.A}
			} else if kinds != [2]string{one, other} {
				continue
			}
			if !yield(*j, ends) {
				return
			}
		}
	}
}
