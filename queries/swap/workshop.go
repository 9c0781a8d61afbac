package swap

import (
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Workshop is what an answer orders, makes or puts between parts, as parts of the
// machine: with them on, the same rules judge it again.
type Workshop struct {
	instead map[graph.PositionID][]mating.Order // made or altered at a place
	packed  map[graph.PositionID]float64        // mm under the part at a place
	between map[graph.JointID]graph.Part
	// seated are the outcomes of which everything that was ordered is on, by name;
	// false for those that something is ordered for which no rule can judge.
	seated map[examine.OutcomeID]bool
}

// NewWorkshop is an empty one.
func NewWorkshop() *Workshop {
	return &Workshop{instead: map[graph.PositionID][]mating.Order{}, packed: map[graph.PositionID]float64{},
		between: map[graph.JointID]graph.Part{}, seated: map[examine.OutcomeID]bool{}}
}

// Make puts on what was ordered for an outcome. What was ordered while something
// is unknown was ordered on a guess, and is not put on.
func (w *Workshop) Make(o examine.Outcome, order mating.Order) {
	known := o.After != graph.Unknown
	w.note(o, known && w.put(o, order))
}

func (w *Workshop) put(o examine.Outcome, order mating.Order) bool {
	switch {
	case len(order.Stands) > 0 && o.What == examine.OfJoint:
		w.between[o.Joint.ID] = graph.Part{ID: graph.PartID("made: " + order.Text), Name: order.Text, Features: order.Stands}
	case order.Instead != "":
		w.instead[order.Instead] = append(w.instead[order.Instead], order)
	case order.Under != "" && order.Thicker > 0:
		w.packed[order.Under] = max(w.packed[order.Under], order.Thicker)
	default:
		return false
	}
	return true
}

// Bolts puts on bolts that were ordered with something else.
func (w *Workshop) Bolts(g Get) {
	if g.makes.Name != "" {
		w.instead[g.Position] = append(w.instead[g.Position],
			mating.Order{Text: g.Text, Makes: g.makes, Dims: []string{"length", "grip"}})
	}
}

// Put puts a part between the two sides of a joint.
func (w *Workshop) Put(o examine.Outcome, part graph.Part) {
	w.between[o.Joint.ID] = part
	w.note(o, true)
}

func (w *Workshop) note(o examine.Outcome, seated bool) {
	before, more := w.seated[o.Key()]
	w.seated[o.Key()] = seated && (!more || before)
}

// IsOn reports whether all that was ordered for an outcome is on, so that it is
// judged again.
func (w *Workshop) IsOn(o examine.Outcome) bool { return w.seated[o.Key()] }

// On is a setup with all of it on. What gave way to another part, by place, is not
// made.
func (w *Workshop) On(s *machine.Setup, gone map[graph.PositionID]graph.PartID) *machine.Setup {
	changes := s.OwnChanges()
	for _, id := range lists.KeysOf(w.instead) {
		if seat := s.Seat(id); !seat.Empty && gone[id] == "" {
			changes[id] = made(seat, w.instead[id])
		}
	}
	for _, id := range lists.KeysOf(w.packed) {
		seat, ok := changes[id]
		if !ok {
			seat = s.Seat(id)
		}
		if !seat.Empty {
			seat.Packed, seat.Changed = w.packed[id], true
			changes[id] = seat
		}
	}
	return s.WithSeats(changes).WithBetween(maps.Clone(w.between))
}

// made is a seat with its part made anew, or altered, in some dimensions.
func made(seat machine.Seat, orders []mating.Order) machine.Seat {
	seat.Part.Features = slices.Clone(seat.Part.Features)
	for _, order := range orders {
		at := slices.IndexFunc(seat.Part.Features, func(f graph.Feature) bool { return f.Name == order.Makes.Name })
		if at < 0 {
			continue
		}
		f := seat.Part.Features[at]
		f.Dims = maps.Clone(f.Dims)
		if f.Dims == nil {
			f.Dims = map[string][]graph.Reading{}
		}
		for _, dim := range order.Dims {
			if readings, ok := order.Makes.Dims[dim]; ok {
				f.Dims[dim] = readings
			}
		}
		seat.Part.Features[at] = f
		seat.Part.ID, seat.Part.Name = graph.PartID("made: "+order.Text), order.Text
	}
	seat.Changed, seat.Made, seat.Why = true, true, "made to order"
	return seat
}
