package donor

import (
	"slices"

	"matewell/queries/plan"
)

// floors are the least that each slot can cost with the options alive, level by
// level. A combination costs at least its own parts and the floors of all other
// slots; when that is above a plan that is known, it is in no smallest plan and
// need not be judged. This is what keeps a row of an axle, with a dozen spacers
// left and right, to the few combinations that the discs leave money for.
type floors []plan.Cost

// floorsOf works out the floors.
func floorsOf(p *planner, alive [][]bool) floors {
	f := make(floors, len(p.slots))
	for i, s := range p.slots {
		f[i] = floorOf(s, alive[i])
	}
	return f
}

// dropDear leaves out of slots that have just grown what would make a plan cost
// more than one that is known, whatever else it takes: what connects such parts
// need not be read. What the other slots cost at least was found when they were
// last enumerated, and does not fall when this one grows, since what it had then
// mated with everything.
func dropDear(p *planner, grown []*donorSlot) {
	if p.bound == nil || len(p.floors) != len(p.slots) {
		return
	}
	for _, s := range grown {
		rest := p.floors.without([]int{p.slotAt[s.at]}).Plus(p.ways)
		s.options = slices.DeleteFunc(s.options, func(o donorOption) bool { return isTooMuch(p, o.cost.Plus(rest)) })
	}
}

// floorOf is the least of each level over the options alive, nothing when there
// are none.
func floorOf(s *donorSlot, alive []bool) plan.Cost {
	var floor plan.Cost
	first := true
	for o, ok := range alive {
		if !ok {
			continue
		}
		c := s.options[o].cost
		if first {
			floor, first = c, false
			continue
		}
		floor = leastOfEach(floor, c)
	}
	return floor
}

// leastOfEach is the lesser of two costs, level by level.
func leastOfEach(a, b plan.Cost) plan.Cost {
	return plan.Cost{Unknowns: min(a.Unknowns, b.Unknowns), Effort: min(a.Effort, b.Effort), Parts: min(a.Parts, b.Parts),
		Money: min(a.Money, b.Money), Distance: min(a.Distance, b.Distance)}
}

// without is the floor of all slots but some. Effort is no sum: the highest
// class of the slots left counts.
func (f floors) without(slots []int) plan.Cost {
	var rest plan.Cost
	for i, c := range f {
		if !slices.Contains(slots, i) {
			rest = rest.Plus(c)
		}
	}
	return rest
}
