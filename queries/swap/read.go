package swap

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// swapError says that what was asked to be swapped can't be understood.
type swapError struct {
	Swap Replacement
	Why  string
}

// Error is "POSITION=PART: why".
func (e *swapError) Error() string { return e.Swap.Position + "=" + e.Swap.Part + ": " + e.Why }

// ParseSwap reads "POSITION=PART" as it is typed.
func ParseSwap(text string) (Replacement, error) {
	position, part, ok := strings.Cut(text, "=")
	s := Replacement{Position: strings.TrimSpace(position), Part: strings.TrimSpace(part)}
	if !ok || s.Position == "" || s.Part == "" {
		return s, fmt.Errorf("%q is no swap: write POSITION=PART, or POSITION=%s to take a part off", text, NoPart)
	}
	return s, nil
}

// ReadSwaps looks up what was typed. Of a kit, the content of the kind that
// belongs at the position is taken.
func ReadSwaps(ctx context.Context, s *machine.Setup,
	swaps []Replacement) (changes, kits map[graph.PositionID]graph.PartID, err error) {
	changes, kits = map[graph.PositionID]graph.PartID{}, map[graph.PositionID]graph.PartID{}
	if len(swaps) == 0 {
		return nil, nil, &queries.NotFoundError{What: "swap", Asked: ""}
	}
	for _, swap := range swaps {
		p, err := queries.PositionFor(ctx, s.Library().Reader(), s.Variant.Model, swap.Position)
		if err != nil {
			return nil, nil, err
		}
		if !slices.Contains(p.On, s.Variant.ID) {
			return nil, nil, &queries.NotFoundError{What: "position", Asked: swap.Position, Where: "on " + string(s.Variant.ID)}
		}
		if _, twice := changes[p.ID]; twice {
			return nil, nil, &swapError{swap, "the position is asked for twice"}
		}
		if swap.Part == NoPart {
			changes[p.ID] = ""
			continue
		}
		part, err := queries.PartFor(ctx, s.Library().Reader(), swap.Part)
		if err != nil {
			return nil, nil, err
		}
		if changes[p.ID], err = outOfKit(ctx, s, part, p, swap); err != nil {
			return nil, nil, err
		}
		if changes[p.ID] != part {
			kits[p.ID] = part
		}
	}
	return changes, kits, nil
}

// outOfKit is the part itself, or of a kit the content that belongs at the
// position.
func outOfKit(ctx context.Context, s *machine.Setup, id graph.PartID, p graph.Position,
	swap Replacement) (graph.PartID, error) {
	if err := s.Library().ReadParts(ctx, []graph.PartID{id}); err != nil {
		return "", err
	}
	kit := s.Library().Part(id)
	if !kit.IsKit() || kit.Kind == p.Kind {
		return id, nil
	}
	ids := lists.Mapped(kit.Contains, func(c graph.Content) graph.PartID { return c.Part })
	if err := s.Library().ReadParts(ctx, ids); err != nil {
		return "", err
	}
	fitting := lists.Kept(ids, func(id graph.PartID) bool { return s.Library().Part(id).Kind == p.Kind })
	switch len(fitting) {
	case 1:
		return fitting[0], nil
	case 0:
		return "", &swapError{swap, fmt.Sprintf("the kit holds no %s; it holds %s", p.Kind, joinIDs(ids))}
	}
	return "", &queries.AmbiguousError{What: "part of the kit", Asked: swap.Part,
		Could: lists.Mapped(fitting, func(id graph.PartID) string { return string(id) })}
}

func joinIDs[T ~string](ids []T) string {
	return strings.Join(lists.Mapped(ids, func(id T) string { return string(id) }), ", ")
}
