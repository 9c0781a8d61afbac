package donor

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// DonorAfter is what a plan leaves of the donor.
type DonorAfter struct {
	// Usable is true when nothing safety-relevant of it is missing, unknown, or does
	// not fit, that was not so before.
	Usable bool `json:"usable"`
	// Gets are the places whose part comes off the machine and goes onto the donor
	// for the one taken.
	Gets []DonorPart `json:"gets"`
	// Lacks are the places that stay empty on it.
	Lacks []DonorPart `json:"lacks"`
	Why   []string    `json:"why,omitempty"` // what stands against riding it
}

// exchange says which parts that it needs a donor gives away for what comes off the
// machine.
type exchange int

const (
	exchangeOneByOne exchange = iota // those with each of which alone it can be ridden, and all that is asked for
	exchangeAny                      // any, whatever is left of it
	exchangeNone
)

// donorKept answers a question whose donor may have to stay usable. Then it is first left
// open what the donor gives for what comes off the machine: where it can be ridden so,
// nothing smaller is there. Else that is the least any plan costs, and the donor gives
// what can be exchanged one by one, or, where that does not do together, nothing.
func donorKept(ctx context.Context, r graph.Reader, q DonorQuestion) (DonorAnswer, error) {
	if !q.DonorStays {
		return donorOnce(ctx, r, q)
	}
	open := q
	open.exchange, open.Time, open.Better = exchangeAny, q.Time/2, nil
	least, err := donorOnce(ctx, r, open)
	if err != nil || isProved(least.Outcome) && !robs(least) {
		return least, err
	}
	a, err := donorOnce(ctx, r, q)
	if err == nil && robs(a) {
		q.exchange = exchangeNone
		a, err = donorOnce(ctx, r, q)
	}
	if err == nil && least.Outcome == plan.ProvedSmallest && len(a.Plans) > 0 {
		a.boundBy(least.Plans[0].searched, q.Prefer)
	}
	return a, err
}

func isProved(outcome string) bool { return outcome == plan.ProvedSmallest || outcome == plan.NoPlan }

// isNeeded reports whether the donor can't be ridden without what it has at the
// place of that name: it has a safety class, or something with one is held by it, as by
// a bolt. That the swap engine says; of a joint the first end sits on the second, so that a
// mirror may be missed on its perch.
func isNeeded(p *planner, id graph.PositionID) bool {
	at := p.onDonor(id)
	if p.donor.Position(at).Safety != graph.SafetyNone {
		return true
	}
	needed, known := p.needed[at]
	if !known && !p.donor.Seat(at).Empty {
		outcomes := outcomesWith(p, map[graph.PositionID]graph.PartID{at: ""})
		needed = slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
			return len(o.Safety) > 0 && o.After >= graph.Unknown && !isSettled(o) &&
				(o.What != examine.OfJoint || o.Joint.A.Position != at || p.donor.IsHardwareAt(at))
		})
		p.needed[at] = needed
	}
	return needed
}

// isFree reports whether what the donor has may be taken: always, unless the donor
// is to stay usable and needs it. Then only where what comes off the machine goes
// there in its place.
func isFree(p *planner, id graph.PositionID) bool {
	if !p.q.DonorStays || !isNeeded(p, id) {
		return true
	}
	mine := p.before.Seat(id)
	if p.q.exchange != exchangeOneByOne {
		return p.q.exchange == exchangeAny && !mine.Empty
	}
	if free, known := p.free[id]; known {
		return free
	}
	free := !mine.Empty && (isInSet(p, id) ||
		isUsableWith(p, map[graph.PositionID]graph.PartID{p.onDonor(id): mine.Part.ID}))
	p.free[id] = free
	return free
}

// isInSet reports whether a place is one of those asked for, whose parts can all be
// exchanged together: a disc and its bolts may do as a set where neither does alone.
func isInSet(p *planner, id graph.PositionID) bool {
	if _, asked := p.fixed[id]; !asked {
		return false
	}
	const set = "" // of all that is asked for
	if free, known := p.free[set]; known {
		return free
	}
	gets := map[graph.PositionID]graph.PartID{}
	whole := true
	for at, o := range p.fixed {
		if o.from == fromDonor && isNeeded(p, at) {
			mine := p.before.Seat(at)
			gets[p.onDonor(at)], whole = mine.Part.ID, whole && !mine.Empty
		}
	}
	p.free[set] = whole && isUsableWith(p, gets)
	return p.free[set]
}

// mayExchangeMore reports whether the donor keeps several parts that one by one can't be
// exchanged with the machine's, and perhaps could together: nobody looked at that, unless
// all were asked for.
func mayExchangeMore(p *planner) bool {
	if p.q.exchange == exchangeNone {
		return true
	}
	kept := 0
	for id, free := range p.free {
		if id != "" && !free {
			kept++
		}
	}
	return kept > 1
}

// isUsableWith reports whether nothing safety-relevant of the donor is unknown or
// does not fit with other parts on. A fault of the reader stops the search.
func isUsableWith(p *planner, parts map[graph.PositionID]graph.PartID) bool {
	after, err := p.donor.With(p.ctx, parts)
	if err != nil {
		p.fault = cmp.Or(p.fault, err)
		return false
	}
	j, err := swap.JudgeReady(p.ctx, p.lent, after, nil)
	p.fault = cmp.Or(p.fault, err)
	return err == nil && j.Answer.Ready
}

// outcomesWith are the outcomes of the donor with other parts on. A fault of the reader
// stops the search.
func outcomesWith(p *planner, parts map[graph.PositionID]graph.PartID) []examine.Outcome {
	after, err := p.donor.With(p.ctx, parts)
	p.fault = cmp.Or(p.fault, err)
	if err != nil {
		return nil
	}
	j, err := swap.Judge(p.ctx, p.lent, after, nil)
	p.fault = cmp.Or(p.fault, err)
	return j.Outcomes
}

// goalOption is where what was asked for comes from: a donor that is to stay
// usable keeps what it needs, and the same number is bought.
func goalOption(p *planner, id graph.PositionID) donorOption {
	o := p.fixed[id]
	if o.from == fromDonor && !isFree(p, id) {
		o.from, o.cost.Parts = fromGraph, 1
	}
	if o.from == fromGraph || o.from != fromDonor && !isBoxed(o.from) && countsGoals(p.task) {
		o.cost.Money = price(p, p.before.Library().Part(o.part), p.wantedAt(id))
	}
	return o
}

// donorAfter is what a plan leaves of a donor that is to stay usable; nil when
// nobody asked for that.
func donorAfter(p *planner, d *DonorPlan) (*DonorAfter, error) {
	if !p.q.DonorStays || p.donor == nil {
		return nil, nil
	}
	a := &DonorAfter{Usable: true, Gets: []DonorPart{}, Lacks: []DonorPart{}}
	gets := map[graph.PositionID]graph.PartID{}
	for _, part := range d.Take {
		at := p.onDonor(part.Position)
		was := DonorPart{Position: at, Name: part.Name, Safety: p.donor.Position(at).Safety, Part: part.Was, Was: part.Part,
			PartName: p.before.Library().Part(part.Was).Name, Quantity: part.Quantity}
		if part.Was != "" && isNeeded(p, part.Position) {
			gets[at] = part.Was
			a.Gets = append(a.Gets, was)
			continue
		}
		was.Part, was.PartName = "", ""
		a.Lacks = append(a.Lacks, was)
		if p.donor.IsHardwareAt(at) { // each alone may be missed, all together perhaps not
			gets[at] = ""
		}
	}
	if len(gets) == 0 {
		return a, nil
	}
	after, err := p.donor.With(p.ctx, gets)
	if err != nil {
		return nil, err
	}
	j, err := swap.JudgeReady(p.ctx, p.lent, after, nil)
	a.Usable, a.Why = j.Answer.Ready, lists.Mapped(j.Answer.NotReady, swap.Hindrance.String)
	return a, err
}

// robs reports whether an answer leaves the donor less usable than was asked for:
// what is exchanged, each good by itself, does not do together.
func robs(a DonorAnswer) bool {
	return slices.ContainsFunc(a.Plans, func(d DonorPlan) bool { return d.DonorAfter != nil && !d.DonorAfter.Usable })
}
