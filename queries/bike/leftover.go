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
	// Rows are in the order scrap, unknown, foreign, other variant, surplus, then by
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
	// Class is "scrap", "surplus", "other variant", "foreign" or "unknown".
	Class string `json:"class"`
	Why   string `json:"why"`
	// State is what was noted of the state of this very piece.
	State string         `json:"state,omitempty"`
	Where []evidence.Use `json:"where,omitempty"` // where it is listed
	Note  string         `json:"note,omitempty"`
	// Doubt says what to look at when the part was not identified by its number
	// or by measuring; empty when it was.
	Doubt string `json:"doubt,omitempty"`
}

// Why a part is left over.
const (
	leftScrap   = "scrap"         // must not be used for anything
	leftSurplus = "surplus"       // goes on this very variant, but nothing needs it
	leftVariant = "other variant" // goes on this model in another year, market or colour
	leftForeign = "foreign"       // belongs to another model
	leftUnknown = "unknown"       // nobody lists it anywhere
)

func leftoverOrder(class string) int {
	return slices.Index([]string{leftScrap, leftUnknown, leftForeign, leftVariant, leftSurplus}, class)
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
	if err := w.takeListed(ctx); err != nil {
		return a, err
	}
	for _, line := range w.lines {
		a.Pieces += line.Quantity
		a.Needed += line.taken
	}
	left := lists.Kept(w.lines, func(l stockLine) bool { return l.taken < l.Quantity })
	parts := lists.Unique(lists.Mapped(left, func(l stockLine) graph.PartID { return l.Part }))
	uses, err := evidence.UsesOf(ctx, r, parts)
	if err != nil {
		return a, err
	}
	links, err := m.successors(ctx, parts)
	if err != nil {
		return a, err
	}
	for _, line := range left {
		row := LeftoverRow{Box: line.Box, Part: line.Part, Name: w.nameOf(line.Part), Quantity: line.Quantity - line.taken,
			Kit: line.Kit, Sure: line.Item.Sure, Where: uses[line.Part], Note: line.Item.Note}
		row.Class, row.Why = w.leftClass(line, links)
		if row.State = line.State.Why; line.State.Is == graph.Scrap {
			row.Class, row.Why = leftScrap, line.State.Why
		}
		row.Doubt = w.doubt(line)
		a.Rows = append(a.Rows, row)
	}
	slices.SortStableFunc(a.Rows, func(x, y LeftoverRow) int {
		return cmp.Or(cmp.Compare(leftoverOrder(x.Class), leftoverOrder(y.Class)), cmp.Compare(x.Box, y.Box),
			cmp.Compare(x.Part, y.Part))
	})
	return a, nil
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
