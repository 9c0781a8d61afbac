package donor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// planFault says that a plan did not pass the swap engine: the planner and the
// engine disagree, which is a fault of this program.
type planFault struct {
	What []string
	// loose are places that the plan has come off for good, and that carried something.
	loose []graph.PositionID
}

// Error names the connections on which they disagree.
func (f *planFault) Error() string {
	return "internal error: the plan does not pass the check of the swap engine: " + strings.Join(f.What, "; ")
}

// planOf turns a choice into a plan, after the swap engine has judged it joint by
// joint, from the facts anew.
func planOf(p *planner, one plan.Plan) (DonorPlan, error) {
	d := DonorPlan{searched: one.Cost, Take: []DonorPart{}, Get: []DonorPart{}, Off: []DonorPart{}, Stay: []DonorPart{},
		Make: []swap.Get{}, Modify: []DonorModify{}}
	changes, chosen := p.parts(), map[graph.PositionID]graph.PartID{}
	if err := readLineagesOf(p, one); err != nil {
		return d, err
	}
	for i, s := range p.slots {
		option := s.options[one.Choice[i]]
		chosen[s.at] = option.part
		if seat := p.before.Seat(s.at); option.part != seat.Part.ID || s.isGoal() {
			changes[s.at] = option.part
			d.addPart(part(p, s.at, option))
		} else if option.part != "" {
			d.Stay = append(d.Stay, part(p, s.at, option))
		}
	}
	d.LeftOut = leftOut(p, changes)
	var ways []donorWay
	for i, through := range one.Through {
		var way donorWay
		if shared := p.demands[i].ways[through]; shared != nil {
			way = *shared
		}
		ways = append(ways, way)
		d.Make = append(d.Make, way.get...)
	}
	for _, way := range ways {
		d.Modify = append(d.Modify, besideOrdered(way, ways)...)
	}
	sayWhatFor(p, &d, ways, chosen)
	refuse(p, &d, ways)
	after, err := p.before.With(p.ctx, changes)
	if err != nil {
		return d, err
	}
	countBolts(p, &d, after)
	if d.Swap, err = recheck(p, after, ways, &d); err != nil {
		return d, err
	}
	d.Buy = bought(p, &d)
	d.NotInspected = append(notInspected(p, d.Buy), notProved(p, d)...)
	d.judged()
	d.counted = recounted(p, one, ways, d.Swap)
	d.cost = withGoals(p, takeBoxed(p, &d, d.counted), d.Swap)
	d.Cost, d.Route = costOf(p, d)
	if d.DonorAfter, err = donorAfter(p, &d); err != nil {
		return d, err
	}
	d.sort()
	d.Work, d.Cycle, err = work(p, after, &d)
	return d, err
}

// leftOut is what the donor alone has next to what was looked at, and a plan does not take.
func leftOut(p *planner, changes map[graph.PositionID]graph.PartID) []DonorPart {
	var out []DonorPart
	for _, id := range p.before.Brought() {
		seat := p.donor.Seat(p.onDonor(id))
		if changes[id] == "" && !seat.Empty && len(p.meets[id]) > 0 {
			out = append(out, part(p, id, donorOption{part: seat.Part.ID, from: fromDonor}))
		}
	}
	return out
}

// besideOrdered is what a way has to be done besides. Where it alters the spacers beside a
// hub for whose row others are ordered, it says that this is not in their lengths: those go
// by what the hub is said to add, and not by the bearings and the tube that go into it.
func besideOrdered(way donorWay, ways []donorWay) []DonorModify {
	if way.outcome.What != examine.OfInnerRow {
		return way.modify
	}
	isOrdered := slices.ContainsFunc(ways, func(row donorWay) bool {
		return row.outcome.What == examine.OfStack && len(row.orders) > 0 &&
			slices.ContainsFunc(way.outcome.Ends, func(e examine.End) bool {
				return slices.ContainsFunc(row.outcome.Ends, func(r examine.End) bool { return r.Position == e.Position })
			})
	})
	modify := slices.Clone(way.modify)
	for i, m := range modify {
		if isOrdered && m.spacers {
			modify[i].Do += "; that comes on top of the lengths ordered"
		}
	}
	return modify
}

// countBolts has other bolts of a plan be as many as the holes take into which they go.
func countBolts(p *planner, d *DonorPlan, after *machine.Setup) {
	for _, list := range []*[]DonorPart{&d.Take, &d.Get} {
		for i, part := range *list {
			for _, j := range p.around.Known {
				if slices.Contains(j.Fasteners, part.Position) {
					(*list)[i].Quantity = max((*list)[i].Quantity, after.BoltsWanted(j, part.Position))
				}
			}
		}
	}
}

// part is one part of a plan, with what findings say of it there.
func part(p *planner, id graph.PositionID, o donorOption) DonorPart {
	was := p.before.Seat(id)
	part, _ := p.before.Part(o.part)
	d := DonorPart{Position: id, Name: was.Position.Name, Safety: was.Position.Safety, Part: o.part, PartName: part.Name,
		Was: was.Part.ID, EmptyNow: p.isEmptyNow(id),
		From: o.from, Quantity: p.before.Quantity(id), Price: swap.PriceOf(part)}
	if o.part == "" {
		d.Quantity = 0
	}
	var said []string
	for _, f := range wordOn(p, id, o.part).by {
		said = append(said, fmt.Sprintf("%s: %s%s", f.ID, f.Verdict, changesText(f)))
	}
	if part.Gone && (o.from == fromGraph || o.from == fromNew || o.from == FromAsked) {
		d.Price = ""
		said = append(said, goneNote)
	}
	if o.from == fromDonor || isBoxed(o.from) {
		d.Price = "" // there is nothing to pay
	}
	d.Note = strings.Join(said, "; ")
	d.Retired = p.before.Library().Retired(o.part)
	return d
}

// readLineagesOf reads what the chosen parts gave way to.
func readLineagesOf(p *planner, one plan.Plan) error {
	var chosen []graph.PartID
	for i, s := range p.slots {
		chosen = append(chosen, s.options[one.Choice[i]].part)
	}
	return p.before.Library().ReadLineages(p.ctx, chosen)
}

func changesText(f graph.Finding) string {
	if len(f.Changes) == 0 {
		return ""
	}
	return " (" + strings.Join(lists.Mapped(f.Changes, func(c graph.Change) string { return c.Do }), ", ") + ")"
}

// sayWhatFor says of each part that the plan adds which connections it puts right:
// those that would be worse with what was there.
func sayWhatFor(p *planner, d *DonorPlan, ways []donorWay, chosen map[graph.PositionID]graph.PartID) {
	for _, list := range []*[]DonorPart{&d.Take, &d.Get} {
		for i, part := range *list {
			if isGoal(p.task, part.Position) {
				continue
			}
			for k, dem := range p.demands {
				if o := ways[k].outcome; isClosedBy(p, dem, o, chosen, part.Position) {
					(*list)[i].For = append((*list)[i].For, o.What+" "+queries.LocalName(o.ID))
				}
			}
		}
	}
}

func isClosedBy(p *planner, d *demand, o examine.Outcome, chosen map[graph.PositionID]graph.PartID,
	at graph.PositionID) bool {
	if o.What == "" || !slices.Contains(d.Places, at) {
		return false
	}
	parts := map[graph.PositionID]graph.PartID{}
	for _, id := range d.Places {
		if part, open := chosen[id]; open {
			parts[id] = part
		}
	}
	parts[at] = p.before.Seat(at).Part.ID
	without, ok := outcome(p, d, parts)
	return ok && without.After > o.After
}

// recounted is the cost of a plan with what the swap engine leaves unknown of it. Where the
// search counted otherwise, which it does where parts that it chose one by one answer for
// one another, another plan might be smaller, and nothing is proved.
func recounted(p *planner, one plan.Plan, ways []donorWay, a swap.SwapAnswer) plan.Cost {
	cost := one.Cost
	isLeft := func(what, id string) bool {
		return slices.ContainsFunc(a.Unknown, func(o examine.Outcome) bool { return o.What == what && o.ID == id })
	}
	for i, s := range p.slots {
		option := s.options[one.Choice[i]]
		p.unproved = p.unproved || s.vague
		if left := isLeft(examine.OfPlace, string(s.at)); (s.exact || !s.isGoal()) &&
			option.part != p.before.Seat(s.at).Part.ID && left != isOpenIn(p, s, one) {
			n := unknownsAt(p, s.at)
			if !left {
				n = -n
			}
			cost.Unknowns += n
		}
	}
	if cost.Unknowns != one.Cost.Unknowns {
		p.unproved = true
		p.overcounted = p.overcounted || cost.Unknowns < one.Cost.Unknowns
	}
	return cost
}

// withGoals counts also what was asked for and leaves its own place undecided, whatever
// else is chosen.
func withGoals(p *planner, c plan.Cost, a swap.SwapAnswer) plan.Cost {
	for _, o := range a.Unknown {
		id := graph.PositionID(o.ID)
		if i, ok := p.slotAt[id]; ok && p.slots[i].exact {
			continue // it is counted already
		}
		if isGoal(p.task, id) && o.What == examine.OfPlace {
			c.Unknowns += unknownsOf(p, len(o.Safety) > 0)
		}
	}
	return c
}

// costOf puts the cost of a plan in words, and what the whole way costs when there are
// offers.
func costOf(p *planner, d DonorPlan) (DonorCost, *DonorRoute) {
	cost := costWords(d.cost)
	cost.Changes = 0 // those besides what was asked for are counted
	sum := 0
	add := func(name, price string, quantity int) {
		if amount, ok := inCurrency(p, price); ok {
			sum += amount * quantity
		} else {
			if price != "" {
				name += " (" + price + ")" // in another currency
			}
			cost.Unpriced = append(cost.Unpriced, name)
		}
	}
	for _, part := range slices.Concat(d.Take, d.Get, d.Off) {
		goal := isGoal(p.task, part.Position)
		if !goal {
			cost.Changes++
		}
		if part.Part == "" || isBoxed(part.From) || isOffered(part.From) || part.From == fromDonor {
			continue // it is there already, or paid for as a whole
		}
		if !goal || part.From == fromGraph || countsGoals(p.task) {
			add(string(part.Part), part.Price, part.Quantity)
		}
	}
	for _, g := range d.Make {
		if g.Box != "" {
			continue
		}
		add(cmp.Or(string(g.Part), g.Text), g.Price, g.Quantity)
	}
	for _, b := range d.Buy {
		if offerNamed(p, b.Name).Unpriced {
			cost.Unpriced = append(cost.Unpriced, "offer "+b.Name)
		}
	}
	route := route(p, d.Buy, sum)
	switch {
	case route != nil:
		cost.Money = route.Total
	case sum > 0:
		cost.Money = money(p, sum)
	}
	return cost, route
}

// gapWords are how much smaller a plan might still be. Unknowns come first, and a
// safety-relevant one is not a thousand.
func gapWords(cost, least plan.Cost, prefer plan.Prefer) string {
	gap := plan.GapOf(cost, least, prefer)
	if gap == "" {
		return ""
	}
	switch by := cost.Unknowns - least.Unknowns; {
	case by == safetyWeight:
		return "at most 1 safety-relevant unknown fewer"
	case by > safetyWeight:
		return fmt.Sprintf("at most %d safety-relevant unknowns fewer", (by+safetyWeight-1)/safetyWeight)
	}
	return gap
}

// isGoal reports whether a place was asked to change.
func isGoal(t *task, id graph.PositionID) bool {
	_, fixed := t.fixed[id]
	return fixed || t.wanted[id]
}

// countsGoals reports whether what was asked for has to be paid for too: with
// offers or a budget the whole way counts.
func countsGoals(t *task) bool { return len(t.q.Offers) > 0 || t.q.Budget.Hundredths > 0 }
