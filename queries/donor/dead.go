package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// buildDead makes the problem of those demands that hold with no part there is, all
// others left out: with one of them there is no plan, whatever else is looked at, and
// no smaller clash. It reports whether there is any.
func buildDead(p *planner) (bool, error) {
	if p.plain || p.rough || p.known != nil {
		return false, nil
	}
	for {
		dead, reached := deadAlone(p)
		if err := cmp.Or(p.fault, p.ctx.Err()); err != nil || len(dead) == 0 {
			return false, err
		}
		added := false
		for _, id := range lists.KeysOf(reached) {
			added = addSlot(p, id) || added
		}
		if !added {
			p.demands = dead
			p.problem, p.demands = assembled(p)
			return true, nil
		}
	}
}

// deadAlone are the demands that hold with no combination of the options there are, and
// where another part might put one of them right.
func deadAlone(p *planner) ([]*demand, map[graph.PositionID]bool) {
	alive := make([][]bool, len(p.slots))
	for i, s := range p.slots {
		alive[i] = slices.Repeat([]bool{true}, len(s.options))
	}
	var dead []*demand
	reached := map[graph.PositionID]bool{}
	for _, d := range p.demands {
		slotsOf(p, d)
		if d.lot != nil || size(p, d, alive) > mostCombinations {
			continue
		}
		found, signs := map[graph.PositionID]bool{}, signsOf(p, d)
		holds := false
		combinations(p, d, alive, func(choice []int, cost plan.Cost) bool {
			t := tryOne(p, d, choice, signs, cost, found)
			holds = t == nil || slices.ContainsFunc(t.ways, func(way donorWay) bool { return !isRefused(p, d, choice, &way) })
			return !holds
		})
		if !holds {
			d.options, d.ways, d.holdsAnyway = nil, nil, false
			dead = append(dead, d)
			for _, id := range lists.KeysOf(found) {
				reached[id] = true
			}
		}
	}
	return dead, reached
}
