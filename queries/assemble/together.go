package assemble

import (
	"cmp"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Together is the order in which what is replaced goes on while nothing else comes off:
// how a machine in pieces goes together. It waits as Arrange has it; of what
// waits for nothing more, what belongs to the assembly that is at hand comes
// next, so that one is finished before the next is begun where that can be; the
// next one begun is that of the place on which most others wait, so that a wheel or
// a hanger comes before a panel, and so it is within an assembly. What only better comes
// late holds nothing up.
func Together(c Case) Arranged {
	w := arrangingOf(c)
	w.together = true
	w.order()
	needs := map[graph.PositionID][]graph.PositionID{}
	for id, hosts := range c.Needs {
		needs[id] = lists.Kept(slices.Clone(hosts), func(on graph.PositionID) bool { return w.off[on] })
	}
	waits := map[graph.PositionID][]graph.PositionID{}
	for id, before := range w.waits {
		waits[id] = slices.Clone(before)
	}
	w.follow(c.Late)
	carries := waitingOn(c.Replaced, w.waits)
	var at graph.AssemblyID
	var last graph.PositionID
	order, cycle := inOrder(c.Replaced, w.waits, func(ready []graph.PositionID) int {
		if small := w.follows(ready, at); small != "" {
			last = small
			return slices.Index(ready, small)
		}
		here := lists.Kept(slices.Clone(ready), func(id graph.PositionID) bool { return id.Assembly() == at })
		if len(here) == 0 {
			here = ready
		}
		if near := w.beside(here, last); at == last.Assembly() { // one side is finished before the other
			here = near
		}
		most := slices.MaxFunc(here, func(a, b graph.PositionID) int {
			return cmp.Or(cmp.Compare(carries[a], carries[b]), cmp.Compare(b, a))
		})
		at, last = most.Assembly(), most
		return slices.Index(ready, most)
	})
	return Arranged{Order: order, Waits: waits, Needs: needs, Cycle: cycle, Bench: w.onBench(order)}
}

// waitingOn counts how many of the places wait for each, over any number of others.
// What waits in a circle counts for nothing.
func waitingOn(places []graph.PositionID, waits map[graph.PositionID][]graph.PositionID) map[graph.PositionID]int {
	first := func([]graph.PositionID) int { return 0 }
	order, _ := inOrder(places, waits, first)
	before := map[graph.PositionID]map[graph.PositionID]bool{}
	count := map[graph.PositionID]int{}
	for _, id := range order {
		all := map[graph.PositionID]bool{}
		for _, b := range waits[id] {
			all[b] = true
			maps.Copy(all, before[b])
		}
		for b := range all {
			count[b]++
		}
		before[id] = all
	}
	return count
}
