package bike

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/machine"
)

// bagGift is how many pieces of a bag go to a want.
type bagGift struct {
	want, quantity int
	bag, item      string
	unread         []string // dimensions that nobody measured on it
}

// shareBags gives the wants for hardware what lies in the bags, as far as a bag
// was placed there. What goes on new every time takes nothing, and neither does a
// place where safety hangs on a size that nobody measured.
func shareBags(ctx context.Context, w *work) error {
	wanted := map[string]int{}
	for i, one := range w.wants {
		if machine.IsHardware(one.position.Kind) && one.part != "" && !one.position.Renew {
			wanted[string(one.position.ID)] = i
		}
	}
	if len(wanted) == 0 || len(w.bike.Bags) == 0 {
		return nil
	}
	t, err := w.bagTable(ctx)
	if err != nil {
		return err
	}
	for b, p := range t.placeBags() {
		if p.best == nil {
			continue
		}
		bag := w.bike.Bags[b]
		for i, item := range bag.Contents {
			for _, s := range slices.Sorted(slices.Values(p.best.slotsOf(i))) {
				want, is := wanted[string(t.slots[s].position.ID)]
				l := compareHardware(item, t.slots[s].part.Kind, t.slots[s].size)
				if !is || t.slots[s].asFound != "" || w.wants[want].part != t.slots[s].part.ID {
					continue
				}
				w.fromBags = append(w.fromBags, bagGift{want: want, quantity: p.best.counts[pairing{i, s}], bag: bag.Name,
					item: hardwareText(item), unread: l.unread})
			}
		}
	}
	return nil
}

// bagUses are what the bags give to a want that the boxes left short.
func bagUses(w *work, want int) []BoxUse {
	short := w.wants[want].quantity
	for _, g := range w.given {
		if g.want == want {
			short -= g.quantity
		}
	}
	var uses []BoxUse
	for _, g := range w.fromBags {
		if g.want != want || short <= 0 || w.wants[want].position.Safety != "" && len(g.unread) > 0 {
			continue
		}
		n := min(short, g.quantity)
		short -= n
		use := BoxUse{Box: g.bag, Part: w.wants[want].part, Quantity: n, Sure: graph.SureMeasured, Bag: true,
			How: g.item + ", measures the same"}
		if len(g.unread) > 0 {
			use.Note = "not measured: " + strings.Join(slices.Clone(g.unread), ", ")
		}
		uses = append(uses, use)
	}
	return uses
}
