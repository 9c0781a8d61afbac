package swap

import (
	"slices"
	"strings"

	"matewell/graph"
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

	inRow bool // it makes up a row along an axle
}

// What a Get is, besides the kinds of order.
const (
	GetPart    = "part"
	GetAdapter = "adapter"
	// GetExtension goes between a lead and what it plugs into.
	GetExtension = "extension"
	// GetBolts are bolts ordered by their sizes, or more of those that are there.
	GetBolts = "bolt"
)

// fit notes a part that closes a gap.
func (f *follower) fit(c candidate, o examine.Outcome) {
	f.fitted[c.position] = c.part.ID
	for _, got := range c.all {
		if got.After <= graph.FitsWithChanges {
			f.done[got.What+" "+got.ID] = true
		}
	}
	g := Get{What: GetPart, Position: c.position, Part: c.part.ID, Name: c.part.Name,
		Quantity: c.setup.Quantity(c.position), Text: machine.NameOf(c.part),
		Also: f.also[c.part.ID], Price: PriceOf(c.part)}
	for _, left := range c.left {
		g.Leaves = append(g.Leaves, left.ID)
	}
	f.get(g, o)
}

func PriceOf(p graph.Part) string {
	if len(p.Price) == 0 {
		return ""
	}
	return p.Price[0].Text
}

func (f *follower) addOrder(s *machine.Setup, o examine.Outcome, order mating.Order) {
	at := f.orderPlace(s, o, order)
	f.get(Get{What: order.Kind, Position: at, Text: order.Text, Spec: order.Spec, inRow: o.What == examine.OfStack}, o)
	f.seat(o, order)
	for _, bolts := range BoltsFor(s, f.knownAround(o), o, order, at) {
		f.get(bolts, o)
	}
}

// knownAround are the joints that were read around what an outcome is about.
func (f *follower) knownAround(o examine.Outcome) []graph.Joint {
	known, seen := slices.Clone(f.start.Known), map[graph.JointID]bool{}
	for _, j := range known {
		seen[j.ID] = true
	}
	for _, e := range o.Ends {
		if f.around[e.Position] == nil {
			continue
		}
		for _, j := range f.around[e.Position].Known {
			if !seen[j.ID] {
				seen[j.ID] = true
				known = append(known, j)
			}
		}
	}
	return known
}

// orderPlace is where something ordered goes: a line to its place, a spacer to
// that of the spacers or behind the rear sprocket, anything else as PlaceToMake
// says.
func (f *follower) orderPlace(s *machine.Setup, o examine.Outcome, order mating.Order) graph.PositionID {
	switch o.What {
	case examine.OfRun:
		return o.Ends[0].Position
	case examine.OfChain:
		if order.Kind == "chain" {
			return o.Ends[0].Position
		}
		return o.Ends[2].Position
	case examine.OfStack:
		for _, e := range o.Ends[1:] {
			if examine.IsSpacer(s.Seat(e.Position)) && strings.HasSuffix(string(e.Position), sideOfOrder(order)) {
				return e.Position
			}
		}
	}
	return PlaceToMake(o, order)
}

// PlaceToMake is where something made goes: what spaces a caliper to its disc at
// the lugs, anything else at an end that was not changed.
func PlaceToMake(o examine.Outcome, order mating.Order) graph.PositionID {
	if order.Place != "" && slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == order.Place }) {
		return order.Place
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

// makeInstead leaves out a spacer to get where one of another width has to be
// made anyway: the one to get can be cut down when it is wide enough.
func (f *follower) makeInstead() {
	for i, order := range f.gets {
		if order.What != "spacer" || !order.inRow {
			continue
		}
		at := slices.IndexFunc(f.gets, func(g Get) bool { return g.What == GetPart && g.Position == order.Position })
		if at < 0 {
			continue
		}
		part := f.gets[at]
		f.gets[i].Spec = append(lists.Kept(slices.Clone(order.Spec),
			func(s mating.Field) bool { return s.Name != "instead of" }),
			mating.Field{Name: "or cut down", Value: part.Text})
		f.gets[i].For = lists.Unique(append(slices.Clone(order.For), part.For...))
		for _, id := range part.For {
			if !slices.Contains(order.For, id) {
				f.closed[id] = true // by one made to the same bore
			}
		}
		delete(f.fitted, part.Position)
		f.gets[at].What = ""
	}
	f.gets = slices.DeleteFunc(f.gets, func(g Get) bool { return g.What == "" })
}

// sideOfOrder is "left" or "right" when the order says so.
func sideOfOrder(order mating.Order) string {
	for _, side := range []string{"left", "right"} {
		if strings.HasPrefix(order.Text, side) {
			return side
		}
	}
	return ""
}

// get adds a Get, or adds to one that is there already what it also closes.
func (f *follower) get(g Get, o examine.Outcome) {
	for i, have := range f.gets {
		if have.What == g.What && have.Part == g.Part && have.Text == g.Text && have.Position == g.Position {
			f.gets[i].For = lists.Unique(append(f.gets[i].For, o.ID))
			return
		}
	}
	g.For = []string{o.ID}
	f.gets = append(f.gets, g)
}

// alreadyClosed reports whether what an earlier trail put in closes an outcome
// too.
func (f *follower) alreadyClosed(s *machine.Setup, o examine.Outcome) bool {
	if !f.done[o.What+" "+o.ID] {
		return false
	}
	for i, g := range f.gets {
		if slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == g.Position && g.What == GetPart }) {
			f.gets[i].For = lists.Unique(append(f.gets[i].For, o.ID))
		}
	}
	return true
}
