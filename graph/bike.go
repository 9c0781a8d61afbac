package graph

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph/diag"
)

// Bike is a user's own machine.
type Bike struct {
	ID      BikeID
	Variant VariantID // what it was built as
	Frame   string    // its frame number as stamped; may be empty
	// Scheme is the colour scheme that its owner noted; empty where nobody did.
	Scheme string
	// Apart is true for a machine in pieces: nothing is on it but what is noted.
	// Otherwise what nobody noted is taken to be as the book says.
	Apart bool
	// Assemblies is what was noted of whole assemblies, sorted by assembly. It
	// goes before Apart, and what is noted of a position goes before both.
	Assemblies []AssemblyNote
	Found      []Fitted // what is really on it where that was noted, sorted by position
	Planned    []Fitted // what is meant to go on it, sorted by position
	Moved      []Moved  // what hangs elsewhere than as built, sorted by position
	Boxes      []Box
	Bags       []Bag
	Note       string
	Pos        diag.Pos
}

// PlannedAt is what is planned at a place; false where nothing is.
func (b Bike) PlannedAt(id PositionID) (Fitted, bool) {
	at := slices.IndexFunc(b.Planned, func(f Fitted) bool { return f.Position == id })
	if at < 0 {
		return Fitted{}, false
	}
	return b.Planned[at], true
}

// At is what was noted of a position, by itself or with its assembly. It is
// false where nothing was: then the position is empty on a machine in pieces, and
// else taken to be as the book says. Found and Assemblies must be sorted.
func (b Bike) At(id PositionID) (Fitted, bool) {
	at, found := slices.BinarySearchFunc(b.Found, id, func(f Fitted, id PositionID) int {
		return cmp.Compare(f.Position,
			id)
	})
	if found {
		return b.Found[at], true
	}
	at, found = slices.BinarySearchFunc(b.Assemblies, id.Assembly(),
		func(n AssemblyNote, id AssemblyID) int { return cmp.Compare(n.Assembly, id) })
	if found {
		n := b.Assemblies[at]
		return Fitted{Position: id, AsBuilt: n.AsBuilt, Note: n.Note, Pos: n.Pos}, true
	}
	return Fitted{Position: id}, false
}

// AssemblyNote says of a whole assembly that it is as the book says, or that
// nothing of it is on the machine.
type AssemblyNote struct {
	Assembly AssemblyID
	AsBuilt  bool // false: all of it is missing
	Note     string
	Pos      diag.Pos
}

// Fitted is a part at a position of a bike. An empty Part says that the
// position is empty, unless it is as built.
type Fitted struct {
	Position PositionID
	Part     PartID
	AsBuilt  bool // the part that the book has there, whichever that is
	Specimen
	Note string
	Pos  diag.Pos
}

// Specimen is what concerns one particular part and not its number.
type Specimen struct {
	Condition string     // one of Conditions; empty when nobody said
	Measured  []Measured // what it measures now: worn, shortened
}

// Moved is a part that hangs elsewhere than as built: tied to something else, or
// further up, forward or to the left.
type Moved struct {
	Position PositionID
	// On is what carries it now; empty when that is what carried it before.
	On PositionID
	// Nothing is true when nothing carries it any more.
	Nothing bool
	// Up, Forward and Left are how far, as written ("-60 mm"); empty for not at
	// all. The machine stands upright, the steering straight ahead.
	Up, Forward, Left string
	// Above is how far a reservoir stands over what it feeds now, as measured and
	// written ("40 mm", "-15 mm" for below); empty when nobody measured it.
	Above string
	Note  string
	Pos   diag.Pos
}

// Where says where a part hangs now: "60 mm lower, on controls/handlebar".
func (m Moved) Where() string {
	var words []string
	for _, way := range []struct{ text, more, less string }{{m.Up, "higher", "lower"}, {m.Forward, "forward", "back"},
		{m.Left, "to the left", "to the right"}} {
		switch less, isLess := strings.CutPrefix(way.text, "-"); {
		case way.text == "":
		case isLess:
			words = append(words, less+" "+way.less)
		default:
			words = append(words, strings.TrimPrefix(way.text, "+")+" "+way.more)
		}
	}
	switch {
	case m.Nothing:
		words = append(words, "carried by nothing")
	case m.On != "":
		words = append(words, "on "+m.On.Local())
	}
	return strings.Join(words, ", ")
}

// Box holds loose parts.
type Box struct {
	Name  string
	Items []BoxItem
	Pos   diag.Pos
}

// How a part in a box is identified for certain, as data files write it.
const (
	SureNumber   = "number read"
	SureMeasured = "measured"
)

// IsSure reports whether a part was identified by more than a look.
func IsSure(how string) bool { return how == SureNumber || how == SureMeasured }

// BoxItem is one line of a box.
type BoxItem struct {
	Part     PartID
	Quantity int    // at least 1
	Sure     string // how it was identified: SureNumber, SureMeasured, or by eye
	Specimen
	Note string
	Pos  diag.Pos
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
