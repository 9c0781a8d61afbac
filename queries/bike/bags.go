package bike

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
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

// bagRow is one bag with what it matched.
func (t *bagTable) bagRow(bag graph.Bag, p placing, loose looseTable) BagRow {
	row := BagRow{Bag: bag.Name, Label: bag.Label, Settled: p.settled}
	for _, item := range bag.Contents {
		row.Pieces += item.Quantity
	}
	row.LabelIs, row.LabelWhy = t.labelSays(bag, p)
	taken := make([]int, len(bag.Contents))
	if p.best != nil {
		row.Place, row.Ties, row.Next = p.best, p.ties, p.next
		row.Matched, row.Missing = t.contents(bag, *p.best, taken)
		row.ByCount, row.Also = t.alsoAt(bag, *p.best)
		if row.Settled = p.settled && (!row.ByCount || p.best.Score >= half); !row.Settled {
			row.Settle = t.settle(bag, p, row.Also)
		}
	}
	for i, item := range bag.Contents {
		if over := item.Quantity - taken[i]; over > 0 {
			row.Over = append(row.Over, t.looseLine(item, over, p.best, loose))
		}
	}
	return row
}

// contents are what of a bag belongs to a group and what the group lacks; taken
// is filled with how many of each item belong.
func (t *bagTable) contents(bag graph.Bag, place BagPlace, taken []int) (matched []BagMatch, missing []BagGap) {
	for _, s := range t.groups[place.group].slots {
		slot, have := t.slots[s], 0
		for i, item := range bag.Contents {
			n := place.counts[pairing{i, s}]
			if n == 0 {
				continue
			}
			have += n
			taken[i] += n
			l := compareHardware(item, slot.part.Kind, slot.size)
			matched = append(matched, BagMatch{Item: hardwareText(item), Quantity: n, Position: slot.position.ID,
				Part: slot.number(), Safety: slot.position.Safety, Unread: l.unread, Looks: l.looks, Renew: slot.position.Renew,
				AsFound: slot.asFound})
		}
		if room := place.room[s]; have < room {
			missing = append(missing, BagGap{Position: slot.position.ID, Part: slot.number(), Name: slot.part.Name,
				Quantity: room - have, Safety: slot.position.Safety, Renew: slot.position.Renew, AsFound: slot.asFound})
		}
	}
	return matched, missing
}

// half is the score below which a place is not settled by the count alone.
const half = 0.5

// alsoAt are the positions outside of a place that take what was matched there,
// and whether that holds for every sort of it.
func (t *bagTable) alsoAt(bag graph.Bag, place BagPlace) (all bool, at []graph.PositionID) {
	all = true
	for i, item := range bag.Contents {
		matched := slices.ContainsFunc(t.groups[place.group].slots,
			func(s int) bool { return place.counts[pairing{i, s}] > 0 })
		if !matched {
			continue
		}
		before := len(at)
		for _, s := range t.slots {
			if !slices.Contains(place.Positions, s.position.ID) && compareHardware(item, s.part.Kind, s.size).same {
				at = append(at, s.position.ID)
			}
		}
		all = all && len(at) > before
	}
	return all, lists.Unique(at)
}
