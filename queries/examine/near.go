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
