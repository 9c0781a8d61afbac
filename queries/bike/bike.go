package bike

import (
	"context"
	"fmt"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/swap"
)

// BikeQuestion asks for a user's own machines.
type BikeQuestion struct {
	Name string // empty for a list of all
}

// BikeAnswer lists machines, or is the card of one.
type BikeAnswer struct {
	Bikes []BikeLine `json:"bikes"` // sorted by name
	Card  *BikeCard  `json:"card,omitempty"`
}

// BikeLine is one machine in a list.
type BikeLine struct {
	Bike    graph.BikeID    `json:"bike"`
	Variant graph.VariantID `json:"variant"`
	Frame   string          `json:"frame,omitempty"`
	Found   int             `json:"found"`   // positions that are not as the book says
	Missing int             `json:"missing"` // of those, the empty ones
	Planned int             `json:"planned"`
	Boxes   int             `json:"boxes"` // pieces in boxes
	Bags    int             `json:"bags"`
	Note    string          `json:"note,omitempty"`
	// Apart is true for a machine in pieces: nothing counts as on it but what is
	// noted.
	Apart bool `json:"apart,omitempty"`
	Scrap int  `json:"scrap,omitempty"` // pieces on it or in boxes that are noted as broken, bent or the like
	Moved int  `json:"moved,omitempty"` // parts that hang elsewhere than as built
}

// BikeCard is one machine: as built, as found, planned.
type BikeCard struct {
	BikeLine
	// Colours is the colour scheme that its painted parts are taken to have.
	Colours Scheme `json:"colours"`
	// Frames are the frame numbers of the variant, as recorded; empty when
	// nobody recorded them.
	Frames string `json:"frames,omitempty"`
	// FrameFits is "yes", "no" or "unknown": whether the machine's own frame
	// number lies within them.
	FrameFits string `json:"frame_fits"`
	FrameWhy  string `json:"frame_why"`
	// Ready is false as soon as a place with a safety class is empty, or something
	// safety-relevant on the machine as found is unknown or does not fit; NotReady
	// says what.
	Ready    bool             `json:"ready_to_ride"`
	NotReady []swap.Hindrance `json:"not_ready,omitempty"`
	// Unlisted is how many places with a safety class there are of which no source says what
	// belongs there, and nobody noted what sits there; they come first in NotReady.
	Unlisted int `json:"unlisted,omitempty"`
	// Positions is how many the variant has.
	Positions int `json:"positions"`
	// Assemblies is how far each assembly is, sorted.
	Assemblies []AssemblyLine `json:"assemblies"`
	Changes    []BikePlace    `json:"changes,omitempty"` // found or planned, sorted by position
	BoxList    []BoxLine      `json:"box_list,omitempty"`
}

// BikePlace is a position where the machine differs, or shall differ.
type BikePlace struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Built    graph.PartID     `json:"built,omitempty"`   // empty when no source says
	Found    string           `json:"found,omitempty"`   // a part, "missing", or empty for as built
	Missing  bool             `json:"-"`                 // nothing was found there
	Planned  string           `json:"planned,omitempty"` // the same
	Note     string           `json:"note,omitempty"`
	State    string           `json:"state,omitempty"` // of the very piece that was found
	Moved    string           `json:"moved,omitempty"` // where it hangs now, in words
}

// BoxLine is one box.
type BoxLine struct {
	Box    string `json:"box"`
	Pieces int    `json:"pieces"`
	ByEye  int    `json:"by_eye"` // pieces that nobody read a number on or measured
}

// Answers to whether a frame number fits its variant.
const (
	FrameYes     = "yes"
	FrameNo      = "no"
	FrameUnknown = "unknown"
)

// nothingThere stands for an empty position.
const nothingThere = "missing"

// Bike lists the machines of the user, or gives the card of one. Errors are
// *NotFoundError with near names, or come from the reader.
func Bike(ctx context.Context, r graph.Reader, q BikeQuestion) (BikeAnswer, error) {
	if q.Name == "" {
		bikes, err := r.Bikes(ctx)
		return BikeAnswer{Bikes: lists.Mapped(bikes, bikeLine)}, err
	}
	m, err := readOwnMachine(ctx, r, q.Name)
	if err != nil {
		return BikeAnswer{}, err
	}
	line := bikeLine(m.bike)
	card := &BikeCard{BikeLine: line, Colours: m.scheme, Positions: len(m.positions), Changes: m.places(),
		BoxList: lists.Mapped(m.bike.Boxes, boxLine)}
	if !m.setup.Variant.Frames.IsZero() {
		card.Frames = m.setup.Variant.Frames.String()
	}
	card.FrameFits, card.FrameWhy = frameFits(m.bike, m.setup.Variant)
	if card.FrameFits == FrameNo {
		card.FrameWhy, err = m.otherFrame(ctx, card.FrameWhy)
	}
	if err != nil {
		return BikeAnswer{}, err
	}
	w, err := m.work(ctx)
	if err != nil {
		return BikeAnswer{}, err
	}
	if card.Assemblies, err = progress(ctx, w); err != nil {
		return BikeAnswer{}, err
	}
	unlisted := m.unlisted()
	card.Unlisted = len(unlisted)
	card.NotReady, err = m.notReady(ctx)
	card.NotReady = append(unlisted, card.NotReady...)
	card.Ready = len(card.NotReady) == 0
	return BikeAnswer{Bikes: []BikeLine{line}, Card: card}, err
}

// SafetyOpen reports whether the machine of the card is not ready to ride.
func (a BikeAnswer) SafetyOpen() bool { return a.Card != nil && !a.Card.Ready }

func bikeLine(b graph.Bike) BikeLine {
	line := BikeLine{Bike: b.ID, Variant: b.Variant, Frame: b.Frame, Found: len(b.Found), Planned: len(b.Planned),
		Bags: len(b.Bags), Note: b.Note, Apart: b.Apart, Moved: len(b.Moved)}
	for _, f := range b.Found {
		if f.Part == "" && !f.AsBuilt {
			line.Missing++
		}
		if f.AsBuilt && f.Condition == "" && len(f.Measured) == 0 {
			line.Found--
		}
		line.Scrap += scrapIn(f.Specimen, 1)
	}
	for _, box := range b.Boxes {
		for _, item := range box.Items {
			line.Scrap += scrapIn(item.Specimen, item.Quantity)
		}
	}
	for _, box := range b.Boxes {
		line.Boxes += boxLine(box).Pieces
	}
	return line
}

func scrapIn(s graph.Specimen, pieces int) int {
	if c, ok := graph.ConditionNamed(s.Condition); ok && c.Is == graph.Scrap {
		return pieces
	}
	return 0
}

func boxLine(b graph.Box) BoxLine {
	line := BoxLine{Box: b.Name}
	for _, item := range b.Items {
		line.Pieces += item.Quantity
		if !graph.IsSure(item.Sure) {
			line.ByEye += item.Quantity
		}
	}
	return line
}

// frameFits checks a machine's frame number against its variant's.
func frameFits(b graph.Bike, v graph.Variant) (fits, why string) {
	switch {
	case b.Frame == "":
		return FrameUnknown, "its frame number is not recorded: read it on the steering head"
	case v.Frames.IsZero():
		return FrameUnknown, "nobody recorded the frame numbers of " + string(v.ID)
	}
	has, err := v.Frames.Has(b.Frame)
	switch {
	case err != nil:
		return FrameUnknown, "the frame number can't be read: " + err.Error()
	case has:
		return FrameYes, fmt.Sprintf("%s lies within %s", b.Frame, v.Frames)
	}
	return FrameNo, fmt.Sprintf("%s does not lie within %s", b.Frame, v.Frames)
}
