package queries

import (

	"matewell/graph"
)

// safetyWeight is how many other unknowns one that is safety-relevant
// outweighs.
const safetyWeight = 1000

func (p *planner) unknownsOf(safety bool) int {
	if safety {
		return safetyWeight
	}
	return 1
}

// outcome judges a demand with certain parts at its slots; ok is false when
// there is nothing to judge.
func (p *planner) outcome(d *demand, parts map[graph.PositionID]graph.PartID) (Outcome, bool) {
	key := p.keyWith(d, parts)
	if o, ok := p.judged[key]; ok {
		return o, o.What != ""
	}
	var o Outcome
	if all := d.judge(p.examiner(p.setupWith(p.base, parts))); len(all) > 0 {
		o = all[0]
	}
	p.judged[key] = o
	return o, o.What != ""
}

// setupWith is a setup with other parts on; what equals the machine before is
// no change.
func (p *planner) setupWith(s *Setup, parts map[graph.PositionID]graph.PartID) *Setup {
	changes := s.ownChanges()
	for id, part := range parts {
		was := p.before.Seat(id)
		if _, fixed := p.fixed[id]; fixed {
			continue
		}
		if part == was.Part.ID {
			delete(changes, id)
			continue
		}
		changes[id] = p.seatOf(id, part, was.Position)
	}
	return s.withSeats(changes)
}

func (p *planner) seatOf(id graph.PositionID, part graph.PartID, at graph.Position) Seat {
	key := seatKey{id, part}
	if seat, ok := p.seats[key]; ok {
		return seat
	}
	seat := Seat{Position: at, Changed: true, Why: "planned"}
	seat.Part, seat.Empty = p.before.part(part)
	p.seats[key] = seat
	return seat
}
