package swap

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Get is something to obtain or to make.
type Get struct {
	What     string           `json:"what"` // "part", "adapter", "extension" or the kind of order: "hose", "spacer" ...
	Position graph.PositionID `json:"position,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Name     string           `json:"name,omitempty"`
	Quantity int              `json:"quantity,omitempty"`
	Text     string           `json:"text"`           // in one line
	Spec     []mating.Field   `json:"spec,omitempty"` // of an order, field by field
	For      []string         `json:"for"`            // identities of the outcomes that it closes
	Leaves   []string         `json:"leaves,omitempty"`
	Also     []graph.PartID   `json:"also,omitempty"` // parts that do as well
	Price    string           `json:"price,omitempty"`
	// Box is where it lies already, of the boxes of the machine.
	Box string `json:"box,omitempty"`
	// Note says of a part that gave way to another why it must not go back in its
	// place.
	Note string `json:"note,omitempty"`

	closes []examine.OutcomeID // the outcomes of For, of one another apart

	into  graph.PositionID // of bolts that hold something made to a part: where that part sits
	inRow bool             // it makes up a row along an axle
	width string           // how wide its place in that row then is; empty when it leaves that as it is
	makes graph.Feature    // of ordered bolts of a known length: their thread
	// packing is how thick, in mm, what lies under a part is; 0 for what lies under none.
	packing float64
}

// Closing is the same thing, that closes an outcome too.
func (g Get) Closing(o examine.Outcome) Get { return g.closing(o.Key()) }

// closing is the same thing, that closes further outcomes too.
func (g Get) closing(more ...examine.OutcomeID) Get {
	ids := slices.Clone(g.closes)
	for _, id := range more {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return g.only(ids...)
}

// only is the same thing, that closes these outcomes and no others.
func (g Get) only(ids ...examine.OutcomeID) Get {
	g.closes = ids
	g.For = lists.Unique(lists.Mapped(g.closes, func(id examine.OutcomeID) string { return id.ID }))
	return g
}

// doesClose reports whether it closes an outcome.
func (g Get) doesClose(o examine.Outcome) bool { return slices.Contains(g.closes, o.Key()) }

// sizesSame reports whether two orders are of one thing, in another size perhaps: spacers
// of one row at one place, spacers under one part, bolts that pass those.
func (g Get) sizesSame(other Get) bool {
	if !g.IsOrdered() || !other.IsOrdered() || g.What != other.What || g.Position != other.Position {
		return false
	}
	return g.inRow && other.inRow || g.packing > 0 && other.packing > 0 || g.makes.Name != "" && other.makes.Name != ""
}

// isLess reports whether the other order of the same thing is the one that does: of a
// row the later one, of what is packed under a part and of its bolts the larger one.
func (g Get) isLess(other Get) bool {
	if g.inRow {
		return true
	}
	long, _ := machine.LengthIn(g.makes, "length")
	longer, _ := machine.LengthIn(other.makes, "length")
	return g.packing < other.packing || long < longer
}

// What a Get is, besides the kinds of order.
const (
	GetPart    = "part"
	GetAdapter = "adapter"
	GetBracket = "bracket" // a kind of order, and what bolts through a part say of it
	// GetExtension goes between a lead and what it plugs into.
	GetExtension = "extension"
	// GetBolts are bolts ordered by their sizes, or more of those that are there.
	GetBolts = "bolt"
	// GetWork is no thing but work on parts that are there: points of a panel to make
	// or alter.
	GetWork = "making list"
)

// Ordered is what is ordered for an outcome, on the setup that it was judged on.
func Ordered(s *machine.Setup, o examine.Outcome, order mating.Order) Get {
	g := Get{What: order.Kind, Position: PlaceOfOrder(s, o, order), Text: order.Text, Spec: order.Spec,
		Quantity: order.Pieces,
		inRow:    o.What == examine.OfStack}
	if g.inRow && order.Instead == g.Position {
		g.width = evidence.FirstText(order.Makes.Dims["width"])
	}
	return g
}

// RowWidth is how wide, in mm, the place of something ordered is along its axle once that
// is on; false for what changes no width there, or none that is known.
func (g Get) RowWidth() (float64, bool) {
	q, err := measure.ParseQuantity(g.width, measure.Length)
	return q.Nominal, g.width != "" && err == nil
}

// Into is the place of the part that ordered bolts hold a bracket or adapter to, before
// what goes on that; empty for anything else.
func (g Get) Into() graph.PositionID { return g.into }

// PriceOf is the first price given for a part; empty when there is none, and when it is
// sold no more: nobody knows what somebody asks who still has one.
func PriceOf(p graph.Part) string {
	if len(p.Price) == 0 || p.Gone {
		return ""
	}
	return p.Price[0].Text
}

// PlaceOfOrder is where something ordered goes: a line to its place, a spacer to
// that of the spacers or behind its sprocket, anything else as placeToMake
// says. The setup is the one it was judged on.
func PlaceOfOrder(s *machine.Setup, o examine.Outcome, order mating.Order) graph.PositionID {
	switch o.What {
	case examine.OfRun:
		return o.Ends[0].Position
	case examine.OfChain:
		if order.Kind == "chain" || order.Kind == "belt" {
			return o.Ends[0].Position
		}
		return cmp.Or(order.Under, o.Ends[2].Position)
	}
	return placeToMake(o, order)
}

// placeToMake is where something made goes: what spaces a caliper to its disc at
// the lugs, anything else at an end that was not changed.
func placeToMake(o examine.Outcome, order mating.Order) graph.PositionID {
	for _, at := range []graph.PositionID{order.Place, order.Instead} {
		if at != "" && slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at }) {
			return at
		}
	}
	if o.What == examine.OfDisc && order.Kind == "spacer" {
		return o.Ends[examine.LugEnd].Position
	}
	if order.Kind == "ring" && o.What != examine.OfJoint {
		return o.Ends[0].Position // under what it carries, changed or not
	}
	for _, e := range o.Ends {
		if !e.Changed {
			return e.Position
		}
	}
	return o.Ends[0].Position
}

// IsOrdered reports whether it is to be made or ordered by its sizes, or done by
// them: there is no part for it.
func (g Get) IsOrdered() bool { return g.Part == "" }

// IsMore reports whether it is more of the bolts that are there.
func (g Get) IsMore() bool { return g.What == GetBolts && g.Part != "" }

// IsOrderFor reports whether what belongs at a place is of the sort that an order is: a
// front-wheel bearing for a bearing.
func IsOrderFor(order string, at graph.KindID) bool {
	order = strings.ReplaceAll(order, " ", "-")
	return order == string(at) || strings.HasSuffix(string(at), "-"+order)
}

// IsWork reports whether there is nothing to get, only something to do.
func (g Get) IsWork() bool { return g.What == GetWork }

// with is the same thing to get, of another part.
func (g Get) with(p graph.Part) Get {
	g.Part, g.Name, g.Text, g.Price = p.ID, p.Name, machine.NameOf(p), PriceOf(p)
	return g
}
