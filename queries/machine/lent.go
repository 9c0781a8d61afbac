package machine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Lent is a machine that parts come from, with the places that only one of the two has: a
// spacer where the older year has a speedometer drive, a second caliper, a brace. What only
// the donor has may come along, and is empty as built; what only the machine has may come
// off for good.
type Lent struct {
	Donor *Setup
	// Brings are the places that the donor alone has and the machine may get, by the names
	// that they have on the machine.
	Brings map[graph.PositionID]bool
}

// load reads what the donor has at the places of the same names.
func (l *Lent) load(ctx context.Context, ids []graph.PositionID) error {
	if l == nil {
		return nil
	}
	return l.Donor.Load(ctx, lists.Mapped(ids, l.onDonor)...)
}

func (l *Lent) onDonor(id graph.PositionID) graph.PositionID {
	return id.On(l.Donor.Variant.Model)
}

// lacks reports whether the donor has no such place.
func (l *Lent) lacks(id graph.PositionID) bool {
	seat := l.Donor.built[l.onDonor(id)]
	return seat != nil && !slices.Contains(seat.Position.On, l.Donor.Variant.ID)
}
