package examine

import (
	"slices"

	"matewell/graph"
)

// Near is for judging many single changes on one machine: for each place the joints
// that can come out otherwise when the part there changes and nothing else does.
type Near struct {
	*Connections
	at    map[graph.PositionID][]graph.Joint // by each place that a joint names itself
	bolts map[graph.PositionID][]graph.PositionID
	over  []graph.Joint // those of calipers, which also hang on a disc that they do not name
}

// Near sorts the joints that were read by place.
func (c *Connections) Near(before *Before) Near {
	n := Near{Connections: c, at: map[graph.PositionID][]graph.Joint{}, bolts: map[graph.PositionID][]graph.PositionID{}}
	for _, j := range c.Joints {
		for _, id := range j.Places() {
			n.at[id] = append(n.at[id], j)
		}
		if s := before.setup; s.KindOf(j.A) == "caliper-mount" || s.KindOf(j.B) == "caliper-mount" {
			n.over = append(n.over, j)
		}
	}
	for _, j := range c.Known {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			n.bolts[ref.Position] = append(n.bolts[ref.Position], j.Fasteners...)
		}
	}
	return n
}

// At is all that was read, with only those joints left to judge that can hang on the
// part at a place: its own, those of the bolts that pass it, those of calipers.
func (n Near) At(id graph.PositionID) *Connections {
	c := *n.Connections
	c.Joints = slices.Clone(n.over)
	for _, place := range append([]graph.PositionID{id}, n.bolts[id]...) {
		c.Joints = append(c.Joints, n.at[place]...)
	}
	slices.SortFunc(c.Joints, func(a, b graph.Joint) int { return compareText(a.ID, b.ID) })
	c.Joints = slices.CompactFunc(c.Joints, func(a, b graph.Joint) bool { return a.ID == b.ID })
	return &c
}
