package bike

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// BikeLeftoverQuestion asks what in the boxes a user's machine does not need.
type BikeLeftoverQuestion struct {
	Name string
}

// BikeLeftoverAnswer is what is in the boxes and goes nowhere.
type BikeLeftoverAnswer struct {
	Bike    graph.BikeID    `json:"bike"`
	Variant graph.VariantID `json:"variant"`
	// Pieces is how many pieces are in the boxes, kits taken apart; Needed is
	// how many of them a position takes.
	Pieces int `json:"pieces"`
	Needed int `json:"needed"`
	// Rows are in the order unknown, foreign, other variant, surplus, then by
	// box and part.
	Rows []LeftoverRow `json:"rows"`
}

// LeftoverRow is one sort of part that is left over.
type LeftoverRow struct {
	Box      string       `json:"box"`
	Part     graph.PartID `json:"part"`
	Name     string       `json:"name,omitempty"`
	Quantity int          `json:"quantity"`
	Kit      graph.PartID `json:"kit,omitempty"`  // the kit it is in
	Sure     string       `json:"sure,omitempty"` // how it was identified
	// Class is "surplus", "other variant", "foreign" or "unknown".
	Class string         `json:"class"`
	Why   string         `json:"why"`
	Where []evidence.Use `json:"where,omitempty"` // where it is listed
	Note  string         `json:"note,omitempty"`
	// Doubt says what to look at when the part was not identified by its number
	// or by measuring; empty when it was.
	Doubt string `json:"doubt,omitempty"`
}

// Why a part is left over.
const (
	LeftSurplus = "surplus"       // goes on this very variant, but nothing needs it
	LeftVariant = "other variant" // goes on this model in another year, market or colour
	LeftForeign = "foreign"       // belongs to another model
	LeftUnknown = "unknown"       // nobody lists it anywhere
)

func leftoverOrder(class string) int {
	return slices.Index([]string{LeftUnknown, LeftForeign, LeftVariant, LeftSurplus}, class)
}

// BikeLeftover tells what lies in the boxes of a machine that no position
// needs, neither empty nor planned: spare parts of its own, parts of another
// variant of the model, parts of other models, and numbers nobody lists. Errors
// are *NotFoundError with near names, or come from the reader.
func BikeLeftover(ctx context.Context, r graph.Reader, q BikeLeftoverQuestion) (BikeLeftoverAnswer, error) {
	m, err := readOwnMachine(ctx, r, q.Name)
	if err != nil {
		return BikeLeftoverAnswer{}, err
	}
	w, err := m.work(ctx)
	if err != nil {
		return BikeLeftoverAnswer{}, err
	}
	a := BikeLeftoverAnswer{Bike: m.bike.ID, Variant: m.bike.Variant}
	for _, line := range w.lines {
		a.Pieces += line.quantity
		a.Needed += line.taken
	}
	left := lists.Kept(w.lines, func(l stockLine) bool { return l.taken < l.quantity })
	parts := lists.Unique(lists.Mapped(left, func(l stockLine) graph.PartID { return l.part }))
	uses, err := evidence.UsesOf(ctx, r, parts)
	if err != nil {
		return a, err
	}
	links, err := m.successors(ctx, parts)
	if err != nil {
		return a, err
	}
	for _, line := range left {
		row := LeftoverRow{Box: line.box, Part: line.part, Name: w.nameOf(line.part), Quantity: line.quantity - line.taken,
			Kit: line.kit, Sure: line.item.Sure, Where: uses[line.part], Note: line.item.Note}
		row.Class, row.Why = w.leftClass(line, links)
		row.Doubt = w.doubt(line)
		a.Rows = append(a.Rows, row)
	}
	slices.SortStableFunc(a.Rows, func(x, y LeftoverRow) int {
		return cmp.Or(cmp.Compare(leftoverOrder(x.Class), leftoverOrder(y.Class)), cmp.Compare(x.Box, y.Box),
			cmp.Compare(x.Part, y.Part))
	})
	return a, nil
}

// leftClass says where a part that nothing needs belongs.
func (w *work) leftClass(line stockLine, links successors) (class, why string) {
	var here, model, others []graph.VariantID
	var at []graph.PositionID
	for _, f := range w.listed[line.part] {
		switch {
		case slices.Contains(f.On, w.setup.Variant.ID):
			here, at = append(here, f.On...), append(at, f.Position)
		case f.Position.Model() == w.setup.Variant.Model:
			model = append(model, f.On...)
		default:
			others = append(others, f.On...)
		}
	}
	if len(here) > 0 {
		return LeftSurplus, w.spareFor(line.part, lists.Unique(at))
	}
	if at := w.standsInFor(line.part, links); len(at) > 0 {
		return LeftSurplus, "may take the place of what is listed at " + placesText(at)
	}
	switch {
	case len(model) > 0:
		return LeftVariant, "this model, but " + w.coverageWords(model)
	case len(others) > 0:
		return LeftForeign, "belongs to " + w.coverageWords(others)
	}
	if !w.setup.Library().Has(line.part) {
		return LeftUnknown, "the number is not in the graph"
	}
	return LeftUnknown, "no source lists it on any machine" + w.itsKits(line)
}

// spareFor says what sits at the places where a surplus part is listed.
func (w *work) spareFor(part graph.PartID, at []graph.PositionID) string {
	for _, id := range at {
		seat, built := w.setup.Seat(id), w.builtPart(id)
		switch planned, isPlanned := w.planned(id); {
		case isPlanned && planned != part:
			return fmt.Sprintf("listed at %s, where %s is planned", id.Local(), cmp.Or(planned, "nothing"))
		case built != part:
			return fmt.Sprintf("listed at %s in another colour or by another source; %s counts there", id.Local(),
				cmp.Or(built, "nothing"))
		case seat.Part.ID != part && !seat.Empty:
			return fmt.Sprintf("listed at %s, where %s was found instead", id.Local(), seat.Part.ID)
		}
	}
	return "a spare for " + placesText(at)
}

// standsInFor are the positions of the variant whose listed part a part may
// replace.
func (w *work) standsInFor(part graph.PartID, links successors) []graph.PositionID {
	var at []graph.PositionID
	for _, c := range links.walker.ToTarget(part) {
		limit, holds := c.HoldsOn(w.setup.Variant, w.bike.Frame)
		if !holds || !limit.IsZero() || c.Verdict() > graph.FitsWithChanges {
			continue
		}
		for _, p := range w.positions {
			if w.builtPart(p.ID) == c.Listed {
				at = append(at, p.ID)
			}
		}
	}
	return lists.Unique(at)
}

func (w *work) itsKits(line stockLine) string {
	if line.kit != "" {
		return ", only in kit " + string(line.kit)
	}
	return ""
}

// doubt says what to look at before a part is sorted out on a look alone.
func (w *work) doubt(line stockLine) string {
	if !unsure(line.item.Sure) {
		return ""
	}
	if line.kit != "" {
		return "read the number on the packet"
	}
	return "read the number on it, or measure it, before it is given away"
}

// placesText names positions without their model: the first three, and how many
// more.
func placesText(at []graph.PositionID) string {
	const named = 3
	text := ""
	for i, id := range at {
		switch {
		case i == named:
			return text + fmt.Sprintf(" and %d more", len(at)-named)
		case i > 0:
			text += ", "
		}
		text += id.Local()
	}
	return text
}
