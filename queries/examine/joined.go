package examine

import (
	"iter"

	"matewell/graph"
	"matewell/queries/machine"
)

// placed are the joints known by place, as indices.
type placed struct {
	ends  map[graph.PositionID][]int // that have an end there
	bolts map[graph.PositionID][]int // that are held by what sits there
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
