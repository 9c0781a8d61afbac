package assemble

import (
	"slices"

	"matewell/graph"
)

// Together is the order in which what is replaced goes on while nothing else comes off:
// how a machine in pieces goes together. It waits as Arrange has it; of what
// waits for nothing more, what belongs to the assembly that is at hand comes
// next, so that one is finished before the next is begun where that can be.
func Together(c Case) Arranged {
	w := arrangingOf(c)
	w.order()
	var at graph.AssemblyID
	order, cycle := inOrder(c.Replaced, w.waits, func(ready []graph.PositionID) int {
		i := max(0, slices.IndexFunc(ready, func(id graph.PositionID) bool { return id.Assembly() == at }))
		at = ready[i].Assembly()
		return i
	})
	return Arranged{Order: order, Waits: w.waits, Cycle: cycle}
}

// HeldUp are the places that can't be fitted now: what is not at hand, and what
// waits for such a place, over any number of others. Each comes with the places
// that are not at hand and hold it up, sorted; a place that is not at hand holds
// up itself.
func (a Arranged) HeldUp(atHand func(graph.PositionID) bool) map[graph.PositionID][]graph.PositionID {
	held := map[graph.PositionID][]graph.PositionID{}
	for _, id := range a.Order {
		var by []graph.PositionID
		if !atHand(id) {
			by = append(by, id)
		}
		for _, before := range a.Waits[id] {
			by = append(by, held[before]...)
		}
		if len(by) > 0 {
			slices.Sort(by)
			held[id] = slices.Compact(by)
		}
	}
	return held
}
