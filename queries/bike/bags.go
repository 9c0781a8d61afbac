package bike

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
)

// BikeBagsQuestion asks which bag of hardware of a user's machine goes where.
type BikeBagsQuestion struct {
	Name string
}

// BikeBagsAnswer says where each bag goes.
type BikeBagsAnswer struct {
	Bike     graph.BikeID      `json:"bike"`
	Variant  graph.VariantID   `json:"variant"`
	Bags     []BagRow          `json:"bags"` // sorted by name
	Warnings []BagWarning      `json:"warnings,omitempty"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// BagRow is one bag and where its contents belong.
type BagRow struct {
	Bag    string `json:"bag"`
	Label  string `json:"label,omitempty"`
	Pieces int    `json:"pieces"`
	// Place is where it goes; absent when nothing on the machine takes any of it.
	Place *BagPlace `json:"place,omitempty"`
	// Ties are places that match as well, Next the best that match less well.
	Ties []BagPlace `json:"ties,omitempty"`
	Next []BagPlace `json:"next,omitempty"`
	// Settled is true when one place matches clearly best.
	Settled bool `json:"settled"`
	// Settle is the one measurement or look that would settle it, or why none
	// can; empty when it is settled.
	Settle string `json:"settle,omitempty"`
	// LabelIs is "agrees", "contradicts", "decides", "unclear" or "none":
	// decides is between places that match as well.
	// ByCount is true when all that was matched also goes to other places of the
	// machine, those in Also: then only the count speaks for the place.
	ByCount  bool               `json:"by_count"`
	Also     []graph.PositionID `json:"also,omitempty"`
	LabelIs  string             `json:"label_is"`
	LabelWhy string             `json:"label_why,omitempty"`
	Matched  []BagMatch         `json:"matched,omitempty"`
	Missing  []BagGap           `json:"missing,omitempty"`
	Over     []LoosePart        `json:"over,omitempty"`
}

// BagPlace is a group of hardware that a bag may belong to.
type BagPlace struct {
	Name      string             `json:"name"`
	Positions []graph.PositionID `json:"positions,omitempty"`
	Safety    []graph.Safety     `json:"safety,omitempty"` // classes of the positions
	// Score is the pieces in both over the pieces in either: 1 for a bag that
	// holds just what the group takes.
	Score    float64 `json:"score"`
	Matched  int     `json:"matched"`  // pieces of the bag that belong there
	Expected int     `json:"expected"` // pieces the group takes

	group  int
	room   map[int]int     // how many pieces of a slot no other bag had taken
	counts map[pairing]int // of an item of the bag and a slot
}

// BagMatch is pieces of a bag that belong to a position.
type BagMatch struct {
	Item     string           `json:"item"`
	Quantity int              `json:"quantity"`
	Position graph.PositionID `json:"position"`
	Part     graph.PartID     `json:"part,omitempty"` // the book's, empty where it is not the book's thread
	Safety   graph.Safety     `json:"safety,omitempty"`
	Unread   []string         `json:"unread,omitempty"` // dimensions nobody measured on them
	Looks    []string         `json:"looks,omitempty"`  // what differs in looks only
	Renew    bool             `json:"renew,omitempty"`  // goes on new every time: not these again
	// AsFound says which found part wants another thread than the book's.
	AsFound string `json:"as_found,omitempty"`
}

// BagGap is hardware that a bag lacks.
type BagGap struct {
	Position graph.PositionID `json:"position"`
	Part     graph.PartID     `json:"part,omitempty"` // as in a BagMatch
	Name     string           `json:"name,omitempty"`
	Quantity int              `json:"quantity"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Renew    bool             `json:"renew,omitempty"` // goes on new every time anyway
	AsFound  string           `json:"as_found,omitempty"`
}

// SafetyOpen reports whether a warning touches a safety position, or a safety
// position's bag is not settled, not complete, or holds bolts whose class nobody
// read. What goes on new every time anyway is not counted as missing.
func (a BikeBagsAnswer) SafetyOpen() bool {
	if slices.ContainsFunc(a.Warnings, func(w BagWarning) bool { return w.Safety != "" }) {
		return true
	}
	return slices.ContainsFunc(a.Bags, func(b BagRow) bool {
		unread := slices.ContainsFunc(b.Matched,
			func(m BagMatch) bool { return m.Safety != "" && slices.Contains(m.Unread, "class") })
		gap := unread || slices.ContainsFunc(b.Missing, func(g BagGap) bool { return g.Safety != "" && !g.Renew })
		return gap || !b.Settled && b.Place != nil && len(b.Place.Safety) > 0
	})
}

// BikeBags tells which bag of hardware goes where, by what was measured in it:
// a bag's score for a group of positions is the pieces in both over the pieces
// in either. Bags that match one group clearly best are settled first and take
// its positions; the others share what is left so that the scores add up to the
// most. A label counts for nothing but between equals. Errors are
// *NotFoundError with near names, or come from the reader.
func BikeBags(ctx context.Context, r graph.Reader, q BikeBagsQuestion) (BikeBagsAnswer, error) {
	m, err := readOwnMachine(ctx, r, q.Name)
	if err != nil {
		return BikeBagsAnswer{}, err
	}
	t, err := m.bagTable(ctx)
	if err != nil {
		return BikeBagsAnswer{}, err
	}
	a := BikeBagsAnswer{Bike: m.bike.ID, Variant: m.bike.Variant}
	loose, err := m.looseParts(ctx)
	if err != nil {
		return a, err
	}
	placed := t.placeBags()
	for i, bag := range m.bike.Bags {
		a.Bags = append(a.Bags, t.bagRow(bag, placed[i], loose))
	}
	slices.SortFunc(a.Bags, func(x, y BagRow) int { return cmp.Compare(x.Bag, y.Bag) })
	a.Warnings = t.warnings(placed)
	a.Cautions = queries.CautionsFor(a.safety()...)
	return a, nil
}

// safety are the classes of everything the bags may go to.
func (a BikeBagsAnswer) safety() []graph.Safety {
	var classes []graph.Safety
	for _, b := range a.Bags {
		if b.Place != nil {
			classes = append(classes, b.Place.Safety...)
		}
		for _, tie := range b.Ties {
			classes = append(classes, tie.Safety...)
		}
	}
	for _, w := range a.Warnings {
		classes = append(classes, w.Safety)
	}
	return classes
}

// half is the score below which a place is not settled by the count alone.
const half = 0.5

// slotsOf are the slots that take pieces of an item.
func (p BagPlace) slotsOf(item int) []int {
	var all []int
	for pair := range p.counts {
		if pair.row == item {
			all = append(all, pair.column)
		}
	}
	return all
}
