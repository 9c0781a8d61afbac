package queries

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"matewell/graph"
)

// Setup is what sits where on one machine, as far as it was loaded. A Setup is
// not changed by With: it gives another one, which shares what was read.
type Setup struct {
	Variant graph.Variant
	Bike    *graph.Bike // the user's own machine; nil for the variant as built
	Scheme  string      // the colour scheme it is taken to have; may be empty

	library *library
	built   map[graph.PositionID]Seat // as built; shared
	found   map[graph.PositionID]Seat // where the bike differs; shared
	changes map[graph.PositionID]Seat // what this setup changes
}

// Seat is what sits at one position.
type Seat struct {
	Position graph.Position
	Part     graph.Part // readings ranked best first; only meaningful unless Empty
	Why      string     // why this part is taken to sit here
	Source   Source     // the best voice for it; zero for what was asked for
	// Others are the parts that sources also name here, for this very machine;
	// sorted.
	Others  []graph.PartID
	Changed bool // a change that was asked for, not what was there
	Empty   bool // nothing sits here, or nobody says what
}

// NewSetup starts the setup of one machine: a variant, or a user's own bike.
// An empty scheme takes the variant's first. When the question names several
// variants, an *AmbiguousError lists them.
func NewSetup(ctx context.Context, r graph.Reader, q MachineQuestion, scheme string) (*Setup, error) {
	m, err := MachinesFor(ctx, r, q)
	if err != nil {
		return nil, err
	}
	return setupFor(ctx, r, m, scheme)
}

// setupFor is the setup of the one machine that was named; several are an
// *AmbiguousError.
func setupFor(ctx context.Context, r graph.Reader, m Machines, scheme string) (*Setup, error) {
	if len(m.Variants) > 1 {
		return nil, &AmbiguousError{What: "machine", Asked: m.Asked, SettledBy: m.settledBy(),
			Could: mapped(m.IDs(), func(id graph.VariantID) string { return string(id) })}
	}
	s := setupOf(newLibrary(r), m.Variants[0], scheme)
	if m.Bike == "" {
		return s, nil
	}
	bikes, err := r.Bikes(ctx, m.Bike)
	if err != nil || len(bikes) == 0 {
		return nil, err
	}
	s.Bike = &bikes[0]
	return s, nil
}

// SetupOf starts the setup of a variant as built.
func SetupOf(r graph.Reader, v graph.Variant, scheme string) *Setup {
	return setupOf(newLibrary(r), v, scheme)
}

func setupOf(l *library, v graph.Variant, scheme string) *Setup {
	if scheme == "" && len(v.Schemes) > 0 {
		scheme = v.Schemes[0]
	}
	return &Setup{Variant: v, Scheme: scheme, library: l,
		built: map[graph.PositionID]Seat{}, found: map[graph.PositionID]Seat{}}
}

// Sibling starts the setup of another variant as built, which shares what was
// read.
func (s *Setup) Sibling(v graph.Variant, scheme string) *Setup { return setupOf(s.library, v, scheme) }

// Library is what was read for the setup.
func (s *Setup) Library() *library { return s.library }

// AsBuilt is the same variant without the bike's own parts and without changes.
func (s *Setup) AsBuilt() *Setup {
	plain := *s
	plain.Bike, plain.changes = nil, nil
	return &plain
}

// Seat gives what sits at a position that was loaded; an Empty seat for any
// other.
func (s *Setup) Seat(id graph.PositionID) Seat {
	if seat, ok := s.changes[id]; ok {
		return seat
	}
	if s.Bike != nil {
		if seat, ok := s.found[id]; ok {
			return seat
		}
	}
	if seat, ok := s.built[id]; ok {
		return seat
	}
	return Seat{Position: graph.Position{ID: id, Name: id.Local()}, Empty: true, Why: "not looked at"}
}

// Quantity is how many sit at a position that was loaded, at least 1: as listed
// for the part there or for what it replaces, else as the position says.
func (s *Setup) Quantity(id graph.PositionID) int {
	seat := s.Seat(id)
	return s.quantityOf(seat.Position, seat.Part.ID, s.built[id].Part.ID)
}

// quantityOf is that for the first of some parts that is listed at the position.
func (s *Setup) quantityOf(p graph.Position, parts ...graph.PartID) int {
	for _, part := range parts {
		if n := s.listed(p.ID, part); n > 0 {
			return n
		}
	}
	return max(1, p.Quantity)
}

// listed is how many of a part are listed at a position of the variant; 0 when
// it is not, or nobody says.
func (s *Setup) listed(id graph.PositionID, part graph.PartID) int {
	most := 0
	for _, f := range s.library.listedAt(id) {
		if f.Part == part && slices.Contains(f.On, s.Variant.ID) {
			most = max(most, f.Quantity)
		}
	}
	return most
}

// ownChanges is a copy of what the setup changes.
func (s *Setup) ownChanges() map[graph.PositionID]Seat {
	changes := maps.Clone(s.changes)
	if changes == nil {
		changes = map[graph.PositionID]Seat{}
	}
	return changes
}

// withSeats is the machine with these changes and no others, which it keeps;
// their parts must be read and ranked already.
func (s *Setup) withSeats(changes map[graph.PositionID]Seat) *Setup {
	next := *s
	next.changes = changes
	return &next
}

// builtAt is what sits at a position as built; no seat at all for one that was
// not loaded.
func (s *Setup) builtAt(id graph.PositionID) Seat { return s.built[id] }

// Changed lists the positions that the setup changes, sorted.
func (s *Setup) Changed() []graph.PositionID { return keysOf(s.changes) }

// With gives the setup with other parts at some positions; an empty part takes
// off what is there. Parts that are not in the graph are a *NotFoundError.
func (s *Setup) With(ctx context.Context, changes map[graph.PositionID]graph.PartID) (*Setup, error) {
	if err := s.Load(ctx, keysOf(changes)...); err != nil {
		return nil, err
	}
	var parts []graph.PartID
	for _, id := range keysOf(changes) {
		parts = append(parts, changes[id])
	}
	if err := s.library.readParts(ctx, parts); err != nil {
		return nil, err
	}
	next := *s
	next.changes = map[graph.PositionID]Seat{}
	for id, seat := range s.changes {
		next.changes[id] = seat
	}
	for _, id := range keysOf(changes) {
		seat := Seat{Position: s.Seat(id).Position, Changed: true, Why: "asked for"}
		if changes[id] == "" {
			seat.Empty, seat.Why = true, "taken off"
		} else if p, ok := s.library.ranked(changes[id], &s.Variant); ok {
			seat.Part = p
		} else {
			return nil, &NotFoundError{What: "part", Asked: string(changes[id])}
		}
		next.changes[id] = seat
	}
	return &next, nil
}

// Load reads what sits at the positions, as built and as found on the bike, in
// a few calls for all of them. Positions that were loaded before cost nothing.
func (s *Setup) Load(ctx context.Context, ids ...graph.PositionID) error {
	missing := kept(unique(slices.Clone(ids)), func(id graph.PositionID) bool {
		_, have := s.built[id]
		return !have && id != ""
	})
	if len(missing) == 0 {
		return nil
	}
	if err := s.library.readPositions(ctx, missing); err != nil {
		return err
	}
	choices, err := s.choices(ctx, missing)
	if err != nil {
		return err
	}
	var parts []graph.PartID
	for _, id := range missing {
		parts = append(parts, choices[id].part)
		if fitted, ok := s.foundAt(id); ok {
			parts = append(parts, fitted.Part)
		}
	}
	if err := s.library.readParts(ctx, parts); err != nil {
		return err
	}
	for _, id := range missing {
		s.built[id] = s.builtSeat(id, choices[id])
		if fitted, ok := s.foundAt(id); ok {
			s.found[id] = s.foundSeat(id, fitted)
		}
	}
	return nil
}

func (s *Setup) foundAt(id graph.PositionID) (graph.Fitted, bool) {
	if s.Bike == nil {
		return graph.Fitted{}, false
	}
	at := slices.IndexFunc(s.Bike.Found, func(f graph.Fitted) bool { return f.Position == id })
	if at < 0 {
		return graph.Fitted{}, false
	}
	return s.Bike.Found[at], true
}

func (s *Setup) builtSeat(id graph.PositionID, c choice) Seat {
	seat := Seat{Position: s.position(id), Why: c.why, Source: c.source, Others: c.others}
	seat.Part, seat.Empty = s.part(c.part)
	return seat
}

func (s *Setup) foundSeat(id graph.PositionID, fitted graph.Fitted) Seat {
	seat := Seat{Position: s.position(id), Why: "found on " + string(s.Bike.ID)}
	seat.Source = Source{ID: string(s.Bike.ID), Kind: "own machine", Rank: RankMeasured, At: fitted.Pos.String(), Title: fitted.Note}
	seat.Part, seat.Empty = s.part(fitted.Part)
	if fitted.Part == "" {
		seat.Why = "missing on " + string(s.Bike.ID)
	}
	return seat
}

func (s *Setup) position(id graph.PositionID) graph.Position {
	if p, ok := s.library.position(id); ok {
		return p
	}
	return graph.Position{ID: id, Model: id.Model(), Assembly: id.Assembly(), Name: id.Local(), Quantity: 1}
}

// part is a part with its readings ranked, and whether there is none. One that
// nobody describes is still there, without features.
func (s *Setup) part(id graph.PartID) (graph.Part, bool) {
	if id == "" {
		return graph.Part{}, true
	}
	if p, ok := s.library.ranked(id, &s.Variant); ok {
		return p, false
	}
	return graph.Part{ID: id, Brand: id.Brand(), Name: fmt.Sprintf("%s, not described", id)}, false
}
