package donor

import (
	"cmp"
	"context"
	"errors"
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

	exchanged map[graph.PositionID]graph.PartID // by its places: what it gets, none for what it lacks
}

// donorKept answers a question whose donor may have to stay usable. What the donor gives for
// what comes off the machine is left open: where it can't be ridden after the plan, that is
// ruled out by what is wrong with it, and a plan is looked for again. The first that does is
// a smallest one. A disc and its bolts, or an axle, a wheel and a spacer, may do together
// where none of them does alone.
func donorKept(ctx context.Context, r graph.Reader, q DonorQuestion) (DonorAnswer, error) {
	p, err := newPlanner(ctx, r, q)
	if err != nil {
		return DonorAnswer{}, err
	}
	defer func() { p.ctx.release() }()
	again := func() error {
		next, err := p.other(q)
		if err == nil {
			p.ctx.release()
			p = next
		}
		return err
	}
	var least *plan.Cost // what no plan costs less than
	for range mostExchanges {
		a, err := answer(p)
		more, err := ruleOut(p, &q, a, err)
		if err != nil || !more && !robs(a) {
			return a, err
		}
		if isProved(a.Outcome) && len(a.Plans) > 0 {
			least = &a.Plans[0].searched
		}
		if !more || p.late || p.ctx.isHalfOver() { // what is left is for the plan that exchanges nothing
			break
		}
		if err := again(); err != nil {
			return a, err
		}
	}
	q.exchange = exchange{none: true}
	if err := again(); err != nil {
		return DonorAnswer{}, err
	}
	a, err := answer(p)
	if err == nil && least != nil && len(a.Plans) > 0 {
		a.boundBy(*least, q.Prefer)
	}
	return a, err
}

// ruleOut has a question rule out what is wrong with a plan as a whole: an exchange after which
// the donor can't be ridden, or that something comes off for good on which another hangs. It
// reports whether that was anything new.
func ruleOut(p *planner, q *DonorQuestion, a DonorAnswer, err error) (bool, error) {
	var fault *planFault
	if errors.As(err, &fault) && len(fault.loose) > 0 {
		q.carriers = append(slices.Clone(q.carriers), fault.loose...)
		return true, nil
	}
	if err != nil || !robs(a) {
		return false, err
	}
	more, err := notUsable(p, a)
	q.exchange.not = append(slices.Clone(q.exchange.not), more...)
	return len(more) > 0, err
}

// notUsable are the exchanges of plans after which the donor can't be ridden, each by no more
// than decides what is wrong.
func notUsable(p *planner, a DonorAnswer) ([]unusable, error) {
	var found []unusable
	for _, d := range a.Plans {
		if d.DonorAfter == nil || d.DonorAfter.Usable {
			continue
		}
		wrong, err := wrongWith(p, d)
		if err != nil {
			return nil, err
		}
		for _, u := range wrong {
			if !p.q.exchange.isKnown(u) {
				found = append(found, u)
			}
		}
	}
	return found, nil
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
	return !p.q.exchange.none && !p.before.Seat(id).Empty
}

// outcomesWith are the outcomes of the donor with other parts on. A fault of the reader
// stops the search.
func outcomesWith(p *planner, parts map[graph.PositionID]graph.PartID) []examine.Outcome {
	after, err := p.donor.With(p.ctx, parts)
	p.fault = cmp.Or(p.fault, err)
	if err != nil {
		return nil
	}
	j, err := swap.Judge(p.ctx, p.lent, after, swap.Asked{Unnamed: true})
	p.fault = cmp.Or(p.fault, err)
	return j.Outcomes
}

// goalOption is where what was asked for comes from: a donor that is to stay
// usable keeps what it needs, and the same number is bought.
func goalOption(p *planner, id graph.PositionID) donorOption {
	o := p.fixed[id]
	if o.from == fromDonor && !isFree(p, id) {
		return boughtOption(p, id)
	}
	if o.from != fromDonor && !isBoxed(o.from) && countsGoals(p.task) {
		o.cost.Money = price(p, p.before.Library().Part(o.part), p.wantedAt(id))
	}
	return o
}

// boughtOption is the same number as was asked for, bought.
func boughtOption(p *planner, id graph.PositionID) donorOption {
	o := p.fixed[id]
	o.from = fromGraph
	o.cost.Parts, o.cost.Money = 1, price(p, p.before.Library().Part(o.part), p.wantedAt(id))
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
	a.exchanged = gets
	if len(gets) == 0 {
		return a, nil
	}
	after, err := p.donor.With(p.ctx, gets)
	if err != nil {
		return nil, err
	}
	j, err := swap.Judge(p.ctx, p.lent, after, swap.Asked{Ready: true, Unnamed: true})
	a.Usable, a.Why = j.Answer.Ready, lists.Mapped(j.Answer.NotReady, swap.Hindrance.String)
	return a, err
}

// robs reports whether an answer leaves the donor less usable than was asked for:
// what is exchanged, each good by itself, does not do together.
func robs(a DonorAnswer) bool {
	return slices.ContainsFunc(a.Plans, func(d DonorPlan) bool { return d.DonorAfter != nil && !d.DonorAfter.Usable })
}
