package machine

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// PartsOffered is all that lies in an offer: what the machine it comes off was built
// with at the places it holds, by place, then what is named by its number, of a kit each
// part in it. A variant that is not one is an *AmbiguousError.
func PartsOffered(ctx context.Context, s *Setup, o graph.Offer) ([]graph.OfferedPart, error) {
	held, err := heldIn(ctx, s, o)
	if err != nil {
		return nil, err
	}
	for _, part := range o.Parts {
		part.Condition = cmp.Or(part.Condition, o.Condition, graph.ConditionUsed)
		held = append(held, part)
	}
	return opened(ctx, s.Library(), held)
}

// opened are parts with what is in a kit in its place.
func opened(ctx context.Context, l *Library, parts []graph.OfferedPart) ([]graph.OfferedPart, error) {
	if err := l.ReadParts(ctx, lists.Mapped(parts, func(o graph.OfferedPart) graph.PartID { return o.Part })); err != nil {
		return nil, err
	}
	var all []graph.OfferedPart
	for _, o := range parts {
		kit := l.Part(o.Part)
		if !kit.IsKit() {
			all = append(all, o)
		}
		for _, c := range kit.Contains {
			one := o
			one.Part, one.Quantity = c.Part, max(1, o.Quantity)*c.Quantity
			all = append(all, one)
		}
	}
	return all, nil
}

func heldIn(ctx context.Context, s *Setup, o graph.Offer) ([]graph.OfferedPart, error) {
	if o.Variant == "" {
		return nil, nil
	}
	r := s.Library().Reader()
	m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: string(o.Variant)})
	if err != nil {
		return nil, err
	}
	if len(m.Variants) != 1 {
		return nil, &queries.AmbiguousError{What: "variant of offer " + o.Name, Asked: string(o.Variant),
			Could: lists.Mapped(m.IDs(), func(id graph.VariantID) string { return string(id) })}
	}
	off := s.Sibling(m.Variants[0], "")
	positions, err := r.PositionsOf(ctx, off.Variant.Model)
	if err != nil {
		return nil, err
	}
	isNamed := func(at graph.PositionID, names []string) bool {
		return slices.Contains(names, at.Local()) || slices.Contains(names, at.Assembly().Local())
	}
	var ids []graph.PositionID
	for _, at := range positions {
		if slices.Contains(at.On, off.Variant.ID) && isNamed(at.ID, o.Holds) && !isNamed(at.ID, o.Without) {
			ids = append(ids, at.ID)
		}
	}
	if err := off.Load(ctx, ids...); err != nil {
		return nil, err
	}
	var held []graph.OfferedPart
	for _, id := range ids {
		if seat := off.Seat(id); !seat.Empty {
			held = append(held, graph.OfferedPart{Part: seat.Part.ID, Quantity: off.Quantity(id),
				Condition: cmp.Or(o.Condition, graph.ConditionUsed)})
		}
	}
	return held, nil
}
