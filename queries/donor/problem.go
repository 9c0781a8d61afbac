package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// mostCombinations is how many combinations of options one demand may have: more
// are not gone through in any time that somebody waits. Options that mate with
// nothing next to them are left out before it comes to that.
const mostCombinations = 2_000_000

// solve grows the problem until a smallest plan takes nothing that was not
// looked at. What was not looked at costs the least it could and mates with
// everything, so such a plan is a smallest one of the whole graph too. When the
// time is over it gives the best plan of what was looked at until then.
func solve(p *planner) (plan.Result, error) {
	if err := roughPlan(p); err != nil {
		if p.ctx.ended(err) {
			return outOfTime(p), nil
		}
		return plan.Result{}, err
	}
	if err := addGoals(p); err != nil {
		return plan.Result{}, err
	}
	for {
		result, open, err := step(p)
		switch {
		case err != nil && p.ctx.ended(err):
			return outOfTime(p), nil
		case err != nil:
			return result, err
		case len(open) > 0:
			continue
		case len(result.Plans) == 0 && p.known != nil && result.OverBudget == nil:
			if more, err := addKnown(p); err != nil {
				return bestKnown(p), err
			} else if more {
				continue
			}
			if p.rival != nil {
				return bestKnown(p), nil
			}
			// The search counts more of it than was counted when it was found: what is left is
			// looked at without it, and the two are held against one another.
			p.rival, p.bound = p.known, &plan.Cost{Unknowns: plan.MostTotal}
			continue
		}
		if result.Proved && len(p.refused) == 0 && len(result.Plans) > 0 {
			p.sure = &result.Plans[0].Cost
		}
		again, err := refusedPlans(p, result)
		if err == nil && !again && len(result.Plans) > 0 {
			again = weighTogether(p, result.Plans[0])
			err = cmp.Or(p.fault, p.ctx.Err())
		}
		switch {
		case err != nil && p.ctx.ended(err):
			return outOfTime(p), nil
		case err != nil:
			return result, err
		case !again:
			return besideRival(p, counted(p, result))
		}
	}
}

// addKnown adds the places that a rough plan changes, where the search came to none
// that costs as little: nothing reached them. It reports whether there were any.
func addKnown(p *planner) (bool, error) {
	var fresh []*donorSlot
	for i, s := range p.known.slots {
		o := s.options[p.known.result.Plans[0].Choice[i]]
		if o.part != p.before.PartIDAt(s.at) && addSlot(p, s.at) {
			fresh = append(fresh, p.slots[p.slotAt[s.at]])
		}
	}
	if len(fresh) == 0 {
		return false, nil
	}
	return true, grow(p, fresh)
}

// besideRival is the better of what the search came to and a plan that it counts more of than
// was counted when it was found: what the swap engine leaves unknown of each decides.
func besideRival(p *planner, r plan.Result) (plan.Result, error) {
	if p.rival == nil || len(r.Plans) == 0 {
		return r, nil
	}
	own := *p
	made, err := planOf(p, r.Plans[0])
	if err != nil {
		return r, err
	}
	unproved, overcounted := p.unproved, p.overcounted
	p.known = p.rival
	best := bestKnown(p)
	rival, err := planOf(p, best.Plans[0])
	if err == nil && rival.cost.Less(made.cost, p.q.Prefer) {
		return best, nil
	}
	*p = own
	p.unproved, p.overcounted = unproved, overcounted
	return r, nil
}

// bestKnown is the plan that is known, which is not proved to be the smallest.
func bestKnown(p *planner) plan.Result {
	r := outOfTime(p)
	p.late, p.unproved = false, true
	return r
}

// refusedPlans reports whether a whole machine refuses one of the plans, so that
// they must be looked for again.
func refusedPlans(p *planner, r plan.Result) (bool, error) {
	again := false
	for _, one := range r.Plans[:min(len(r.Plans), MostPlans)] {
		refused, err := refusedIn(p, p.slots, p.demands, one)
		if err != nil {
			return false, err
		}
		again = note(p, refused) || again
		if !p.q.All {
			break
		}
	}
	return again, nil
}

// addGoals makes slots of the places that must change. What was asked for by its
// number, or is the donor's, comes out of an offer where one has it.
func addGoals(p *planner) error {
	if err := readAsked(p); err != nil {
		return err
	}
	for _, id := range lists.KeysOf(p.fixed) {
		s := &donorSlot{at: id, fixed: true}
		for _, l := range p.lots {
			if o := (donorOption{part: l.part, from: l.from}); isOffered(l.from) && l.part == p.fixed[id].part &&
				p.wantedAt(id) <= l.quantity && !mustBeNew(p, id, l) {
				if l.condition == graph.ConditionInspect {
					o.cost.Unknowns = unknownsAt(p, id)
				}
				s.options = append(s.options, o)
			}
		}
		if own := goalOption(p, id); len(s.options) == 0 || own.from == fromDonor || isBoxed(own.from) || own.cost.Money > 0 {
			s.options = slices.Insert(s.options, 0, own)
			if o := s.options[0]; o.from == fromDonor && p.q.DonorStays && isNeeded(p, id) {
				s.options = append(s.options, boughtOption(p, id)) // where the donor can't be ridden with what it would get
			}
		}
		add(p, s)
	}
	for _, id := range p.along {
		addAlong(p, id)
	}
	wanted := lists.KeysOf(p.wanted)
	if len(wanted) == 0 {
		return nil
	}
	if _, err := readCandidates(p, wanted); err != nil {
		return err
	}
	for _, id := range wanted {
		s := &donorSlot{at: id, wanted: true, grown: true}
		addFromLots(p, s)
		if len(s.options) == 0 {
			return &queries.NotFoundError{What: "part", Asked: id.Local(),
				Where: "in the offers, but for the other side or another place"}
		}
		add(p, s)
	}
	return nil
}

// readAsked reads where what was asked for is listed.
func readAsked(p *planner) error {
	if err := readModels(p); err != nil {
		return err
	}
	var all []graph.PositionID
	for _, id := range lists.KeysOf(p.fixed) {
		all = append(all, namesakes(p, id)...)
	}
	return p.before.Library().ReadPositions(p.ctx, all)
}

// addAlong makes a slot of a place that the donor alone has, of an assembly that is to come
// over: what it has there comes along as it was asked for, or is left out.
func addAlong(p *planner, id graph.PositionID) {
	part := p.donor.PartIDAt(p.onDonor(id))
	s := &donorSlot{at: id, grown: true, options: []donorOption{
		{from: fromOut, cost: plan.Cost{Distance: 1}}, {part: part, from: fromDonor}}}
	if !isFree(p, id) {
		s.options[1] = donorOption{part: part, from: fromGraph, cost: plan.Cost{Parts: p.wantedAt(id),
			Money: price(p, p.before.Library().Part(part), p.wantedAt(id))}}
	}
	add(p, s)
}

// step solves the problem as far as it has grown, and grows it where a plan
// takes what was not looked at: those slots are open. It ends with errLate when
// the time is over, also for the solver.
func step(p *planner) (plan.Result, []*donorSlot, error) {
	if err := build(p); err != nil {
		return plan.Result{}, nil, err
	}
	if err := solveKnown(p); err != nil {
		return plan.Result{}, nil, err
	}
	result, err := plan.Solve(p.asked, p.problem, plan.Options{Deadline: p.ctx.left(), Prefer: p.q.Prefer, All: true,
		Budget: p.q.Budget.Hundredths, Stop: p.q.Stop})
	p.bottom = result.Least
	if err == nil && !result.Proved {
		err = errLate
	}
	open := openSlots(p, result)
	if err != nil || len(open) == 0 {
		return result, nil, err
	}
	return result, open, grow(p, open)
}

// known is the best plan of what was looked at, with the problem it is one of:
// a fall-back, and a bound for what need be looked at.
type known struct {
	slots   []*donorSlot
	demands []*demand
	problem plan.Problem
	result  plan.Result
	around  *examine.Connections
}

// solveKnown solves the problem without what was not looked at.
func solveKnown(p *planner) error { return solveClosed(p, p.problem, p.demands) }

func solveClosed(p *planner, open plan.Problem, of []*demand) error {
	k := known{slots: copySlots(p), around: p.around}
	var result plan.Result
	for {
		k.problem, k.demands = closed(p, open, of)
		var err error
		result, err = plan.Solve(p.asked, k.problem, plan.Options{Deadline: p.ctx.left(), Prefer: p.q.Prefer, NoClash: true,
			Budget: p.q.Budget.Hundredths, Stop: p.q.Stop,
			Better: func(one plan.Plan) {
				if p.known != nil { // a first plan is one once the whole machine does not refuse it
					tell(p, one.Cost)
				}
			}})
		if err == nil && result.OverBudget != nil && (p.dear == nil ||
			result.OverBudget.Cost.Money < p.dear.result.OverBudget.Cost.Money) {
			k.result, p.dear = result, &k
		}
		if err != nil || len(result.Plans) == 0 {
			return err
		}
		refused, err := refusedIn(p, k.slots, k.demands, result.Plans[0])
		if err != nil {
			return err
		}
		if !note(p, refused) {
			break
		}
		open, of = withoutRefusals(p, open, of)
	}
	if cost := result.Plans[0].Cost; p.bound == nil || !p.bound.Less(cost, p.q.Prefer) {
		k.result, p.known, p.bound = result, &k, &cost
		tell(p, cost)
	}
	return p.ctx.Err()
}

// tell says what the best plan so far costs, when it is better than the one told
// of before.
func tell(p *planner, cost plan.Cost) {
	if p.q.Better == nil || p.told != nil && !cost.Less(*p.told, p.q.Prefer) {
		return
	}
	p.told = &cost
	p.q.Better(costWords(cost))
}

// costWords is a cost as far as it can be told before the plan is put together.
func costWords(cost plan.Cost) DonorCost {
	return DonorCost{SafetyUnknowns: cost.Unknowns / safetyWeight, OtherUnknowns: cost.Unknowns % safetyWeight,
		Effort: graph.Effort(cost.Effort).String(), Parts: cost.Parts, Changes: cost.Distance}
}

func copySlots(p *planner) []*donorSlot {
	return lists.Mapped(p.slots, func(s *donorSlot) *donorSlot {
		one := *s
		one.options = slices.Clone(s.options)
		return &one
	})
}

// closed is a problem without what was not looked at.
func closed(p *planner, open plan.Problem, of []*demand) (plan.Problem, []*demand) {
	problem := plan.Problem{Slots: open.Slots, Demands: slices.Clone(open.Demands)}
	demands := lists.Mapped(of, func(d *demand) *demand { // as they are now: each is enumerated again as the problem grows
		one := *d
		return &one
	})
	for i, s := range p.slots {
		for j, o := range s.options {
			if o.other {
				problem.Demands = append(problem.Demands, allBut(i, j, len(s.options)))
				demands = append(demands, &demand{ways: make([]*donorWay, len(s.options)-1)})
			}
		}
	}
	return problem, demands
}

// outOfTime takes the best of what was looked at; the problem is then the one
// it was found in.
func outOfTime(p *planner) plan.Result {
	p.late = true
	best := cmp.Or(p.known, p.dear)
	if best == nil {
		return plan.Result{}
	}
	p.slots, p.demands, p.problem, p.around = best.slots, best.demands, best.problem, best.around
	p.slotAt = slotsAt(p.slots)
	r := best.result
	if p.known == nil { // all that was found goes over the budget
		r.Proved = false
		return r
	}
	r.Least = p.bottom // of what was looked at and of all else, so of the whole graph
	r.Plans, r.Proved, r.Equal, r.EqualAtLeast = r.Plans[:1], false, 1, true
	return r
}

// openSlots are the slots where a plan takes something that was not looked at.
func openSlots(p *planner, r plan.Result) []*donorSlot {
	var open []*donorSlot
	plans := slices.Clip(r.Plans[:min(len(r.Plans), MostPlans)])
	if r.OverBudget != nil {
		plans = append(plans, *r.OverBudget)
	}
	for _, one := range plans {
		for i, s := range p.slots {
			if s.options[one.Choice[i]].other && !slices.Contains(open, s) {
				open = append(open, s)
			}
		}
	}
	return open
}

// allBut is the demand that a slot takes anything but one option.
func allBut(slot, option, options int) plan.Demand {
	d := plan.Demand{Name: "only what was looked at", Slots: []int{slot}}
	for o := range options {
		if o != option {
			d.Allowed = append(d.Allowed, plan.Combination{Options: []int{o}})
		}
	}
	return d
}

// build makes the problem of the slots, adding those that a demand reaches.
func build(p *planner) error {
	if err := cmp.Or(gather(p), p.ctx.Err()); err != nil {
		return err
	}
	if dead, err := buildDead(p); err != nil || dead {
		return err
	}
	if err := cmp.Or(weighPlaces(p), p.fault); err != nil {
		return err
	}
	if err := guess(p); err != nil {
		return err
	}
	for {
		reached := enumerate(p)
		if err := cmp.Or(p.fault, p.ctx.Err()); err != nil {
			return err
		}
		added := false
		for _, id := range reached {
			added = addSlot(p, id) || added
		}
		if !added {
			break
		}
	}
	p.problem, p.demands = assembled(p)
	return cmp.Or(p.fault, p.ctx.Err())
}

// assembled is the problem as the demands were last enumerated, without those
// that hold whatever is chosen.
func assembled(p *planner) (plan.Problem, []*demand) {
	var problem plan.Problem
	for _, s := range p.slots {
		slot := plan.Slot{Name: s.at.Local(), Options: make([]plan.Option, 0, len(s.options))}
		for _, o := range s.options {
			slot.Options = append(slot.Options, plan.Option{Name: optionName(o), Cost: o.cost})
		}
		problem.Slots = append(problem.Slots, slot)
	}
	demands := lists.Kept(slices.Clone(p.demands), func(d *demand) bool { return !d.holdsAnyway })
	for _, d := range demands {
		problem.Demands = append(problem.Demands, d.asked(d.What+" "+queries.LocalName(d.ID)))
	}
	demands = addLots(p, &problem, demands)
	demands = addOffers(p, &problem, demands)
	demands = addExchanges(p, &problem, demands)
	demands = addCompany(p, &problem, demands)
	return problem, demands
}

func optionName(o donorOption) string {
	switch {
	case o.part != "":
		return string(o.part) + " (" + o.from + ")"
	case o.other:
		return "something else, which nobody looked at"
	}
	return "nothing (" + o.from + ")"
}
