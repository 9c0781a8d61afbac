package machine

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
)

// InBox is one line of a box, or one sort of part out of a kit in a box.
type InBox struct {
	Box      string
	Item     graph.BoxItem // of the box
	Part     graph.PartID  // what it is; for a kit's contents the part inside
	Quantity int
	Kit      graph.PartID // the kit it is still in; empty for loose parts
	State    State
}

// IsProved reports whether a piece is known to be what it is called, by its number or by
// measuring, and sound.
func (b InBox) IsProved() bool { return graph.IsSure(b.Item.Sure) && b.State.Is == graph.Sound }

// IsUnused reports whether somebody noted that it is new.
func (b InBox) IsUnused() bool { return b.Item.Specimen.Condition == string(graph.ConditionNew) }

// Stock is what lies in the boxes of a machine, while it is given out.
type Stock []InBox

// Take takes pieces of a part out of the boxes, where as many lie there that are proved,
// and names the boxes; empty where they don't, and then none is taken.
func (s Stock) Take(part graph.PartID, quantity int) string {
	var from []int
	have := 0
	for i, b := range s {
		if b.Part == part && b.Quantity > 0 && b.IsProved() && have < quantity {
			from, have = append(from, i), have+b.Quantity
		}
	}
	if have < quantity {
		return ""
	}
	var names []string
	for _, i := range from {
		n := min(quantity, s[i].Quantity)
		s[i].Quantity -= n
		quantity -= n
		if !slices.Contains(names, s[i].Box) {
			names = append(names, s[i].Box)
		}
	}
	return strings.Join(names, " and ")
}

// Boxed lists what lies in the boxes of a machine of one's own. A kit is taken apart unless
// it is itself wanted whole: what is inside counts, not the box around it. Errors come from
// the reader.
func Boxed(ctx context.Context, l *Library, bike graph.Bike, whole map[graph.PartID]bool) ([]InBox, error) {
	var ids, inside []graph.PartID
	for _, box := range bike.Boxes {
		for _, item := range box.Items {
			ids = append(ids, item.Part)
		}
	}
	if err := l.ReadParts(ctx, ids); err != nil {
		return nil, err
	}
	for _, id := range ids {
		for _, c := range l.Part(id).Contains {
			inside = append(inside, c.Part)
		}
	}
	if err := l.ReadParts(ctx, inside); err != nil {
		return nil, err
	}
	var lines []InBox
	for _, box := range bike.Boxes {
		for _, item := range box.Items {
			kit := l.Part(item.Part)
			line := InBox{Box: box.Name, Item: item, Part: item.Part, Quantity: item.Quantity,
				State: stateOf(kit, item.Specimen)}
			if !kit.IsKit() || whole[item.Part] {
				lines = append(lines, line)
				continue
			}
			for _, c := range kit.Contains {
				line.Part, line.Quantity, line.Kit = c.Part, item.Quantity*c.Quantity, kit.ID
				lines = append(lines, line)
			}
		}
	}
	return lines, nil
}
