package bike

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// RenewLine is a part that must be new every time.
type RenewLine struct {
	Part graph.PartID `json:"part"`
	Name string       `json:"name,omitempty"`
	// Open is how many the joints need that this work opens for sure: those at
	// which something is missing, planned or not as built.
	Open int `json:"open"`
	// All is how many there are in what was asked about, when all of it is taken
	// apart.
	All    int                `json:"all"`
	At     []graph.PositionID `json:"at,omitempty"` // sorted
	Safety graph.Safety       `json:"safety,omitempty"`
}

// renewals are the parts to buy new whatever lies about, those of opened joints
// first. A position that is empty and wants such a part counts here only for
// what its joints say: its own row says what is short.
func (w *work) renewals(ctx context.Context, scope []graph.Position) ([]RenewLine, error) {
	open, err := w.opened(ctx)
	if err != nil {
		return nil, err
	}
	lines := map[graph.PartID]*RenewLine{}
	for _, p := range scope {
		seat := w.setup.Seat(p.ID)
		part := cmp.Or(w.builtPart(p.ID), seat.Part.ID)
		if planned, ok := w.planned(p.ID); ok && planned != "" {
			part = planned
		}
		if !p.Renew && !open.renew[p.ID] || part == "" {
			continue
		}
		line := lines[part]
		if line == nil {
			line = &RenewLine{Part: part, Name: w.nameOf(part), Safety: p.Safety}
			lines[part] = line
		}
		quantity := w.setup.QuantityOf(p, part)
		line.All += quantity
		if open.at[p.ID] {
			line.Open += quantity
		}
		line.At = append(line.At, p.ID)
		if safetyPlace(p.Safety) < safetyPlace(line.Safety) {
			line.Safety = p.Safety
		}
	}
	all := lists.Mapped(lists.KeysOf(lines), func(id graph.PartID) RenewLine { return *lines[id] })
	slices.SortStableFunc(all, func(x, y RenewLine) int {
		return cmp.Or(-cmp.Compare(min(x.Open, 1), min(y.Open, 1)), cmp.Compare(safetyPlace(x.Safety), safetyPlace(y.Safety)))
	})
	return all, nil
}

// opening is what the work takes apart.
type opening struct {
	at    map[graph.PositionID]bool // positions of opened joints
	renew map[graph.PositionID]bool // those a joint says must be new
}

// opened reads the joints at the positions that need something or are not as
// built: none of them can be fitted without opening its joints.
func (w *work) opened(ctx context.Context) (opening, error) {
	o := opening{map[graph.PositionID]bool{}, map[graph.PositionID]bool{}}
	var at []graph.PositionID
	for _, one := range w.wants {
		at, o.at[one.position.ID] = append(at, one.position.ID), true
	}
	for _, f := range w.bike.Found {
		at = append(at, f.Position)
	}
	if len(at) == 0 {
		return o, nil
	}
	joints, err := w.setup.Library().JointsTouching(ctx, w.setup.Variant.ID, lists.Unique(at))
	if err != nil {
		return o, err
	}
	for _, j := range joints {
		for _, id := range j.Renew {
			o.renew[id], o.at[id] = true, true
		}
		for _, id := range j.Places() {
			o.at[id] = true
		}
	}
	return o, nil
}
