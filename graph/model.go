package graph

import (
	"slices"

	"matewell/graph/measure"
)

// Model is a motorcycle as sold under one name over some years.
type Model struct {
	ID    ModelID
	Maker BrandID
	Name  string
	Said  []Cite
}

// Variant is model x model year x market x frame-number interval.
type Variant struct {
	ID     VariantID
	Model  ModelID
	Year   int // model year, not the year of building or registration
	Market string
	Mark   string         // tells two variants of one year and market apart: "early"; else empty
	Frames measure.Frames // zero when not known
	// Schemes are the colour schemes it was sold in, sorted; may be empty.
	Schemes []string
	Said    []Cite
}

// Assembly is a named group of positions, as a parts list groups them.
type Assembly struct {
	ID    AssemblyID
	Model ModelID
	Name  string // "Front brake"
	Said  []Cite
}

// Position is a place on a variant where a part sits.
type Position struct {
	ID       PositionID
	Assembly AssemblyID
	Model    ModelID
	Name     string // as a parts list would print it; never empty once loaded
	Kind     KindID
	Side     string // "left", "right", "front", "rear" ...; empty when there is one only
	Index    int    // 1-based for carburettor 1 to 4 and the like; 0 when there is one only
	Quantity int    // how many of the part sit here; at least 1
	Safety   Safety
	Renew    bool         // must be new every time it is disturbed
	Road     []string     // what sits here does that the machine needs on the road, of RoadDuties; sorted
	After    []PositionID // must be on before this one is fitted; sorted
	// Takes is what goes on or in with the part each time it is fitted, for each
	// piece of it: oil, grease, thread-lock.
	Takes []Consumable
	On    []VariantID // sorted; the variants that have this position
	Said  []Cite
}

// UsesUp reports whether something goes on or in with the part each time it is fitted.
func (p Position) UsesUp(what string) bool {
	return slices.ContainsFunc(p.Takes, func(c Consumable) bool { return c.What == what })
}

// Consumable is something that work uses up.
type Consumable struct {
	What  string // "fork oil", "grease", "thread-lock"
	Grade string // "SAE 10W", "medium strength"; may be empty
	// Amount is what sources give for one piece of the part; empty where none
	// does, or where no more than a smear is wanted.
	Amount []Reading
}

// Fitment is a source's claim that a part sits at a position on variants.
type Fitment struct {
	ID       FitmentID
	Position PositionID
	Part     PartID
	Quantity int         // at least 1
	On       []VariantID // sorted, at least one
	Scheme   string      // colour scheme it belongs to; empty when for all
	Note     string
	Said     []Cite // the sources that say exactly this
}

// NameWords are the words by which a position is found, each once or more.
func (p Position) NameWords() []string {
	return Words(p.ID.Local() + " " + p.Name + " " + string(p.Kind))
}
