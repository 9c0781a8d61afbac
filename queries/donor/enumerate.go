package donor

import (
	"cmp"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
)

// enumerate works out which combinations of options each demand allows, the
// smallest demands first: an option that one of them never allows is in no
// plan, and is left out of those that follow. It gives the positions at which
// another part might put right, or make cheaper, what a combination upsets.
//
// When some demand allows nothing, everything is left in, so that the demands
// that clash are told from those that only follow.
func enumerate(p *planner) []graph.PositionID {
	reached, clash := enumerateWith(p, true)
	if clash && p.fault == nil && p.ctx.Err() == nil { // then all that the first pass reached is reached again
		reached, _ = enumerateWith(p, false)
	}
	return reached
}

// enumerateWith goes through the demands, in which what one never allows may be left out of
// those that follow. Then it ends, with a clash, at the first that allows nothing.
func enumerateWith(p *planner, leaveOut bool) (reached []graph.PositionID, clash bool) {
	alive := make([][]bool, len(p.slots))
	for i, s := range p.slots {
		alive[i] = slices.Repeat([]bool{true}, len(s.options))
	}
	for _, d := range p.demands {
		slotsOf(p, d)
	}
	order := slices.Clone(p.demands)
	slices.SortStableFunc(order, func(a, b *demand) int { return cmp.Compare(size(p, a, alive), size(p, b, alive)) })
	found := map[graph.PositionID]bool{}
	p.ways = plan.Cost{}
	for n, d := range order {
		if size := size(p, d, alive); size > mostCombinations && !isBounded(p) && !p.rough {
			p.fault = &DonorError{fmt.Sprintf("%s %s has %d combinations of parts to judge: keep or fix some of its places",
				d.What, queries.LocalName(d.ID), size)}
			return nil, false
		}
		var err error
		if d.outside, err = outsideOf(p, d, order[:n], alive); err != nil {
			p.fault = err
			return nil, false
		}
		supported := tryAll(p, d, alive, found)
		d.outside = nil
		if leaveOut && d.isDead() {
			return nil, true
		}
		p.ways = p.ways.Plus(d.floor())
		for k, i := range d.slots {
			for o := range alive[i] {
				alive[i][o] = alive[i][o] && (supported[k][o] || !leaveOut)
			}
		}
	}
	if p.within == nil {
		p.floors = floorsOf(p, alive)
	}
	return lists.KeysOf(found), false
}

// slotsOf finds the slots that decide a demand. Of a circuit those are left out
// where every part allows the same fluids. What none of them decides is asked of the
// first, whatever goes there.
func slotsOf(p *planner, d *demand) {
	d.slots = nil
	for _, id := range d.Places {
		i, ok := p.slotAt[id]
		if ok && (d.What != examine.OfCircuit || !sameFluid(p, p.slots[i])) {
			d.slots = append(d.slots, i)
		}
	}
	if len(d.slots) == 0 {
		d.slots = []int{0}
	}
	d.tried = trialsOf(p, d)
}

// trialsKey is a demand with certain slots.
type trialsKey struct {
	demand examine.OutcomeID
	slots  string
}

// trialsOf is what was tried before with the same slots. What something made
// costs in place of a line or a spacer also hangs on those that are known.
func trialsOf(p *planner, d *demand) map[string]*trial {
	key := trialsKey{d.key(), fmt.Sprint(d.slots)}
	if d.hangsOnPrices() {
		for _, i := range d.slots {
			key.slots += fmt.Sprint(" ", len(p.slots[i].options))
		}
	}
	if p.trials[key] == nil {
		p.trials[key] = map[string]*trial{}
	}
	return p.trials[key]
}

func sameFluid(p *planner, s *donorSlot) bool {
	seen := map[string]bool{}
	for _, o := range s.options {
		if o.other {
			return false
		}
		part, _ := p.before.Part(o.part)
		f, ok := machine.FeatureOfKind(part, "fluid")
		seen[fmt.Sprint(ok, machine.BestText(f, "allows"))] = true
	}
	return len(seen) == 1 && !s.isGoal()
}

func size(p *planner, d *demand, alive [][]bool) int {
	size := 1
	for _, i := range d.slots {
		n := 0
		for _, ok := range alive[i] {
			if ok {
				n++
			}
		}
		if size *= n; size > mostCombinations {
			return size
		}
	}
	return size
}

// tryAll judges a demand with every combination of the options alive, and says
// which options are in one that holds. Combinations that would make a plan cost
// more than one that is known are left out: no smallest plan has them. For the
// same reason nothing is reached from where one part more would be too much.
//
// Options that measure the same where it looks are judged once, and a place at which
// they all come out the same is none of its slots.
func tryAll(p *planner, d *demand, alive [][]bool, reached map[graph.PositionID]bool) (supported [][]bool) {
	// as many as last time: what was found then may still be in use
	d.options, d.ways, d.holdsAnyway = make([][]int, 0, len(d.options)), make([]*donorWay, 0, len(d.ways)), false
	signs := signsOf(p, d)
	of := sortsOf(p, d, alive, signs)
	if p.plain || isCutShort(p, d, of.size()) || of.size() > mostCombinations {
		return keepHeld(p, d, alive, func(choice []int, cost plan.Cost) *trial {
			return tryOne(p, d, choice, signs, cost, reached)
		})
	}
	t := of.judged(p, d, alive, signs, reached)
	if p.refusals[d.key()] == 0 {
		idle := t.idle()
		switch {
		case len(idle) < len(d.slots):
			d.slots, t = without(d.slots, idle), t.without(idle)
		case t.trials[0].isFree() && !d.hasLeftOut(alive):
			d.holdsAnyway = true
			return lists.Mapped(d.slots, func(i int) []bool { return alive[i] })
		}
	}
	return keepHeld(p, d, alive, func(choice []int, _ plan.Cost) *trial { return t.at(choice) })
}

// keepHeld keeps those combinations of a demand that hold, and says which options are
// in one of them.
func keepHeld(p *planner, d *demand, alive [][]bool, trialOf func(choice []int, cost plan.Cost) *trial) [][]bool {
	var kept choices
	supported := make([][]bool, len(d.slots))
	for k, i := range d.slots {
		supported[k] = make([]bool, len(alive[i]))
	}
	combinations(p, d, alive, func(choice []int, cost plan.Cost) bool {
		t := trialOf(choice, cost)
		if t == nil {
			return true
		}
		for i := range t.ways {
			way := &t.ways[i]
			if isTooMuch(p, cost.Plus(way.cost)) || isRefused(p, d, choice, way) {
				continue
			}
			d.options = append(d.options, kept.copied(choice))
			d.ways = append(d.ways, way)
			for k, o := range choice {
				supported[k][o] = true
			}
		}
		return true
	})
	return supported
}

// choices keeps copies of choices, many in one piece of memory.
type choices struct{ room []int }

func (c *choices) copied(choice []int) []int {
	const most = 512
	if len(c.room)+len(choice) > cap(c.room) {
		c.room = make([]int, 0, max(len(choice), min(most, 2*cap(c.room)), 8))
	}
	from := len(c.room)
	c.room = append(c.room, choice...)
	return c.room[from:len(c.room):len(c.room)]
}

// combinations goes through the choices of options alive that do not make a plan cost too
// much, until one is enough; cost is the least a plan with them can cost. It reports
// whether those were all there are.
func combinations(p *planner, d *demand, alive [][]bool, try func(choice []int, cost plan.Cost) bool) bool {
	if isCutShort(p, d, size(p, d, alive)) {
		straightChoices(p, d, alive, try)
		return false
	}
	rest := restsOf(p, d, alive)
	choice, all := make([]int, len(d.slots)), true
	var from func(k int, cost, least plan.Cost) bool
	from = func(k int, cost, least plan.Cost) bool {
		if k == len(choice) {
			return try(choice, cost.Plus(rest[k]))
		}
		slot := p.slots[d.slots[k]]
		for o, ok := range alive[d.slots[k]] {
			if !ok {
				continue
			}
			with := cost.Plus(slot.options[o].cost)
			least := d.outside.with(least, d.slots[k], slot.options[o].cost)
			if isTooMuch(p, with.Plus(rest[k+1])) || isTooMuch(p, least) {
				all = false
				continue
			}
			choice[k] = o
			if !from(k+1, with, least) {
				return false
			}
		}
		return true
	}
	return from(0, plan.Cost{}, d.outside.start()) && all
}

// isCutShort reports whether only straight choices are tried of a demand with so many
// combinations.
func isCutShort(p *planner, d *demand, size int) bool {
	return p.rough && size > fewCombinations && !p.whole[d.key()]
}

// restsOf is what the slots that are not chosen yet cost at least, once so many of a
// demand's are.
func restsOf(p *planner, d *demand, alive [][]bool) []plan.Cost {
	rest := make([]plan.Cost, len(d.slots)+1)
	if isBounded(p) {
		floors := floorsOf(p, alive)
		for k := range rest {
			rest[k] = floors.without(d.slots[:k]).Plus(p.ways)
		}
	}
	return rest
}

// isTooMuch reports whether a cost is above that of a plan that is known.
func isTooMuch(p *planner, c plan.Cost) bool {
	return !p.plain && p.bound != nil && p.bound.Less(c, p.q.Prefer) || p.within != nil && !p.within.holds(c)
}

// tryOne judges one combination: the ways for it to hold and, when a plan with it
// could cost one part more, the ways through another part and where another part
// might do better, which is then reached. What was not looked at mates with everything.
// It is nil when the time is over.
func tryOne(p *planner, d *demand, choice []int, signs [][]int, cost plan.Cost,
	reached map[graph.PositionID]bool) *trial {
	key := p.key[:0]
	for k, o := range choice {
		if signs[k][o] < 0 {
			return p.anything
		}
		key = append(key, byte(signs[k][o]), byte(signs[k][o]>>8), byte(signs[k][o]>>16))
	}
	p.key = key
	t, ok := d.tried[string(key)]
	oneMore := !isTooMuch(p, cost.Plus(least(p, d.Places...)))
	if isLate(p, !ok || oneMore && !t.complete) {
		return nil
	}
	if !ok {
		t = newTrial(p, d, choice)
		d.tried[string(key)] = t
	}
	if oneMore {
		lookThrough(p, d, t, choice)
		for _, id := range t.upset {
			reached[id] = true
		}
	}
	return t
}

// partsOf are the parts of a choice by place.
func partsOf(p *planner, d *demand, choice []int) map[graph.PositionID]graph.PartID {
	parts := map[graph.PositionID]graph.PartID{}
	for k, i := range d.slots {
		parts[p.slots[i].at] = p.slots[i].options[choice[k]].part
	}
	return parts
}

// newTrial judges a combination, without looking for parts that would stand
// between.
func newTrial(p *planner, d *demand, choice []int) *trial {
	parts := partsOf(p, d, choice)
	if still := mustFill(p, d, parts); len(still) > 0 && !d.Unplanned {
		return &trial{upset: still, complete: true}
	}
	o, ok := outcome(p, d, parts)
	switch {
	case !ok:
		return &trial{ways: p.anything.ways, complete: true}
	case d.Unplanned && !isSettled(o):
		return &trial{ways: []donorWay{{outcome: o, cost: plan.Cost{Unknowns: unknownsOf(p, len(o.Safety) > 0)}}},
			complete: true, upset: d.Remedies(o)}
	case isSettled(o): // costs nothing, so that no other part does better; of what fits nobody asks for the checks
		return settledTrial(p, o)
	}
	return &trial{ways: withoutRefused(p, d, parts, waysWithout(p, d, o))}
}

// settledKey is an outcome that is settled, with its verdict.
type settledKey struct {
	outcome examine.OutcomeID
	after   graph.Verdict
}

// settledTrial is the one trial of all combinations of which an outcome is settled
// with the same verdict.
func settledTrial(p *planner, o examine.Outcome) *trial {
	key := settledKey{o.Key(), o.After}
	t, have := p.settled[key]
	if !have {
		t = &trial{ways: []donorWay{{outcome: examine.Outcome{What: o.What, ID: o.ID, After: o.After}}}, complete: true}
		p.settled[key] = t
	}
	return t
}

// lookThrough adds to a trial the ways through parts that stand between, and
// where another part might do better. Both cost a part more.
func lookThrough(p *planner, d *demand, t *trial, choice []int) {
	if t.complete {
		return
	}
	t.complete = true
	parts := partsOf(p, d, choice)
	// it is not kept: there are hundreds of thousands in a long search
	o, _ := outcome(p, d, parts)
	through := withoutRefused(p, d, parts, waysThrough(p, o))
	t.ways = append(slices.Clone(t.ways), through...) // those that were found before may be in use
	countUnpriced(p, d, t.ways)
	if !isCheap(p, d, t.ways) {
		t.upset = d.Remedies(o)
	}
}

// lookEvery is how many combinations whose outcome is known already go by
// between two looks at the clock; before each one that is to be judged there is
// one.
const lookEvery = 64

// isLate reports whether the time to look is over, or as much was judged as may be.
func isLate(p *planner, judging bool) bool {
	if judging && p.most > 0 {
		if p.most--; p.most == 0 {
			p.ctx.cancel(errLate)
		}
	}
	if p.looks++; judging || p.looks%lookEvery == 0 {
		return p.ctx.Err() != nil
	}
	return p.ctx.isOver()
}

// trial is one combination tried.
type trial struct {
	ways     []donorWay
	upset    []graph.PositionID
	complete bool // ways through other parts, and upset, are in
}

// isFree reports whether a combination holds in one way, which costs nothing.
func (t *trial) isFree() bool { return t != nil && len(t.ways) == 1 && t.ways[0].cost == plan.Cost{} }

// isDead reports whether a combination does not hold, or was not tried.
func (t *trial) isDead() bool { return t == nil || len(t.ways) == 0 }

// isCheap reports whether one of the ways of a demand costs no more than any other part
// would.
func isCheap(p *planner, d *demand, ways []donorWay) bool {
	other := least(p, d.Places...)
	return slices.ContainsFunc(ways, func(w donorWay) bool { return !other.Less(w.cost, p.q.Prefer) })
}
