package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// readEmpty finds the places that the bike lists as missing and that may be
// filled. A place that must stay, that was fixed, or that holds what makes the
// machine that machine is none of them. What connects the machine is found on a
// setup with all of them filled as built: a disc that is missing has a caliper
// all the same.
func (t *task) readEmpty() error {
	t.shape = t.base
	if t.before.Bike == nil {
		return nil
	}
	var missing []graph.PositionID
	for _, f := range t.before.Bike.Found {
		if _, fixed := t.fixed[f.Position]; f.Part == "" && !fixed && !t.keep[f.Position] {
			missing = append(missing, f.Position)
		}
	}
	if err := t.before.Load(t.asked, missing...); err != nil {
		return err
	}
	filled := map[graph.PositionID]graph.PartID{}
	for _, id := range missing {
		built := t.before.AsBuilt().Seat(id)
		if swap.IsMachine(built.Part) {
			continue
		}
		t.empty[id] = built.Part.ID
		if !built.Empty {
			filled[id] = built.Part.ID
		}
	}
	if len(filled) == 0 {
		return nil
	}
	shape, err := t.base.With(t.asked, filled)
	t.shape = shape
	return err
}

// isEmptyNow reports whether the bike lists a place as missing.
func (t *task) isEmptyNow(id graph.PositionID) bool {
	_, listed := t.before.FoundAt(id)
	return listed && t.before.Seat(id).Empty
}

// mustFill are the places of a demand that are empty and can't stay so with
// certain parts on: those of anything that is touched, since nobody can say that
// a joint with one side missing mates. Fluids, finish and pairs are judged by
// what is there.
func (p *planner) mustFill(d *demand, parts map[graph.PositionID]graph.PartID) []graph.PositionID {
	if len(p.empty) == 0 || slices.Contains([]string{examine.OfCircuit, examine.OfFinish, examine.OfPair}, d.What) {
		return nil
	}
	var still []graph.PositionID
	touched := false
	for _, id := range d.Places {
		part, chosen := parts[id]
		_, fixed := p.fixed[id]
		if _, empty := p.empty[id]; empty && part == "" {
			still = append(still, id)
			continue
		}
		touched = touched || fixed || chosen && part != p.before.Seat(id).Part.ID
	}
	if !touched {
		return nil
	}
	return still
}

// isSettled reports whether an outcome asks for nothing. Where a place was empty
// and is filled, nothing was there that could have been as bad.
func isSettled(o examine.Outcome) bool { return o.After == graph.Fits || o.After <= stood(o) }

// stood is how something stood before: it fits, for this, where there was
// nothing to judge and now there is.
func stood(o examine.Outcome) graph.Verdict {
	if examine.HasAbsent(o.Was) && !examine.HasAbsent(o.Checks) {
		return graph.Fits
	}
	return o.Before
}
