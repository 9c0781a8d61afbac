package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// WorkStep is one step of the work.
type WorkStep struct {
	Do       string           `json:"do"` // "take off", "fit", "adapt"
	Position graph.PositionID `json:"position"`
	Part     graph.PartID     `json:"part,omitempty"`
	Text     string           `json:"text,omitempty"`
}

// What a step does.
const (
	DoOff = "take off"
	DoFit = "fit"
)

// work puts the changed positions in order: a position after those that must be
// on before it, also over positions that stay. What comes off comes off in the
// reverse order. Between equals the order is that of the identities. Positions
// that wait for one another in a circle, which no order satisfies, come back as
// cycle; they stand last, by identity.
func (p *planner) work(after *machine.Setup) (steps []WorkStep, cycle []graph.PositionID, err error) {
	changed := after.Changed()
	waits, err := p.waits(changed)
	if err != nil {
		return nil, nil, err
	}
	order, cycle := sorted(changed, waits)
	for _, id := range slices.Backward(order) {
		if was := p.before.Seat(id); !was.Empty {
			steps = append(steps, WorkStep{Do: DoOff, Position: id, Part: was.Part.ID, Text: was.Part.Name})
		}
	}
	for _, id := range order {
		if now := after.Seat(id); !now.Empty {
			steps = append(steps, WorkStep{Do: DoFit, Position: id, Part: now.Part.ID, Text: now.Part.Name})
		}
	}
	return steps, cycle, nil
}

// waits says which of the changed positions each of them must wait for, in one
// remove or through positions that stay.
func (p *planner) waits(changed []graph.PositionID) (map[graph.PositionID][]graph.PositionID, error) {
	seen := map[graph.PositionID]bool{}
	for next := slices.Clone(changed); len(next) > 0; {
		if err := p.readWaits(next); err != nil {
			return nil, err
		}
		var further []graph.PositionID
		for _, id := range next {
			seen[id] = true
			further = append(further, p.after[id]...)
		}
		next = lists.Kept(lists.Unique(further), func(id graph.PositionID) bool { return !seen[id] })
	}
	waits := map[graph.PositionID][]graph.PositionID{}
	for _, id := range changed {
		waits[id] = p.waitsOf(id, changed)
	}
	return waits, nil
}

// readWaits reads what must be on before positions, and not what is listed at
// them, as the library would.
func (p *planner) readWaits(ids []graph.PositionID) error {
	l := p.before.Library()
	var missing []graph.PositionID
	for _, id := range ids {
		if at, have := l.Position(id); have {
			p.after[id] = at.After
		} else {
			missing = append(missing, id)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	positions, err := l.Reader().Positions(p.ctx, missing...)
	for _, at := range positions {
		p.after[at.ID] = at.After
	}
	return err
}

// waitsOf walks from a position over what must be on before it, up to the next
// changed position on each way.
func (p *planner) waitsOf(id graph.PositionID, changed []graph.PositionID) []graph.PositionID {
	var found []graph.PositionID
	seen := map[graph.PositionID]bool{}
	var walk func(at graph.PositionID)
	walk = func(at graph.PositionID) {
		for _, before := range p.after[at] {
			if seen[before] {
				continue
			}
			seen[before] = true
			if slices.Contains(changed, before) {
				found = append(found, before)
				continue
			}
			walk(before)
		}
	}
	walk(id)
	return lists.Unique(found)
}

// sorted is a topological order; what is left over waits in a circle or for
// one.
func sorted(ids []graph.PositionID, waits map[graph.PositionID][]graph.PositionID) (order, cycle []graph.PositionID) {
	left := lists.Unique(slices.Clone(ids))
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(id graph.PositionID) bool {
			return !slices.ContainsFunc(waits[id], func(w graph.PositionID) bool { return slices.Contains(left, w) })
		})
		if at < 0 {
			return append(order, left...), left
		}
		order = append(order, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return order, nil
}
