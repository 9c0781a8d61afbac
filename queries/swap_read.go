package queries

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
)

// SwapError says that what was asked to be swapped can't be understood.
type SwapError struct {
	Swap Replacement
	Why  string
}

// Error is "POSITION=PART: why".
func (e *SwapError) Error() string { return e.Swap.Position + "=" + e.Swap.Part + ": " + e.Why }

// ParseSwap reads "POSITION=PART" as it is typed.
func ParseSwap(text string) (Replacement, error) {
	position, part, ok := strings.Cut(text, "=")
	s := Replacement{Position: strings.TrimSpace(position), Part: strings.TrimSpace(part)}
	if !ok || s.Position == "" || s.Part == "" {
		return s, fmt.Errorf("%q is no swap: write POSITION=PART, or POSITION=%s to take a part off", text, NoPart)
	}
	return s, nil
}

// readSwaps looks up what was typed. Of a kit, the content of the kind that
// belongs at the position is taken.
func readSwaps(ctx context.Context, s *Setup, swaps []Replacement) (changes, kits map[graph.PositionID]graph.PartID, err error) {
	changes, kits = map[graph.PositionID]graph.PartID{}, map[graph.PositionID]graph.PartID{}
	if len(swaps) == 0 {
		return nil, nil, &NotFoundError{What: "swap", Asked: ""}
	}
	for _, swap := range swaps {
		p, err := PositionFor(ctx, s.Library().reader(), s.Variant.Model, swap.Position)
		if err != nil {
			return nil, nil, err
		}
		if !slices.Contains(p.On, s.Variant.ID) {
			return nil, nil, &NotFoundError{What: "position", Asked: swap.Position, Where: "on " + string(s.Variant.ID)}
		}
		if _, twice := changes[p.ID]; twice {
			return nil, nil, &SwapError{swap, "the position is asked for twice"}
		}
		if swap.Part == NoPart {
			changes[p.ID] = ""
			continue
		}
		part, err := PartFor(ctx, s.Library().reader(), swap.Part)
		if err != nil {
			return nil, nil, err
		}
		if changes[p.ID], err = s.outOfKit(ctx, part, p, swap); err != nil {
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
func (s *Setup) outOfKit(ctx context.Context, id graph.PartID, p graph.Position, swap Replacement) (graph.PartID, error) {
	if err := s.Library().readParts(ctx, []graph.PartID{id}); err != nil {
		return "", err
	}
	kit := s.Library().part(id)
	if !kit.IsKit() || kit.Kind == p.Kind {
		return id, nil
	}
	ids := mapped(kit.Contains, func(c graph.Content) graph.PartID { return c.Part })
	if err := s.Library().readParts(ctx, ids); err != nil {
		return "", err
	}
	fitting := kept(ids, func(id graph.PartID) bool { return s.Library().part(id).Kind == p.Kind })
	switch len(fitting) {
	case 1:
		return fitting[0], nil
	case 0:
		return "", &SwapError{swap, fmt.Sprintf("the kit holds no %s; it holds %s", p.Kind, joinIDs(ids))}
	}
	return "", &AmbiguousError{What: "part of the kit", Asked: swap.Part, Could: mapped(fitting, func(id graph.PartID) string { return string(id) })}
}

func joinIDs[T ~string](ids []T) string {
	return strings.Join(mapped(ids, func(id T) string { return string(id) }), ", ")
}
