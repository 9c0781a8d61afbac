package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// narrowness is what a rough plan may put at a place besides what is there.
type narrowness int

const (
	anyPart    narrowness = iota // all there is, as in any other plan
	donorsOnly                   // what the donor has, and what lies in boxes and offers
	listedOnly                   // what some list has at a place of that name besides
)

// wider is the next wider one; false for the widest.
func (n narrowness) wider() (narrowness, bool) {
	switch n {
	case donorsOnly:
		return listedOnly, true
	case listedOnly:
		return anyPart, true
	}
	return anyPart, false
}

// mostRounds is how often a rough problem is widened before it is given up.
const mostRounds = 40

// roundsByOne is how often a rough problem is widened by what is stuck alone. Where that gave
// no plan, half a machine must come over, and all that does not fit beside it is added at once.
const roundsByOne = 3

// fewCombinations is up to how many combinations of one demand are all tried for a
// rough plan. Of more, those are that have the parts of one machine all but one,
// unless the demand is one that holds a plan up.
const fewCombinations = 64

// mostClashes is how many clashes of one rough problem are looked at before it is
// widened, and mostGuesses how many guesses a smallest one may take.
const (
	mostClashes = 12
	mostGuesses = 3
)

// roughPlan looks for some plan at once, as a mechanic would: what touches comes over
// from the donor too, the rest is made. Where that can't be, only the connections that
// are in each other's way are looked at for more. It is a plan like any other, so that
// it is a fall-back, and its size bounds all that is looked at for a better one; its
// money does not, since what has no price counts more the more parts are known.
func roughPlan(p *planner) error {
	if p.plain || p.first != nil {
		return nil
	}
	n := roughPlanner(p)
	p.first = n
	err := tryRough(n)
	p.most, p.dear = n.most, n.dear
	if n.known != nil {
		p.known, p.bound, p.told = n.known, n.bound, n.told
	}
	return err
}

// roughPlanner is a planner of the same task, with slots of its own. What was judged it
// shares, but for what was tried by slots.
func roughPlanner(p *planner) *planner {
	n := plannerWith(p.task, p.memory.shared(), p.ctx)
	n.notes, n.rough, n.told, n.most = nil, true, p.told, p.most
	n.whole = map[examine.OutcomeID]bool{}
	return n
}

// tryRough widens a rough problem, where something can't hold, until it has a plan, or
// there is nothing to widen it with. Then it widens what the plan leaves unknown.
func tryRough(p *planner) error {
	if err := addGoals(p); err != nil {
		return err
	}
	for round := range mostRounds {
		if p.ctx.isNearlyOver() {
			return nil
		}
		if round == roundsByOne {
			if err := takeAlong(p); err != nil {
				return err
			}
		}
		stuck, err := roughRound(p)
		if err != nil {
			return err
		}
		switch {
		case p.known != nil && p.most > 0: // any plan will do
			return nil
		case p.known != nil:
			return cheapenRough(p)
		}
		p.stuck = stuck
		if more, err := widen(p, stuck); err != nil || !more {
			return err
		}
	}
	return nil
}

// takeAlong adds all that would have to come over with what the donor has at the slots, were
// all of it taken: what does not fit beside it, then what does not fit beside that, until
// the rest does. Of a net of two hundred places that one goes through the whole of, one ring
// after the other would take as many problems as there are rings.
func takeAlong(p *planner) error {
	if p.donor == nil {
		return nil
	}
	next := p.slots
	for len(next) > 0 {
		at := lists.Mapped(next, func(s *donorSlot) graph.PositionID { return s.at })
		around, err := examine.ConnectionsAt(p.ctx, p.shape, at)
		if err != nil {
			return err
		}
		over := setupWith(p, p.base, donorsParts(p))
		fresh := map[graph.PositionID]bool{}
		for _, c := range around.List(p.shape, at) {
			if err := p.ctx.Err(); err != nil {
				return err
			}
			o, ok := outcomeOn(p, &demand{Connection: c, reads: c.Reads()}, over)
			if !ok || o.After != graph.DoesNotFit || isSettled(o) {
				continue
			}
			for _, id := range c.Places {
				fresh[id] = addSlot(p, id) || fresh[id]
			}
		}
		next = lists.Kept(slices.Clone(p.slots), func(s *donorSlot) bool { return fresh[s.at] })
		if _, err := growRough(p, next); err != nil {
			return err
		}
	}
	return nil
}

// donorsParts is what the donor has at the slots that may take it.
func donorsParts(p *planner) map[graph.PositionID]graph.PartID {
	parts := map[graph.PositionID]graph.PartID{}
	for _, s := range p.slots {
		for _, o := range s.options {
			if o.from == fromDonor || o.from == fromOut && mayGo(p, s.at) {
				parts[s.at] = o.part
			}
		}
	}
	return parts
}

// cheapenRough widens what a rough plan leaves unknown, as long as the plan gets
// cheaper by it and no more than a third of the time has passed.
func cheapenRough(p *planner) error {
	for range mostRounds {
		p.bound.Money, p.bound.Distance = plan.MostTotal, plan.MostTotal
		was := *p.bound
		if p.ctx.passed() > p.ctx.whole.Sub(p.ctx.began)/3 {
			return nil
		}
		if more, err := widen(p, openDemands(p)); err != nil || !more {
			return err
		}
		if _, err := roughRound(p); err != nil {
			return err
		}
		if !p.bound.Less(was, p.q.Prefer) {
			break
		}
	}
	p.bound.Money, p.bound.Distance = plan.MostTotal, plan.MostTotal
	return nil
}

// openDemands are those that a rough plan leaves unknown.
func openDemands(p *planner) []*demand {
	var open []*demand
	for i, through := range p.known.result.Plans[0].Through {
		d := p.known.demands[i]
		if d.lot == nil && len(d.Places) > 0 && d.ways[through] != nil && d.ways[through].cost.Unknowns > 0 {
			open = append(open, d)
		}
	}
	return open
}

// widen lets more parts come to the places of demands that are in each other's way:
// first at places where nothing changes yet and that could put it right, of demands that
// hold, though not together, then at all their places. A demand that has no such place
// gets parts from further off at once, as all do when none has. It reports whether there
// was any.
func widen(p *planner, stuck []*demand) (bool, error) {
	for _, places := range []func(d *demand) []graph.PositionID{(*demand).remedies,
		func(d *demand) []graph.PositionID {
			if d.isDead() {
				return nil
			}
			return d.Places
		}} {
		fresh, without := freshSlots(p, stuck, places)
		if more, err := growRough(p, fresh); err != nil {
			return false, err
		} else if more {
			_, err := widenSlots(p, without)
			return true, err
		}
	}
	if more, err := widenSlots(p, stuck); err != nil || more {
		return more, err
	}
	return tryWhole(p, stuck), nil
}

// freshSlots makes slots of certain places of demands, and gives the demands that have
// none among them.
func freshSlots(p *planner, stuck []*demand, places func(d *demand) []graph.PositionID) ([]*donorSlot, []*demand) {
	fresh := map[graph.PositionID]bool{}
	for _, d := range stuck {
		for _, id := range places(d) {
			fresh[id] = addSlot(p, id) || fresh[id]
		}
	}
	var slots []*donorSlot
	for _, s := range p.slots {
		if fresh[s.at] {
			slots = append(slots, s)
		}
	}
	return slots, lists.Kept(slices.Clone(stuck), func(d *demand) bool {
		return !slices.ContainsFunc(places(d), func(id graph.PositionID) bool { return fresh[id] })
	})
}

// growRough gives slots that are new what the donor has, or, where it has nothing else,
// what is listed. It reports whether some may change.
func growRough(p *planner, fresh []*donorSlot) (bool, error) {
	if len(fresh) == 0 {
		return false, nil
	}
	for _, s := range fresh {
		s.narrow = donorsOnly
	}
	if err := grow(p, fresh); err != nil {
		return false, err
	}
	alone := func(s *donorSlot) bool { return len(s.options) == 1 }
	if lonely := lists.Kept(slices.Clone(fresh), alone); len(lonely) > 0 {
		if err := growWider(p, lonely); err != nil {
			return false, err
		}
	}
	return !slices.ContainsFunc(fresh, alone) || len(lists.Kept(slices.Clone(fresh), alone)) < len(fresh), nil
}

// growWider lets parts from one step further off come to slots.
func growWider(p *planner, slots []*donorSlot) error {
	for _, s := range slots {
		s.narrow, _ = s.narrow.wider()
	}
	return grow(p, slots)
}

// widenSlots lets parts from further off come to the slots of demands that hold a plan
// up, the nearest first. It reports whether there were any.
func widenSlots(p *planner, stuck []*demand) (bool, error) {
	for _, from := range []narrowness{donorsOnly, listedOnly} {
		var slots []*donorSlot
		parts := 0
		for _, s := range p.slots {
			isOf := func(d *demand) bool { return slices.Contains(d.Places, s.at) }
			if !s.isGoal() && s.narrow == from && slices.ContainsFunc(stuck, isOf) {
				slots = append(slots, s)
				parts -= len(s.options)
			}
		}
		if len(slots) == 0 {
			continue
		}
		if err := growWider(p, slots); err != nil {
			return false, err
		}
		for _, s := range slots {
			parts += len(s.options)
		}
		if parts > 0 {
			return true, nil
		}
	}
	return false, nil
}

// tryWhole has all combinations of the parts of demands tried, and reports whether some
// were not before.
func tryWhole(p *planner, stuck []*demand) bool {
	some := false
	for _, d := range stuck {
		if key := d.key(); !p.whole[key] && isCut(p, d) {
			p.whole[key], some = true, true
		}
	}
	return some
}

// isCut reports whether only some of the combinations of a demand were tried.
func isCut(p *planner, d *demand) bool {
	size := 1
	for _, id := range d.Places {
		if i, ok := p.slotAt[id]; ok {
			size = min(size*len(p.slots[i].options), mostCombinations)
		}
	}
	return size > fewCombinations && size <= fewCombinations*fewCombinations
}

// roughRound looks for a plan of the problem as it is; without one it gives demands
// that can't hold together.
func roughRound(p *planner) ([]*demand, error) {
	if err := cmp.Or(gather(p), p.ctx.Err()); err != nil {
		return nil, err
	}
	if err := weighPlaces(p); err != nil {
		return nil, err
	}
	enumerateWith(p, false)
	if err := cmp.Or(p.fault, p.ctx.Err()); err != nil {
		return nil, err
	}
	if dead := lists.Kept(slices.Clone(p.demands), (*demand).isDead); len(dead) > 0 {
		return dead, nil
	}
	known := p.known
	p.problem, p.demands = assembled(p)
	if err := solveClosed(p, p.problem, p.demands); err != nil || p.known != nil || known != nil {
		return nil, err
	}
	return stuckIn(p)
}

// stuckIn are demands of a rough problem without a plan that can't hold together, and
// those of which the whole machine refused something. Of a machine of which half must
// come over many clash, so that one clash a round would not do: without the demands that
// can be widened the rest is looked at for another.
func stuckIn(p *planner) ([]*demand, error) {
	problem, demands := withoutRefusals(p, p.problem, p.demands)
	var stuck []*demand
	for _, d := range demands {
		if d.isOfPlaces() && p.refusals[d.key()] > 0 {
			stuck = append(stuck, d)
		}
	}
	for range mostClashes {
		clash, err := plan.ClashIn(p.ctx.Context, problem, mostGuesses)
		if err != nil || clash == nil {
			return stuck, cmp.Or(err, p.ctx.Err())
		}
		left := plan.Problem{Slots: problem.Slots}
		var others []*demand
		for i, d := range demands {
			inClash := d.isOfPlaces() && slices.Contains(clash.Demands, i)
			if inClash && !slices.Contains(stuck, d) {
				stuck = append(stuck, d)
			}
			if !inClash || !canWiden(p, d) {
				left.Demands, others = append(left.Demands, problem.Demands[i]), append(others, d)
			}
		}
		if len(others) == len(demands) {
			break
		}
		problem, demands = left, others
	}
	return stuck, p.ctx.Err()
}

// canWiden reports whether a demand has a place of which nothing was looked at yet.
func canWiden(p *planner, d *demand) bool {
	return slices.ContainsFunc(d.Places, func(id graph.PositionID) bool { return mayAdd(p, id) })
}

// straightChoices goes through the choices that have what is there at every slot, or
// what the donor has, all but one.
func straightChoices(p *planner, d *demand, alive [][]bool, try func(choice []int, cost plan.Cost) bool) {
	tried := map[string]bool{}
	once := func(choice []int) bool {
		key := make([]byte, 0, 2*len(choice))
		for _, o := range choice {
			key = append(key, byte(o), byte(o>>8))
		}
		if tried[string(key)] {
			return true
		}
		tried[string(key)] = true
		return try(choice, plan.Cost{})
	}
	options := make([][]int, len(d.slots))
	for k, i := range d.slots {
		if options[k] = indexesOf(alive[i], func(ok bool) bool { return ok }); len(options[k]) == 0 {
			return
		}
	}
	for _, isDonors := range []bool{false, true} {
		base := make([]int, len(options))
		for k, i := range d.slots {
			base[k] = options[k][0]
			at := slices.IndexFunc(options[k], func(o int) bool { return p.slots[i].options[o].from == fromDonor })
			if isDonors && at >= 0 {
				base[k] = options[k][at]
			}
		}
		for k := range base {
			for _, o := range options[k] {
				choice := slices.Clone(base)
				choice[k] = o
				if !once(choice) {
					return
				}
			}
		}
	}
}

// slotsAt are the slots by their places.
func slotsAt(slots []*donorSlot) map[graph.PositionID]int {
	at := map[graph.PositionID]int{}
	for i, s := range slots {
		at[s.at] = i
	}
	return at
}
