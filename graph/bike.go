package graph

import "matewell/graph/diag"

// Bike is a user's own machine.
type Bike struct {
	ID      BikeID
	Variant VariantID // what it was built as
	Frame   string    // its frame number as stamped; may be empty
	Found   []Fitted  // what is really on it where it differs, sorted by position
	Planned []Fitted  // what is meant to go on it, sorted by position
	Boxes   []Box
	Bags    []Bag
	Note    string
	Pos     diag.Pos
}

// Fitted is a part at a position of a bike. An empty Part says that the
// position is empty.
type Fitted struct {
	Position PositionID
	Part     PartID
	Note     string
	Pos      diag.Pos
}

// Box holds loose parts.
type Box struct {
	Name  string
	Items []BoxItem
	Pos   diag.Pos
}

// BoxItem is one line of a box.
type BoxItem struct {
	Part     PartID
	Quantity int    // at least 1
	Sure     string // how it was identified: "number read", "measured", "by eye"
	Note     string
	Pos      diag.Pos
}

// Bag holds hardware with a label that may lie.
type Bag struct {
	Name     string
	Label    string // what somebody wrote on it; may be empty
	Contents []BagItem
	Pos      diag.Pos
}

// BagItem is one sort of fastener in a bag, as measured.
type BagItem struct {
	Kind     KindID            // bolt, nut, washer ...
	Dims     map[string]string // as written: thread, length, head, across-flats ...
	Quantity int               // at least 1
	Pos      diag.Pos
}
