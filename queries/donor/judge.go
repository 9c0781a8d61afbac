package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// safetyWeight is how many other unknowns one that is safety-relevant
// outweighs.
const safetyWeight = 1000

func unknownsOf(p *planner, safety bool) int {
	if safety {
		return safetyWeight
	}
	return 1
}

// unknownsAt is what one unknown at a place counts.
func unknownsAt(p *planner, id graph.PositionID) int {
	return unknownsOf(p, p.before.Seat(id).Position.Safety != graph.SafetyNone)
}

// mostJudged is how many outcomes are kept, each of some kilobytes: what a search
// comes back to is mostly what it judged last.
const mostJudged = 10_000

// judgement is an outcome that is kept, with the parts that it was judged with, by
// the places of its demand: others that measure the same where the demand looks come
// out the same.
type judgement struct {
	outcome examine.Outcome // zero where there was nothing to judge
	parts   []graph.PartID
}

// outcome judges a demand with certain parts at its slots; ok is false when
// there is nothing to judge.
func outcome(p *planner, d *demand, parts map[graph.PositionID]graph.PartID) (examine.Outcome, bool) {
	return outcomeOn(p, d, setupWith(p, p.base, parts))
}

// outcomeOn judges a demand on a machine, each such machine once for whoever shares
// the memory: a rough plan, the plan, its advice.
func outcomeOn(p *planner, d *demand, s *machine.Setup) (examine.Outcome, bool) {
	j := judged(p, d, s)
	return j.outcome, j.outcome.What != ""
}

// outcomeWith judges a demand on a machine as outcomeOn does; the outcome speaks of the
// very part at a place.
func outcomeWith(p *planner, d *demand, s *machine.Setup, at graph.PositionID) (examine.Outcome, bool) {
	j := judged(p, d, s)
	if k := slices.Index(d.Places, at); k >= 0 && j.parts[k] != s.PartIDAt(at) {
		j.outcome.Checks = spokenOf(j.outcome.Checks, at, s.PartIDAt(at))
	}
	return j.outcome, j.outcome.What != ""
}

// spokenOf are checks as they would be said of a part that measures the same as the one
// they were worked out with.
func spokenOf(checks []mating.Check, at graph.PositionID, part graph.PartID) []mating.Check {
	return lists.Mapped(checks, func(c mating.Check) mating.Check {
		c.Uses = lists.Mapped(c.Uses, func(u mating.Use) mating.Use {
			if u.Position == at {
				u.Part = part
			}
			return u
		})
		return c
	})
}

// isJudged reports whether a demand was judged on such a machine already.
func isJudged(p *planner, d *demand, s *machine.Setup) bool {
	_, have := p.judged[string(keyOn(p, d, s))]
	return have
}

func judged(p *planner, d *demand, s *machine.Setup) judgement {
	key := string(keyOn(p, d, s))
	if j, have := p.judged[key]; have {
		return j
	}
	o, ok := d.Judge(p.was, s)
	if !ok {
		o = examine.Outcome{}
	}
	if o.What == examine.OfJoint && o.After == graph.Unknown && cameTogether(p, o.Joint.Places(), s) {
		one := []examine.Outcome{o}
		p.fault = cmp.Or(p.fault, swap.TakenWhole(p.ctx, p.around.Examiner(p.was, s), one))
		o = one[0]
	}
	if len(p.judged) >= mostJudged {
		clear(p.judged)
	}
	j := judgement{o, lists.Mapped(d.Places, s.PartIDAt)}
	p.judged[key] = j
	return j
}

// cameTogether reports whether all parts at some places came over with others.
func cameTogether(p *planner, places []graph.PositionID, s *machine.Setup) bool {
	return !slices.ContainsFunc(places, func(id graph.PositionID) bool { return !cameWith(p, id, s.PartIDAt(id)) })
}

// setupWith is a setup with other parts on; what equals the machine before is
// no change.
func setupWith(p *planner, s *machine.Setup, parts map[graph.PositionID]graph.PartID) *machine.Setup {
	changes := make(map[graph.PositionID]*machine.Seat, len(parts))
	for id, part := range parts {
		if _, fixed := p.fixed[id]; fixed {
			continue
		}
		changes[id] = nil
		if part != p.before.PartIDAt(id) {
			changes[id] = seatOf(p, id, part)
		}
	}
	return s.WithOther(changes)
}

func seatOf(p *planner, id graph.PositionID, part graph.PartID) *machine.Seat {
	key := seatKey{id, part}
	if seat, ok := p.seats[key]; ok {
		return seat
	}
	seat := &machine.Seat{Position: p.before.Seat(id).Position, Changed: true, Why: "planned"}
	seat.Part, seat.Empty = p.before.PartAt(seat.Position, part)
	p.seats[key] = seat
	return seat
}
