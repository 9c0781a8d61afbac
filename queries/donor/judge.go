package donor

import (
	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
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

// outcome judges a demand with certain parts at its slots; ok is false when
// there is nothing to judge.
func outcome(p *planner, d *demand, parts map[graph.PositionID]graph.PartID) (examine.Outcome, bool) {
	key := keyWith(p, d, parts)
	if o, ok := p.judged[key]; ok {
		return o, o.What != ""
	}
	o, ok := d.Judge(p.was, setupWith(p, p.base, parts))
	if len(p.judged) >= mostJudged {
		clear(p.judged)
	}
	p.judged[key] = o
	return o, ok
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
