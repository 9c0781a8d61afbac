package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/plan"
)

// alike are options of one slot that measure the same where a demand looks: it judges
// them once. A circuit with forty hoses at each of three places has sixty thousand
// combinations of parts, and a dozen of sorts.
type alike struct {
	option int       // one of them
	floor  plan.Cost // the least of each level that one of them costs
}

// sorts are the options alive of each slot of a demand by what they measure, and which
// sort each option is; below zero for those that are not alive.
type sorts struct {
	of    [][]alike
	which [][]int
}

func sortsOf(p *planner, d *demand, alive [][]bool, signs [][]int) sorts {
	s := sorts{of: make([][]alike, len(d.slots)), which: make([][]int, len(d.slots))}
	for k, i := range d.slots {
		s.which[k] = make([]int, len(alive[i]))
		seen := map[int]int{}
		for o, ok := range alive[i] {
			if s.which[k][o] = -1; !ok {
				continue
			}
			sort, have := seen[signs[k][o]]
			if !have {
				sort = len(s.of[k])
				seen[signs[k][o]] = sort
				s.of[k] = append(s.of[k], alike{option: o, floor: p.slots[i].options[o].cost})
			}
			s.which[k][o] = sort
			one := &s.of[k][sort]
			one.floor = leastOfEach(one.floor, p.slots[i].options[o].cost)
		}
	}
	return s
}

// size is how many combinations of sorts there are.
func (s sorts) size() int {
	size := 1
	for _, of := range s.of {
		if size *= len(of); size > mostCombinations {
			return size
		}
	}
	return size
}

// each goes through the combinations of sorts that do not make a plan cost too much,
// with one option for each sort.
func (s sorts) each(p *planner, d *demand, alive [][]bool, try func(index int, choice []int, cost plan.Cost)) {
	rest := restsOf(p, d, alive)
	choice := make([]int, len(s.of))
	var from func(k, index int, cost, least plan.Cost)
	from = func(k, index int, cost, least plan.Cost) {
		if k == len(choice) {
			try(index, choice, cost.Plus(rest[k]))
			return
		}
		for sort, one := range s.of[k] {
			with, least := cost.Plus(one.floor), d.outside.with(least, d.slots[k], one.floor)
			if !isTooMuch(p, with.Plus(rest[k+1])) && !isTooMuch(p, least) {
				choice[k] = one.option
				from(k+1, index*len(s.of[k])+sort, with, least)
			}
		}
	}
	from(0, 0, plan.Cost{}, d.outside.start())
}

// table is what came of each combination of sorts; nil for those that were not tried.
type table struct {
	sorts
	trials []*trial
}

// at is what came of a combination of options.
func (t table) at(choice []int) *trial {
	index := 0
	for k, o := range choice {
		index = index*len(t.of[k]) + t.which[k][o]
	}
	return t.trials[index]
}

func (s sorts) judged(p *planner, d *demand, alive [][]bool, signs [][]int, reached map[graph.PositionID]bool) table {
	t := table{sorts: s, trials: make([]*trial, s.size())}
	s.each(p, d, alive, func(index int, choice []int, cost plan.Cost) {
		t.trials[index] = tryOne(p, d, choice, signs, cost, reached)
	})
	return t
}

// idle are the slots of a demand, as indexes into its list, that decide nothing: with
// whatever part there it holds for nothing, or does not, as with any other. Of a demand
// that may hold at some cost none is idle: what it makes goes by the parts.
func (t table) idle() []int {
	for _, one := range t.trials {
		if !one.isFree() && !one.isDead() {
			return nil
		}
	}
	var idle []int
	for k := range t.of {
		if t.isIdle(k) {
			idle = append(idle, k)
		}
	}
	return idle
}

// isIdle reports whether all sorts of a slot come out the same, whatever the others are.
// An idle slot is idle beside any other that is left out.
func (t table) isIdle(k int) bool {
	step := 1 // from a sort of the slot to the next, all else the same
	for _, of := range t.of[k+1:] {
		step *= len(of)
	}
	n := len(t.of[k])
	for index, one := range t.trials {
		if sort := index / step % n; sort > 0 && one.isFree() != t.trials[index-sort*step].isFree() {
			return false
		}
	}
	return true
}

// without is the table without slots that are idle, given as indexes.
func (t table) without(idle []int) table {
	less := table{sorts: sorts{without(t.of, idle), without(t.which, idle)}}
	for index, one := range t.trials {
		if !t.isFirst(index, idle) {
			continue
		}
		less.trials = append(less.trials, one)
	}
	return less
}

// isFirst reports whether a combination has the first sort at certain slots.
func (t table) isFirst(index int, slots []int) bool {
	for k := len(t.of) - 1; k >= 0; k-- {
		if index%len(t.of[k]) != 0 && slices.Contains(slots, k) {
			return false
		}
		index /= len(t.of[k])
	}
	return true
}

// without is a list without what stands at certain indexes.
func without[T any](list []T, indexes []int) []T {
	less := make([]T, 0, len(list))
	for k, one := range list {
		if !slices.Contains(indexes, k) {
			less = append(less, one)
		}
	}
	return less
}
