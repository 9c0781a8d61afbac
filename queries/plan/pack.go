package plan

// pack turns costs into single numbers that compare as the levels do, first
// level first, and never for an effort above class. The weights grow as those
// of WeightsFor do, over what the piece alone can add up to.
type pack struct {
	levels []level
	weight []int64
	class  int
}

// packed makes the pack of some levels for a piece; false when the numbers
// would not fit.
func packed(e *elimination, levels []level, class int) (pack, bool) {
	p := pack{levels: levels, weight: make([]int64, len(levels)), class: class}
	next := int64(1)
	for i := len(levels) - 1; i >= 0; i-- {
		p.weight[i] = next
		most := int64(most(e, levels[i])) + 1
		if next > (1<<61)/most {
			return pack{}, false
		}
		next *= most
	}
	return p, true
}

// most is what the piece can add up to at a level.
func most(e *elimination, l level) int {
	total := 0
	for _, s := range e.piece.slots {
		high := 0
		for _, o := range e.r.options[s] {
			high = max(high, at(e.r.p.Slots[s].Options[o].Cost, l))
		}
		total += high
	}
	for _, d := range e.piece.demands {
		high := 0
		for _, c := range e.r.allowed[d] {
			high = max(high, at(e.r.p.Demands[d].Allowed[c].Cost, l))
		}
		total += high
	}
	return total
}

// of is the number of a cost.
func (p pack) of(c Cost) int64 {
	if c.Effort > p.class {
		return never
	}
	var sum int64
	for i, l := range p.levels {
		sum += p.weight[i] * int64(at(c, l))
	}
	return sum
}
