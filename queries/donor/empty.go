package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
)

// mustFill are the places of a demand that are empty and can't stay so with
// certain parts on: those of anything that is touched, since nobody can say that
// a joint with one side missing mates. Fluids, finish and pairs are judged by
// what is there.
func mustFill(p *planner, d *demand, parts map[graph.PositionID]graph.PartID) []graph.PositionID {
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
