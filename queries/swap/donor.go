package swap

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// donorSeat is a machine that a new part is built on, and where it sits there.
type donorSeat struct {
	setup    *machine.Setup
	position graph.PositionID
	joints   []graph.Joint // those of the position on the donor
}

// donorSeats finds for each changed position a machine that the new part is built
// on: best at the position of the same name, then of another model, then by
// identity. A part that is listed at the changed position of the machine itself
// has no donor.
func donorSeats(ctx context.Context, after *machine.Setup) (map[graph.PositionID]donorSeat, error) {
	l := after.Library()
	parts := map[graph.PartID][]graph.PositionID{}
	for _, id := range after.Changed() {
		if seat := after.Seat(id); !seat.Empty && !seat.Made && seat.Part.ID != after.AsBuilt().Seat(id).Part.ID {
			parts[seat.Part.ID] = append(parts[seat.Part.ID], id)
		}
	}
	if len(parts) == 0 {
		return nil, nil
	}
	fitments, err := l.Reader().FitmentsOf(ctx, lists.KeysOf(parts)...)
	if err != nil {
		return nil, err
	}
	chosen := map[graph.PositionID]graph.Fitment{}
	for part, positions := range parts {
		for _, id := range positions {
			if f, ok := bestDonor(fitments, part, id, after.Variant); ok {
				chosen[id] = f
			}
		}
	}
	return seatsOf(ctx, after, chosen)
}

// seatsOf opens the machine each chosen fitment is on, each machine once.
func seatsOf(ctx context.Context, after *machine.Setup,
	chosen map[graph.PositionID]graph.Fitment) (map[graph.PositionID]donorSeat, error) {
	if len(chosen) == 0 {
		return nil, nil
	}
	var variants []graph.VariantID
	for _, id := range lists.KeysOf(chosen) {
		variants = append(variants, chosen[id].On[0])
	}
	read, err := after.Library().Reader().Variants(ctx, lists.Unique(variants)...)
	if err != nil {
		return nil, err
	}
	byID := lists.ByKey(read, func(v graph.Variant) graph.VariantID { return v.ID })
	setups := map[graph.VariantID]*machine.Setup{}
	donors := map[graph.PositionID]donorSeat{}
	for _, id := range lists.KeysOf(chosen) {
		on := chosen[id].On[0]
		if setups[on] == nil {
			setups[on] = after.Sibling(byID[on], chosen[id].Scheme)
		}
		donors[id] = donorSeat{setup: setups[on], position: chosen[id].Position}
	}
	return donors, nil
}

// bestDonor chooses among the listings of a part.
func bestDonor(fitments []graph.Fitment, part graph.PartID, at graph.PositionID,
	own graph.Variant) (graph.Fitment, bool) {
	listed := lists.Kept(slices.Clone(fitments), func(f graph.Fitment) bool { return f.Part == part && len(f.On) > 0 })
	if slices.ContainsFunc(listed,
		func(f graph.Fitment) bool { return f.Position == at && slices.Contains(f.On, own.ID) }) || len(listed) == 0 {
		return graph.Fitment{}, false
	}
	no := func(good bool) int {
		if good {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(listed, func(a, b graph.Fitment) int {
		return cmp.Or(
			cmp.Compare(no(a.Position.Local() == at.Local()), no(b.Position.Local() == at.Local())),
			cmp.Compare(no(a.Position.Model() != own.Model), no(b.Position.Model() != own.Model)),
			cmp.Compare(a.Position, b.Position), cmp.Compare(a.ID, b.ID))
	})
	return listed[0], true
}

// loadDonors reads the joints and circuits of the new parts on their donors,
// and what moves the fluid there.
func loadDonors(ctx context.Context, l *machine.Library, donors map[graph.PositionID]donorSeat,
	own []graph.Circuit) (map[graph.CircuitID]examine.DonorCircuit, error) {
	if len(donors) == 0 {
		return nil, nil
	}
	var positions []graph.PositionID
	for _, id := range lists.KeysOf(donors) {
		positions = append(positions, donors[id].position)
	}
	for _, id := range lists.KeysOf(donors) { // the first call reads for all of them
		d := donors[id]
		joints, err := l.JointsTouching(ctx, d.setup.Variant.ID, positions)
		if err != nil {
			return nil, err
		}
		var cites []graph.Cite
		for _, j := range joints {
			cites = append(cites, lists.Mapped(j.Torque, func(r graph.Reading) graph.Cite { return r.Cite })...)
		}
		if err := l.Evidence().Load(ctx, l.Reader(), cites); err != nil {
			return nil, err
		}
		d.joints = lists.Kept(joints,
			func(j graph.Joint) bool { return j.A.Position == d.position || j.B.Position == d.position })
		donors[id] = d
	}
	if len(own) == 0 {
		return nil, nil
	}
	return pairCircuits(ctx, l, donors, own, positions)
}

// pairCircuits finds the donor's circuit for each of the machine's own that a
// changed part belongs to.
func pairCircuits(ctx context.Context, l *machine.Library, donors map[graph.PositionID]donorSeat, own []graph.Circuit,
	positions []graph.PositionID) (map[graph.CircuitID]examine.DonorCircuit, error) {
	pairs := map[graph.CircuitID]examine.DonorCircuit{}
	for _, id := range lists.KeysOf(donors) {
		d := donors[id]
		theirs, err := l.CircuitsTouching(ctx, d.setup.Variant.ID, positions)
		if err != nil {
			return nil, err
		}
		for _, c := range own {
			if _, have := pairs[c.ID]; have || c.Carries == examine.CarriesCurrent || !slices.Contains(c.Members, id) {
				continue
			}
			for _, other := range theirs {
				if other.Carries != examine.CarriesCurrent && slices.Contains(other.Members, d.position) {
					pairs[c.ID] = examine.DonorCircuit{Setup: d.setup, Circuit: other}
					if err := d.setup.Load(ctx, slices.Concat(other.Feeds, other.Fed)...); err != nil {
						return nil, err
					}
					break
				}
			}
		}
	}
	return pairs, nil
}
