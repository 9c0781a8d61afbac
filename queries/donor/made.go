package donor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// putOn puts on, or between, what a way gets and makes.
func putOn(w *swap.Workshop, way donorWay) {
	for _, order := range way.orders {
		w.Make(way.outcome, order)
	}
	for _, g := range way.get {
		w.Bolts(g)
	}
	if way.through.ID != "" {
		w.Put(way.outcome, way.through)
	}
}

// withoutRefused leaves out the ways whose parts, once they are made and on, are
// refused where they are to help: what is made is judged as a part. What is then
// unknown counts as such.
func withoutRefused(p *planner, d *demand, parts map[graph.PositionID]graph.PartID, ways []donorWay) []donorWay {
	var kept []donorWay
	for _, way := range ways {
		if len(way.orders) == 0 && way.through.ID == "" {
			kept = append(kept, way)
			continue
		}
		s := setupWith(p, p.base, parts)
		key := string(keyOn(p, d, s)) + " " + way.name
		on, known := p.onceOn[key]
		if !known {
			on = onceOn(p, d, s, way)
			p.onceOn[key] = on
		}
		switch {
		case on == graph.DoesNotFit:
			continue
		case on == graph.Unknown && way.cost.Unknowns == 0:
			way.cost.Unknowns = unknownsOf(p, len(way.outcome.Safety) > 0)
		}
		kept = append(kept, way)
	}
	return kept
}

// onceOn is the verdict on a demand once what a way gets and makes is on; it fits, for
// this, where no rule can judge that.
func onceOn(p *planner, d *demand, s *machine.Setup, way donorWay) graph.Verdict {
	w := swap.NewWorkshop()
	putOn(w, way)
	o, ok := d.Judge(p.was, w.On(s, nil))
	if !ok || !w.IsOn(o) || o.After == graph.Unknown && isSettled(o) {
		return graph.Fits
	}
	return o.After
}

// onceMade judges the machine with all that its ways get and make. What no rule can
// judge once it is made is left out; nothing is judged where nothing is made.
func onceMade(p *planner, after *machine.Setup, ways []donorWay) ([]examine.Outcome, error) {
	made := map[examine.OutcomeID]bool{}
	for _, way := range ways {
		if way.makes() {
			made[way.outcome.Key()] = true
		}
	}
	if len(made) == 0 {
		return nil, nil
	}
	key := keyOfWays(after, ways)
	if outcomes, have := p.allMade[key]; have {
		return slices.Clone(outcomes), nil
	}
	w := putOnAll(ways)
	outcomes, err := swap.Met(p.ctx, p.stood, w.On(after, nil))
	if err != nil {
		return nil, err
	}
	outcomes = lists.Kept(outcomes, func(o examine.Outcome) bool { return !made[pairKey(o)] || w.IsOn(o) })
	p.allMade[key] = outcomes
	return slices.Clone(outcomes), nil
}

// keyOfWays tells one machine with all that its ways get and make from another.
func keyOfWays(after *machine.Setup, ways []donorWay) string {
	var key strings.Builder
	for _, id := range after.Changed() {
		fmt.Fprintf(&key, "%s=%s\n", id, after.PartIDAt(id))
	}
	for _, way := range ways {
		fmt.Fprintf(&key, "%s %s: %s\n", way.outcome.What, way.outcome.ID, way.name)
	}
	return key.String()
}

// putOnAll is a workshop in which all that the ways get and make is on.
func putOnAll(ways []donorWay) *swap.Workshop {
	w := swap.NewWorkshop()
	for _, way := range ways {
		putOn(w, way)
	}
	return w
}

// refusal is one way of one combination of parts that a whole machine refused.
type refusal struct {
	demand     examine.OutcomeID
	parts, way string
}

// refusedIn are the ways of a plan that the machine refuses once all of the plan
// is on: what was made for one joint is in the way of another, or a bracket does
// not carry a caliper as far as another wheel asks. No demand sees that alone.
func refusedIn(p *planner, slots []*donorSlot, demands []*demand, one plan.Plan) ([]refusal, error) {
	changes := map[graph.PositionID]graph.PartID{}
	for i, s := range slots {
		if option := s.options[one.Choice[i]]; option.part != p.before.Seat(s.at).Part.ID || s.isGoal() {
			changes[s.at] = option.part
		}
	}
	var ways []donorWay
	var names []refusal
	for i, through := range one.Through {
		if way := demands[i].ways[through]; way != nil {
			ways = append(ways, *way)
			names = append(names, nameRefusal(slots, demands[i], demands[i].options[through], way.name))
		}
	}
	after, err := p.before.With(p.ctx, changes)
	if err != nil {
		return nil, err
	}
	outcomes, err := onceMade(p, after, ways)
	var refused []refusal
	p.unproved = false
	for _, o := range outcomes {
		p.unproved = p.unproved || leavesMore(ways, o)
		if o.After != graph.DoesNotFit || isSettled(o) {
			continue
		}
		blamed := indexesOf(ways, func(way donorWay) bool { return isAnswerable(way, o) })
		if len(blamed) == 0 {
			blamed = indexesOf(ways, func(way donorWay) bool { return isOf(way, o) })
		}
		for _, i := range blamed {
			if !slices.Contains(refused, names[i]) {
				refused = append(refused, names[i])
			}
		}
	}
	return refused, err
}

// leavesMore reports whether a machine with all of a plan made leaves something unknown
// that its ways did not count: a line made anew beside an exhaust. Then a plan that
// counts more may leave less, and nothing is proved.
func leavesMore(ways []donorWay, o examine.Outcome) bool {
	return o.After == graph.Unknown && !isSettled(o) && len(o.Safety) > 0 && !examine.IsSaid(o) &&
		slices.ContainsFunc(ways, func(way donorWay) bool { return isOf(way, o) && way.cost.Unknowns == 0 })
}

func indexesOf[T any](list []T, is func(T) bool) []int {
	var found []int
	for i, one := range list {
		if is(one) {
			found = append(found, i)
		}
	}
	return found
}

// isOf reports whether a way is the one by which a connection was to hold.
func isOf(way donorWay, o examine.Outcome) bool {
	return pairKey(way.outcome) == pairKey(o)
}

// isAnswerable reports whether a way is the one by which the refused connection was
// to hold, of whatever sort unless it asked for nothing, or what it makes is part of
// what is refused.
func isAnswerable(way donorWay, o examine.Outcome) bool {
	if isOf(way, o) {
		return !isSettled(way.outcome)
	}
	isAt := func(at graph.PositionID) bool {
		return at != "" && slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at })
	}
	return slices.ContainsFunc(way.get, func(g swap.Get) bool { return g.IsOrdered() && isAt(g.Position) }) ||
		slices.ContainsFunc(way.orders, func(order mating.Order) bool { return isAt(cmp.Or(order.Instead, order.Under)) })
}

func nameRefusal(slots []*donorSlot, d *demand, choice []int, way string) refusal {
	var parts []string
	for k, i := range d.slots {
		parts = append(parts, string(slots[i].options[choice[k]].part))
	}
	return refusal{d.key(), strings.Join(parts, "\n"), way}
}

// withoutRefusals is a problem without the ways that a whole machine refused.
func withoutRefusals(p *planner, problem plan.Problem, demands []*demand) (plan.Problem, []*demand) {
	problem.Demands, demands = slices.Clone(problem.Demands), slices.Clone(demands)
	for i, d := range demands {
		less, allowed := *d, []plan.Combination{}
		less.options, less.ways = nil, nil
		for k, way := range d.ways {
			if way == nil || !isRefused(p, d, d.options[k], way) {
				allowed = append(allowed, problem.Demands[i].Allowed[k])
				if d.options != nil {
					less.options = append(less.options, d.options[k])
				}
				less.ways = append(less.ways, way)
			}
		}
		if len(less.ways) < len(d.ways) {
			demands[i], problem.Demands[i].Allowed = &less, allowed
		}
	}
	return problem, demands
}

// mostRefused is how many ways of one demand are refused one by one. After that
// nothing is made or put between for it: each combination of parts would only ask
// for another length.
const mostRefused = 6

func isRefused(p *planner, d *demand, choice []int, way *donorWay) bool {
	if p.refusals[d.key()] == 0 {
		return false
	}
	r := nameRefusal(p.slots, d, choice, way.name)
	return p.refused[r] || way.makes() && p.refusals[r.demand] >= mostRefused
}

// note takes note of what a whole machine refused, and reports whether there was
// any.
func note(p *planner, refused []refusal) bool {
	for _, r := range refused {
		p.refused[r] = true
		p.refusals[r.demand]++
	}
	return len(refused) > 0
}
