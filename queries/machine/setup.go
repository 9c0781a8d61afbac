package machine

import (
	"context"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// AtPlane reports whether a joint holds a sprocket on the face it mounts on.
func (s *Setup) AtPlane(j graph.Joint) bool {
	return HasKind(s.Seat(j.A.Position).Part, "sprocket-plane") || HasKind(s.Seat(j.B.Position).Part, "sprocket-plane")
}

// KindOf is the kind of the feature at a place, empty when the part there has
// none of that name.
func (s *Setup) KindOf(ref graph.FeatureRef) string {
	seat := s.seat(ref.Position)
	if seat == nil {
		return ""
	}
	if i := graph.FeatureNamed(seat.Part.Features, ref.Feature); i >= 0 {
		return seat.Part.Features[i].Kind
	}
	return ""
}

// HasAt reports whether what sits at a position has a feature of a kind.
func (s *Setup) HasAt(id graph.PositionID, kind string) bool {
	seat := s.seat(id)
	return seat != nil && ofKind(seat.Part.Features, kind) >= 0
}

// IsHardwareAt reports whether what belongs at a position only holds other parts
// together.
func (s *Setup) IsHardwareAt(id graph.PositionID) bool {
	return IsHardware(s.Position(id).Kind)
}

// IsChanged reports whether what sits at a position was asked for.
func (s *Setup) IsChanged(id graph.PositionID) bool {
	seat := s.seat(id)
	return seat != nil && seat.Changed
}

// SafetyAt is the safety class of a position that was loaded.
func (s *Setup) SafetyAt(id graph.PositionID) graph.Safety {
	if seat := s.seat(id); seat != nil {
		return seat.Position.Safety
	}
	return graph.SafetyNone
}

// Side is a feature at a position. One that the part there does not have
// described keeps the kind that is expected there, so that a rule can ask for
// its dimensions.
func (s *Setup) Side(ref graph.FeatureRef) mating.Side {
	seat := s.Seat(ref.Position)
	side := mating.Side{Position: ref.Position, Part: seat.Part.ID, PartKind: seat.Part.Kind}
	if f, ok := seat.Part.Feature(ref.Feature); ok && f.Kind != "" {
		side.Feature = f
		return side
	}
	side.Feature = graph.Feature{Name: ref.Feature, Kind: s.expectedKind(seat, ref.Feature)}
	return side
}

// expectedKind is the kind of a feature by the kind of the part, else by what
// belongs at the position.
func (s *Setup) expectedKind(seat Seat, feature string) string {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		if found := evidence.KindOfFeature(s.Library().Kind(kind), feature); found != "" {
			return found
		}
	}
	return ""
}

// Number is the best reading of a dimension in the base unit of its type.
func (s *Setup) Number(ref graph.FeatureRef, dim string, t measure.Type) (float64, bool) {
	f, _ := s.Seat(ref.Position).Part.Feature(ref.Feature)
	return numberOf(f, dim, t)
}

// ExpectsFluid reports whether a part of the kind, or what belongs at the
// position, meets the fluid with a seal. A hose does not.
func (s *Setup) ExpectsFluid(seat Seat) bool {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		if slices.ContainsFunc(s.Library().Kind(kind).Features,
			func(f graph.KindFeature) bool { return f.Kind == "fluid" && !f.May }) {
			return true
		}
	}
	return false
}

// IsPainted reports whether what sits at a position, or what was built there,
// belongs to a colour scheme.
func (s *Setup) IsPainted(id graph.PositionID) bool {
	_, now := Painted(s.Seat(id).Part)
	_, built := Painted(s.AsBuilt().Seat(id).Part)
	return now || built
}

// Absent says of each position where nothing sits that nothing can be judged
// there; nil when every one holds a part.
func (s *Setup) Absent(positions ...graph.PositionID) []mating.Check {
	var checks []mating.Check
	for _, id := range positions {
		if seat := s.Seat(id); seat.Empty {
			why := seat.Why
			if s.IsLeftOut(id) {
				why = "left out, and what is beside it may need something there"
			}
			checks = append(checks, mating.Check{Rule: "nothing at " + id.Local(), Verdict: graph.Unknown, Empty: id,
				Why: "nothing to judge at " + id.Local() + ": " + why})
		}
	}
	return checks
}

// FastenersOf are the bolts and washers of a joint: a washer for each that sits
// at its position.
func (s *Setup) FastenersOf(j graph.Joint) (bolts, washers []mating.Side) {
	for _, id := range j.Fasteners {
		seat := s.Seat(id)
		for _, f := range seat.Part.Features {
			side := mating.Side{Position: id, Part: seat.Part.ID, PartKind: seat.Part.Kind, Feature: f}
			switch f.Kind {
			case "male-thread":
				bolts = append(bolts, side)
			case "washer":
				for range s.Quantity(id) {
					washers = append(washers, side)
				}
			}
		}
	}
	return bolts, washers
}

// SealingOf are the washers that go on new with a joint and are none of its fasteners.
func (s *Setup) SealingOf(j graph.Joint) []mating.Side {
	renew := slices.DeleteFunc(slices.Clone(j.Renew), func(id graph.PositionID) bool {
		return slices.Contains(j.Fasteners, id)
	})
	_, washers := s.FastenersOf(graph.Joint{Fasteners: renew})
	return washers
}

// BoltsOf is how many bolts a joint has in all.
func (s *Setup) BoltsOf(j graph.Joint) (n int) {
	for _, id := range j.Fasteners {
		seat := s.Seat(id)
		if _, ok := FeatureOfKind(seat.Part, "male-thread"); ok {
			n += s.Quantity(id)
		}
	}
	return n
}

// PackedAt is what lies under the part at a position, as a plate of its thickness;
// false when nothing does.
func (s *Setup) PackedAt(id graph.PositionID) (mating.Side, bool) {
	thick := s.Seat(id).Packed
	if thick == 0 {
		return mating.Side{}, false
	}
	dims := map[string][]graph.Reading{"thickness": {{Text: measure.Format(thick, measure.Length)}}}
	return mating.Side{Position: id, Feature: graph.Feature{Name: "packing", Kind: "plate", Dims: dims}}, true
}

// PackedUnder is how thick what lies under the parts at some positions is
// together, in mm.
func (s *Setup) PackedUnder(ids ...graph.PositionID) float64 {
	var thick float64
	for _, id := range ids {
		thick += s.Seat(id).Packed
	}
	return thick
}

// BoltsWanted is how many bolts of a place a joint takes: as many as there are
// holes where one sort goes into all of them, and one more for each point of a panel that
// is bolted and that the panel built in has not.
func (s *Setup) BoltsWanted(j graph.Joint, id graph.PositionID) int {
	n := s.Quantity(id)
	if bolts := lists.Kept(slices.Clone(j.Fasteners), s.isBolt); len(bolts) != 1 || bolts[0] != id {
		return n
	}
	more := 0
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		more = max(more, boltedPoints(s.Seat(ref.Position).Part, ref)-boltedPoints(s.BuiltAt(ref.Position).Part, ref))
	}
	return max(n+more, min(s.HolesAt(j.A), s.HolesAt(j.B)))
}

// boltedPoints is how many mounting points of a part a bolt goes through: plain holes, also
// with a collar in them, and no grommet, peg or thread.
func boltedPoints(p graph.Part, ref graph.FeatureRef) int {
	f, _ := p.Feature(ref.Feature)
	value, err := measure.Kept(evidence.FirstText(f.Dims["points"]), measure.Points)
	if f.Kind != "points" || err != nil {
		return 0
	}
	return len(lists.Kept(value.Points, func(point measure.Point) bool {
		return point.Hole.Type == measure.Length && (point.Insert == "" || strings.EqualFold(point.Insert, "collar"))
	}))
}

// isBolt reports whether what sits at a position, or was built there, goes
// through holes.
func (s *Setup) isBolt(id graph.PositionID) bool {
	return HasKind(s.Seat(id).Part, "male-thread") || HasKind(s.BuiltAt(id).Part, "male-thread")
}

// KindAt is the feature of a kind at a position, with no dimensions when the
// part there has none.
func (s *Setup) KindAt(id graph.PositionID, kind string) mating.Side {
	part := s.Seat(id).Part
	f, ok := FeatureOfKind(part, kind)
	if !ok {
		f = graph.Feature{Name: kind, Kind: kind}
	}
	return mating.Side{Position: id, Part: part.ID, Feature: f}
}

// Setup is what sits where on one machine, as far as it was loaded. A Setup is
// not changed by With: it gives another one, which shares what was read.
type Setup struct {
	Variant graph.Variant
	Bike    *graph.Bike // the user's own machine; nil for the variant as built
	Frame   string      // its frame number; empty when nobody told it
	Scheme  string      // the colour scheme it is taken to have; may be empty
	// OnlyThere has the places of a machine in pieces hold nothing but what is
	// there. Without it, what is judged on such a machine is judged against the
	// parts that the book has there.
	OnlyThere bool

	library *Library
	// Seats are large and looked up often: what is only looked at is not copied.
	*seats
	changes map[graph.PositionID]*Seat // what this setup changes
	between map[graph.JointID]graph.Part
	lent    *Lent // what another machine may lend it; nil for nothing
}

// seats are what was read of one machine, shared by all setups of it.
type seats struct {
	built map[graph.PositionID]*Seat // as built
	found map[graph.PositionID]*Seat // where the bike differs
}

// Seat is what sits at one position.
type Seat struct {
	Position graph.Position
	Part     graph.Part      // readings ranked best first; only meaningful unless Empty
	Why      string          // why this part is taken to sit here
	Source   evidence.Source // the best voice for it; zero for what was asked for
	// Others are the parts that sources also name here, for this very machine;
	// sorted.
	Others []graph.PartID
	// Packed is how thick what lies between the part and what it is bolted to is, in
	// mm: spacers under a caliper, a ring under a disc. Zero for nothing.
	Packed float64
	// Made is true for a part made to order, or altered: its sizes are those ordered.
	Made    bool
	Changed bool // a change that was asked for, not what was there
	Empty   bool // nothing sits here, or nobody says what
	Missing bool // its owner found nothing here; Empty is true then
	// Scrap is what sits here and must not be used; Empty is true then.
	Scrap graph.Part
	// State says how sound what sits here, or Scrap, is.
	State State
	// Measured is what was measured on this very piece and is not what its number has, as
	// "feature dim text; ..."; empty where nothing is. A size that wears, and is within its
	// limit, is none of it.
	Measured string
}

// IsSame reports whether what sits here is by all that is recorded what sits there: one
// number, and measured alike.
func (s Seat) IsSame(there Seat) bool {
	return s.Part.ID == there.Part.ID && s.Measured == there.Measured
}

// ScrapWhy says why what sits here must not be used; empty when nothing does.
func (s Seat) ScrapWhy() string {
	if s.Scrap.ID == "" {
		return ""
	}
	return s.State.Why
}

// NewSetup starts the setup of one machine: a variant, or a user's own bike.
// An empty scheme takes the bike's own, else the variant's first. When the question names several
// variants, an *AmbiguousError lists them.
func NewSetup(ctx context.Context, r graph.Reader, q queries.MachineQuestion, scheme string) (*Setup, error) {
	m, err := queries.MachinesFor(ctx, r, q)
	if err != nil {
		return nil, err
	}
	return SetupFor(ctx, r, m, scheme)
}

// SetupFor is the setup of the one machine that was named; several are an
// *AmbiguousError.
func SetupFor(ctx context.Context, r graph.Reader, m queries.Machines, scheme string) (*Setup, error) {
	if len(m.Variants) > 1 {
		return nil, &queries.AmbiguousError{What: "machine", Asked: m.Asked, SettledBy: m.SettledBy(),
			Could: lists.Mapped(m.IDs(), func(id graph.VariantID) string { return string(id) })}
	}
	s := StartIn(NewLibrary(r), m.Variants[0], scheme)
	s.Frame = m.Frame
	if m.Bike == "" {
		return s, nil
	}
	bikes, err := r.Bikes(ctx, m.Bike)
	if err != nil || len(bikes) == 0 {
		return nil, err
	}
	s.Bike = &bikes[0]
	if scheme == "" {
		if scheme, _, err = OwnScheme(ctx, s.library, bikes[0], s.Variant); scheme != "" {
			s.Scheme = scheme
		}
	}
	return s, err
}

// StartIn starts the setup of a variant as built, which shares what the library has
// read. An empty scheme takes the first one of the variant.
func StartIn(l *Library, v graph.Variant, scheme string) *Setup {
	if scheme == "" && len(v.Schemes) > 0 {
		scheme = v.Schemes[0]
	}
	return &Setup{Variant: v, Scheme: scheme, library: l,
		seats: &seats{built: map[graph.PositionID]*Seat{}, found: map[graph.PositionID]*Seat{}}}
}

// Sibling starts the setup of another variant as built, which shares what was
// read.
func (s *Setup) Sibling(v graph.Variant, scheme string) *Setup { return StartIn(s.library, v, scheme) }

// Library is what was read for the setup.
func (s *Setup) Library() *Library { return s.library }

// AsBuilt is the same variant without the bike's own parts and without changes.
func (s *Setup) AsBuilt() *Setup {
	plain := *s
	plain.Bike, plain.changes, plain.between = nil, nil, nil
	return &plain
}

// Unlisted is the machine as if no list said what is built in at a position that was
// loaded.
func (s *Setup) Unlisted(id graph.PositionID) *Setup {
	next := *s
	next.seats = &seats{built: maps.Clone(s.built), found: s.found}
	next.built[id] = &Seat{Position: s.Position(id), Empty: true, Why: "no list is believed here"}
	return &next
}

// Seat gives what sits at a position that was loaded; an Empty seat for any
// other.
func (s *Setup) Seat(id graph.PositionID) Seat {
	if seat := s.seat(id); seat != nil {
		return *seat
	}
	return Seat{Position: graph.Position{ID: id, Name: id.Local()}, Empty: true, Why: "not looked at"}
}

// seat is that of a position that was loaded, not to be changed; nil for any other.
func (s *Setup) seat(id graph.PositionID) *Seat {
	if seat := s.changes[id]; seat != nil {
		return seat
	}
	if s.seats == nil { // of no machine
		return nil
	}
	if s.Bike != nil {
		if seat := s.found[id]; seat != nil {
			return seat
		}
	}
	return s.built[id]
}

// Quantity is how many sit at a position that was loaded, at least 1: as listed
// for the part there or for what it replaces, else as the position says.
func (s *Setup) Quantity(id graph.PositionID) int {
	seat := s.Seat(id)
	return s.QuantityOf(seat.Position, seat.Part.ID, s.BuiltAt(id).Part.ID)
}

// QuantityOf is that for the first of some parts that is listed at the position.
func (s *Setup) QuantityOf(p graph.Position, parts ...graph.PartID) int {
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
	for _, f := range s.library.ListedAt(id) {
		if f.Part == part && slices.Contains(f.On, s.Variant.ID) {
			most = max(most, f.Quantity)
		}
	}
	return most
}

// OwnChanges is a copy of what the setup changes.
func (s *Setup) OwnChanges() map[graph.PositionID]Seat {
	changes := make(map[graph.PositionID]Seat, len(s.changes))
	for id, seat := range s.changes {
		changes[id] = *seat
	}
	return changes
}

// WithSeats is the machine with these changes and no others; their parts must be
// read and ranked already.
func (s *Setup) WithSeats(changes map[graph.PositionID]Seat) *Setup {
	next := *s
	next.changes = make(map[graph.PositionID]*Seat, len(changes))
	for id, seat := range changes {
		next.changes[id] = &seat
	}
	return &next
}

// WithOther is the machine with other seats at some places, and what the setup changes
// already at all others; a nil seat undoes the change of its place. The seats are shared
// and not to be changed any more; their parts must be read and ranked already.
func (s *Setup) WithOther(seats map[graph.PositionID]*Seat) *Setup {
	next := *s
	next.changes = make(map[graph.PositionID]*Seat, len(s.changes)+len(seats))
	maps.Copy(next.changes, s.changes)
	for id, seat := range seats {
		if seat == nil {
			delete(next.changes, id)
			continue
		}
		next.changes[id] = seat
	}
	return &next
}

// IsAsBuilt reports whether what sits at a position is what was built there, neither
// changed nor noted to be another on the user's own machine.
func (s *Setup) IsAsBuilt(id graph.PositionID) bool {
	return s.changes[id] == nil && (s.Bike == nil || s.found[id] == nil)
}

// Altered are the positions at which what sits is not what was built there; see IsAsBuilt.
// In no order, some twice.
func (s *Setup) Altered() iter.Seq[graph.PositionID] {
	return func(yield func(graph.PositionID) bool) {
		for id := range s.changes {
			if !yield(id) {
				return
			}
		}
		if s.Bike == nil {
			return
		}
		for id := range s.found {
			if !yield(id) {
				return
			}
		}
	}
}

// SharesWith reports whether two setups are of one machine and share what was read of it.
func (s *Setup) SharesWith(other *Setup) bool { return s.seats == other.seats }

// SortsAt names all that what sits at a position is joined to others by, whatever it
// measures: its kind of part, its features and their kinds, and whether it is painted.
func (s *Setup) SortsAt(id graph.PositionID) string {
	seat := s.seat(id)
	if seat == nil {
		return ""
	}
	var b strings.Builder
	fmt.Fprint(&b, seat.Part.Kind, seat.Empty, s.IsPainted(id))
	for i := range seat.Part.Features {
		b.WriteByte(' ')
		b.WriteString(seat.Part.Features[i].Name)
		b.WriteByte('=')
		b.WriteString(seat.Part.Features[i].Kind)
	}
	return b.String()
}

// IsSameAt reports whether the very same sits at a position on two setups of one machine.
func (s *Setup) IsSameAt(other *Setup, id graph.PositionID) bool { return s.seat(id) == other.seat(id) }

// PartIDAt is the part at a position, none for one that was not loaded.
func (s *Setup) PartIDAt(id graph.PositionID) graph.PartID {
	if seat := s.seat(id); seat != nil {
		return seat.Part.ID
	}
	return ""
}

// WithBetween is the machine with parts between the two sides of some joints, and
// no others: adapters, brackets, sleeves. Their readings must be ranked already.
func (s *Setup) WithBetween(parts map[graph.JointID]graph.Part) *Setup {
	next := *s
	next.between = parts
	return &next
}

// Between is what stands between the two sides of a joint; false when they meet.
func (s *Setup) Between(id graph.JointID) (graph.Part, bool) {
	part, ok := s.between[id]
	return part, ok
}

// BuiltAt is what sits at a position as built; no seat at all for one that was
// not loaded.
func (s *Setup) BuiltAt(id graph.PositionID) Seat {
	if seat := s.built[id]; seat != nil {
		return *seat
	}
	return Seat{}
}

// Content names what sits at a position, with how many there are and what is known of
// it. It is equal on two variants of a model where they are alike in all of that.
func (s *Setup) Content(id graph.PositionID) string {
	seat := s.seat(id)
	switch {
	case seat == nil:
		return "not looked at"
	case seat.Made || seat.Packed > 0 || seat.Scrap.ID != "" || seat.State != (State{}):
		return fmt.Sprintf("%p", seat) // like no other
	case seat.Empty:
		return "nothing: " + seat.Why
	}
	return fmt.Sprint(seat.Part.ID, " ", s.Quantity(id), " ", seat.Source.ID != "", ordered(seat.Part))
}

// Changed lists the positions that the setup changes, sorted.
func (s *Setup) Changed() []graph.PositionID { return lists.KeysOf(s.changes) }

// With gives the setup with other parts at some positions; an empty part takes
// off what is there. Parts that are not in the graph are a *NotFoundError.
func (s *Setup) With(ctx context.Context, changes map[graph.PositionID]graph.PartID) (*Setup, error) {
	if err := s.Load(ctx, lists.KeysOf(changes)...); err != nil {
		return nil, err
	}
	var parts []graph.PartID
	for _, id := range lists.KeysOf(changes) {
		parts = append(parts, changes[id])
	}
	if err := s.library.ReadParts(ctx, parts); err != nil {
		return nil, err
	}
	next := *s
	next.changes = make(map[graph.PositionID]*Seat, len(s.changes)+len(changes))
	maps.Copy(next.changes, s.changes)
	for _, id := range lists.KeysOf(changes) {
		seat := Seat{Position: s.Seat(id).Position, Changed: true, Why: "asked for"}
		if changes[id] == "" {
			seat.Empty, seat.Why = true, "taken off"
		} else if p, ok := s.library.rankedFor(changes[id], &s.Variant, seat.Position.Safety); ok {
			seat.Part = p
		} else {
			return nil, &queries.NotFoundError{What: "part", Asked: string(changes[id])}
		}
		next.changes[id] = &seat
	}
	return &next, nil
}

// Load reads what sits at the positions, as built and as found on the bike, in
// a few calls for all of them. Positions that were loaded before cost nothing.
func (s *Setup) Load(ctx context.Context, ids ...graph.PositionID) error {
	missing := lists.Kept(lists.Unique(slices.Clone(ids)), func(id graph.PositionID) bool {
		_, have := s.built[id]
		return !have && id != ""
	})
	if len(missing) == 0 {
		return nil
	}
	if err := s.library.ReadPositions(ctx, missing); err != nil {
		return err
	}
	choices, err := s.choices(ctx, missing)
	if err != nil {
		return err
	}
	var parts []graph.PartID
	for _, id := range missing {
		parts = append(parts, choices[id].part)
		if fitted, ok := s.FoundAt(id); ok {
			parts = append(parts, fitted.Part)
		}
	}
	if err := s.library.ReadParts(ctx, parts); err != nil {
		return err
	}
	for _, id := range missing {
		built := s.builtSeat(id, choices[id])
		s.built[id] = &built
		if fitted, ok := s.FoundAt(id); ok {
			found := s.foundSeat(id, fitted)
			s.found[id] = &found
		}
	}
	return s.lent.load(ctx, missing)
}

// FoundAt is what the user noted at a position of their own machine; false when that is
// nothing.
func (s *Setup) FoundAt(id graph.PositionID) (graph.Fitted, bool) {
	if s.Bike == nil {
		return graph.Fitted{}, false
	}
	fitted, noted := s.Bike.At(id)
	return fitted, noted || s.OnlyThere && s.Bike.Apart
}

// MovedAt is how what sits at a position hangs elsewhere than as built, on the
// user's own machine; false when it does not, or nothing is there. Another part that is
// put there hangs where the one before it did.
func (s *Setup) MovedAt(id graph.PositionID) (graph.Moved, bool) {
	if seat := s.seat(id); s.Bike == nil || seat != nil && seat.Empty {
		return graph.Moved{}, false
	}
	at := slices.IndexFunc(s.Bike.Moved, func(m graph.Moved) bool { return m.Position == id })
	if at < 0 {
		return graph.Moved{}, false
	}
	return s.Bike.Moved[at], true
}

func (s *Setup) builtSeat(id graph.PositionID, c choice) Seat {
	seat := Seat{Position: s.Position(id), Why: c.why, Source: c.source, Others: c.others}
	seat.Part, seat.Empty = s.PartAt(seat.Position, c.part)
	return seat
}

func (s *Setup) foundSeat(id graph.PositionID, fitted graph.Fitted) Seat {
	seat := Seat{Position: s.Position(id), Why: "found on " + string(s.Bike.ID)}
	seat.Source = evidence.Source{ID: string(s.Bike.ID), Kind: "own machine", Rank: evidence.RankMeasured,
		At: fitted.Pos.String(), Title: fitted.Note}
	if seat.Part, seat.Empty = s.PartAt(seat.Position, fitted.Part); fitted.AsBuilt {
		built := s.BuiltAt(id)
		seat.Part, seat.Empty, seat.Others = built.Part, built.Empty, built.Others
		seat.Why = "as built, seen on " + string(s.Bike.ID)
	} else if fitted.Part == "" {
		seat.Missing, seat.Why = true, "missing on "+string(s.Bike.ID)
	}
	seat.State = stateOf(seat.Part, fitted.Specimen)
	if seat.State.Is == graph.Scrap && !seat.Empty {
		seat.Scrap, seat.Part, seat.Empty = seat.Part, graph.Part{}, true
		seat.Why = fmt.Sprintf("what is there on %s is scrap: %s", s.Bike.ID, seat.State.Why)
		return seat
	}
	seat.Measured = offNumber(seat.Part, fitted.Specimen)
	seat.Part = asMeasured(seat.Part, fitted)
	return seat
}

// Position is a position as read, else as far as its identity tells.
func (s *Setup) Position(id graph.PositionID) graph.Position {
	if p, ok := s.library.Position(id); ok {
		return p
	}
	return graph.Position{ID: id, Model: id.Model(), Assembly: id.Assembly(), Name: id.Local(), Quantity: 1}
}

// PartAt is a part with its readings ranked, as they count at a position, and whether
// there is none. One that nobody describes is still there, without features.
func (s *Setup) PartAt(at graph.Position, id graph.PartID) (graph.Part, bool) {
	if id == "" {
		return graph.Part{}, true
	}
	if p, ok := s.library.rankedFor(id, &s.Variant, at.Safety); ok {
		return p, false
	}
	return graph.Part{ID: id, Brand: id.Brand(), Name: fmt.Sprintf("%s, not described", id)}, false
}

// Part is that at no position in particular.
func (s *Setup) Part(id graph.PartID) (graph.Part, bool) { return s.PartAt(graph.Position{}, id) }

// HolesAt is how many holes a feature has; 0 when nobody says.
func (s *Setup) HolesAt(ref graph.FeatureRef) int {
	f, _ := s.Seat(ref.Position).Part.Feature(ref.Feature)
	n, err := measure.Kept(BestText(f, "count"), measure.Count)
	if err != nil {
		return 0
	}
	return int(n.Quantity.Nominal)
}

// WithOutranked adds to the readings that a check used those of the same
// dimension that a measurement outranks: they decide nothing, but they are said.
func (s *Setup) WithOutranked(uses []mating.Use) []mating.Use {
	first := uses[0]
	if !s.library.several[first.Part] {
		return uses // nothing of it is outranked
	}
	ranked, _ := s.library.Ranked(first.Part, &s.Variant)
	f, _ := ranked.Feature(first.Feature)
	for _, r := range f.Dims[first.Dim] {
		same := func(u mating.Use) bool { return u.Reading.Text == r.Text && u.Reading.Cite == r.Cite }
		if slices.ContainsFunc(uses, same) {
			continue // it was tried too: the place has a safety class
		}
		if r.Outranked && s.Seat(first.Position).Part.ID == first.Part {
			uses = append(uses, mating.Use{Position: first.Position, Part: first.Part, Feature: first.Feature, Dim: first.Dim,
				Reading: r})
		}
	}
	return uses
}

// FeatureKindsAt are the sorts of feature of what sits at a position: those it
// is described with, and those that every part of its kind has.
func (s *Setup) FeatureKindsAt(id graph.PositionID) []string {
	part := s.Seat(id).Part
	return queries.FeatureKindsOf(part, s.Library().Kind(part.Kind))
}

// choices says what sits at each position as built. Of several parts the one
// listed for the machine's colour scheme counts, then the one with the best
// source, then the newest of those that take each other's place, then the one
// with the newest source. The others are named.
func (s *Setup) choices(ctx context.Context, ids []graph.PositionID) (map[graph.PositionID]choice, error) {
	all := map[graph.PositionID][]rival{}
	var cites []graph.Cite
	for _, id := range ids {
		all[id] = s.rivalsAt(id)
		for _, r := range all[id] {
			cites = append(cites, r.cites...)
		}
	}
	if err := s.library.Evidence().Load(ctx, s.library.Reader(), cites); err != nil {
		return nil, err
	}
	var contested []graph.PartID
	for _, id := range ids {
		for i, r := range all[id] {
			voices := s.library.Evidence().Voices(r.cites, &s.Variant)
			if len(voices) > 0 {
				all[id][i].rank, all[id][i].voice = evidence.Together(voices), voices[0]
			}
		}
		if len(all[id]) > 1 {
			contested = append(contested, lists.Mapped(all[id], func(r rival) graph.PartID { return r.part })...)
		}
	}
	newer, err := s.successions(ctx, contested)
	if err != nil {
		return nil, err
	}
	chosen := map[graph.PositionID]choice{}
	for _, id := range ids {
		chosen[id] = chooseRival(all[id], newer)
	}
	return chosen, nil
}

// rivalsAt groups what is listed at a position of the variant by part.
func (s *Setup) rivalsAt(id graph.PositionID) []rival {
	byPart := map[graph.PartID]*rival{}
	for _, f := range s.library.ListedAt(id) {
		if !slices.Contains(f.On, s.Variant.ID) {
			continue
		}
		r := byPart[f.Part]
		if r == nil {
			r = &rival{part: f.Part}
			byPart[f.Part] = r
		}
		r.cites = append(r.cites, f.Said...)
		r.scheme = r.scheme || f.Scheme == "" || f.Scheme == s.Scheme
	}
	var rivals []rival
	for _, part := range lists.KeysOf(byPart) {
		rivals = append(rivals, *byPart[part])
	}
	if slices.ContainsFunc(rivals, func(r rival) bool { return r.scheme }) {
		rivals = lists.Kept(rivals, func(r rival) bool { return r.scheme })
	}
	return rivals
}

// successions reads the two-way supersessions among parts.
func (s *Setup) successions(ctx context.Context, parts []graph.PartID) (map[succession]bool, error) {
	newer := map[succession]bool{}
	if len(parts) == 0 {
		return newer, nil
	}
	edges, err := s.library.Reader().SupersessionsOf(ctx, lists.Unique(parts)...)
	for _, e := range edges {
		if e.NewOnOld == graph.Yes && e.OldOnNew == graph.Yes && e.Scope.Covers(s.Variant) {
			newer[succession{e.Old, e.New}] = true
		}
	}
	return newer, err
}

// FindLandmarks finds the landmarks of the variant and loads what sits there.
func (s *Setup) FindLandmarks(ctx context.Context) (*Landmarks, error) {
	positions, err := s.library.positionsWith(ctx, s.Variant.Model, landmarkKinds())
	if err != nil || len(positions) == 0 {
		return &Landmarks{}, err
	}
	if err := s.Load(ctx, positions...); err != nil {
		return nil, err
	}
	found := &Landmarks{Tyre: map[string]graph.PositionID{}, Ring: map[string]graph.PositionID{}}
	for _, id := range positions {
		if seat := s.Seat(id); slices.Contains(seat.Position.On, s.Variant.ID) {
			found.add(seat.Position, s.AsBuilt().Seat(id).Part)
			found.add(seat.Position, seat.Part) // a part that was described no further still stands where it stands
		}
	}
	found.Yokes, found.Legs, found.Shocks = lists.Unique(found.Yokes), lists.Unique(found.Legs), lists.Unique(found.Shocks)
	return found, nil
}

// Places are the positions of one variant by the kinds of feature that what sits
// there has, as built or now; each list sorted.
type Places map[string][]graph.PositionID

// PlacesWith finds the positions of the variant whose kind of part has a feature of
// one of some kinds, and loads what sits there. Those of one model are read once
// for each set of kinds.
func (s *Setup) PlacesWith(ctx context.Context, featureKinds ...string) (Places, error) {
	ids, err := s.library.positionsWith(ctx, s.Variant.Model, featureKinds)
	if err != nil {
		return nil, err
	}
	if err := s.Load(ctx, ids...); err != nil {
		return nil, err
	}
	found := Places{}
	for _, id := range ids {
		if !slices.Contains(s.Seat(id).Position.On, s.Variant.ID) {
			continue
		}
		for _, kind := range featureKinds {
			if HasKind(s.Seat(id).Part, kind) || HasKind(s.AsBuilt().Seat(id).Part, kind) {
				found[kind] = append(found[kind], id)
			}
		}
	}
	return found, nil
}

// Lending is the machine with what another one may lend it.
func (s *Setup) Lending(l *Lent) *Setup {
	next := *s
	next.lent = l
	return &next
}

// Brings reports whether a place is one that the donor alone has.
func (s *Setup) Brings(id graph.PositionID) bool { return s.lent != nil && s.lent.Brings[id] }

// Brought are the places that the donor alone has, sorted.
func (s *Setup) Brought() []graph.PositionID {
	if s.lent == nil {
		return nil
	}
	return lists.KeysOf(s.lent.Brings)
}

// LenderAt is the machine that lends it something, with what sits at a place of that name there;
// false where there is none, or nothing is there.
func (s *Setup) LenderAt(id graph.PositionID) (graph.VariantID, graph.Part, bool) {
	if s.lent == nil {
		return "", graph.Part{}, false
	}
	seat := s.lent.Donor.seat(s.lent.onDonor(id))
	if seat == nil || seat.Empty {
		return "", graph.Part{}, false
	}
	return s.lent.Donor.Variant.ID, seat.Part, true
}

// Lends reports whether there is a machine that lends it something.
func (s *Setup) Lends() bool { return s.lent != nil }

// MayGo reports whether a place that was loaded is one that the machine alone has: what
// sits there may come off for good.
func (s *Setup) MayGo(id graph.PositionID) bool {
	return s.lent != nil && !s.lent.Brings[id] && s.lent.lacks(id)
}

// IsLeftOut reports whether a place that only one of machine and donor has is empty.
func (s *Setup) IsLeftOut(id graph.PositionID) bool {
	if s.lent == nil {
		return false
	}
	seat := s.seat(id)
	return seat != nil && seat.Empty && (s.lent.Brings[id] || s.lent.lacks(id))
}

// isAtHomeWithout reports whether what sits at a place is built into a machine that has
// no such place as another one, which is left out: the donor's own part misses nothing
// that the donor has not, and the machine's own nothing that it has not. Of another model
// nobody says by what names it has its places.
func (s *Setup) isAtHomeWithout(id, without graph.PositionID) bool {
	seat := s.seat(id)
	switch {
	case seat == nil || seat.Made:
		return false
	case s.lent.Brings[without]:
		return seat.Part.ID == s.BuiltAt(id).Part.ID
	}
	return s.lent.Donor.Variant.Model == s.Variant.Model &&
		seat.Part.ID == s.lent.Donor.PartIDAt(s.lent.onDonor(id))
}

// Missed are those of some places that are left out although what sits at one of others
// may need something there.
func (s *Setup) Missed(without []graph.PositionID, others ...graph.PositionID) []graph.PositionID {
	return lists.Kept(slices.Clone(without), func(id graph.PositionID) bool {
		return slices.ContainsFunc(others, func(other graph.PositionID) bool {
			seat := s.seat(other)
			return seat != nil && !seat.Empty && !s.isAtHomeWithout(other, id)
		})
	})
}
