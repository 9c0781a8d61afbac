package donor

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// DonorError says that a donor question can't be understood.
type DonorError struct{ Why string }

// Error is why.
func (e *DonorError) Error() string { return e.Why }

// task is one question as it was understood: the machines, what must come on,
// what must stay, what may be taken. It is read once and then only looked at.
type task struct {
	asked  context.Context // of the question
	q      DonorQuestion
	before *machine.Setup
	base   *machine.Setup                    // before with what is fixed put on
	shape  *machine.Setup                    // base with the empty places filled as built: where things connect
	empty  map[graph.PositionID]graph.PartID // empty places that may be filled, and what was built there
	donor  *machine.Setup                    // nil when parts are fixed by hand only
	fixed  map[graph.PositionID]donorOption
	wanted map[graph.PositionID]bool // places that must get something out of the offers
	along  []graph.PositionID        // places of an assembly to take that the donor alone has
	pinned map[graph.PositionID]bool // places asked for by their own name, and not with a whole assembly
	keep   map[graph.PositionID]bool
	spared map[graph.PositionID]bool // places whose parts are not to be altered
	lots   []lot
	paidIn string   // the currency of offers and budget; empty without either
	notes  []string // what was left out of the question, and why
}

// newTask reads a question. Errors are those of Donor.
func newTask(ctx context.Context, r graph.Reader, q DonorQuestion) (*task, error) {
	t, err := emptyTask(ctx, r, q)
	if err != nil {
		return nil, err
	}
	return t, t.read()
}

// asking is the task of another question about the same machines.
func (t *task) asking(q DonorQuestion) (*task, error) {
	other := taskOn(t.asked, q, t.before)
	other.donor = t.donor
	return other, other.read()
}

// read reads what is asked of the machine and the donor.
func (t *task) read() (err error) {
	for _, step := range []func() error{t.readBudget, t.readOffers, t.readTake, t.readFixed, t.readKeep,
		t.readReversible} {
		if err := step(); err != nil {
			return err
		}
	}
	for _, id := range t.q.freed {
		delete(t.fixed, id)
	}
	if len(t.fixed)+len(t.wanted) == 0 {
		return &DonorError{"nothing is to come over: say what to take, or which part goes where"}
	}
	if t.base, err = t.before.With(t.asked, t.parts()); err != nil {
		return err
	}
	if err := t.readEmpty(); err != nil {
		return err
	}
	return t.readLots()
}

// emptyTask is the machine and the donor of a question, with nothing asked of
// them yet.
func emptyTask(ctx context.Context, r graph.Reader, q DonorQuestion) (*task, error) {
	before, donor, err := machines(ctx, r, q)
	if err != nil {
		return nil, err
	}
	if donor == nil && len(q.Take) > 0 && len(q.Offers) == 0 {
		return nil, &DonorError{"say which machine to take it from"}
	}
	t := taskOn(ctx, q, before)
	t.donor = donor
	return t, nil
}

func taskOn(ctx context.Context, q DonorQuestion, before *machine.Setup) *task {
	return &task{asked: ctx, q: q, before: before, base: before, shape: before, fixed: map[graph.PositionID]donorOption{},
		wanted: map[graph.PositionID]bool{}, pinned: map[graph.PositionID]bool{},
		empty: map[graph.PositionID]graph.PartID{}, keep: map[graph.PositionID]bool{},
		spared: map[graph.PositionID]bool{}}
}

func (t *task) parts() map[graph.PositionID]graph.PartID {
	parts := map[graph.PositionID]graph.PartID{}
	for id, o := range t.fixed {
		parts[id] = o.part
	}
	return parts
}

// readTake fixes what the donor has at each position that is to come over. Of
// an assembly, the places that both machines have are taken, and what the donor alone has
// may come along. Without a donor, what
// comes on is chosen among the offers.
func (t *task) readTake() error {
	if t.donor == nil {
		return t.readWanted()
	}
	if err := t.readAhead(); err != nil {
		return err
	}
	for _, typed := range t.q.Take {
		ids, whole, err := t.placesNamed(typed)
		if err != nil {
			return err
		}
		if err := errors.Join(t.before.Load(t.asked, ids...),
			t.donor.Load(t.asked, lists.Mapped(ids, t.onDonor)...)); err != nil {
			return err
		}
		if err := t.takeAll(ids, whole); err != nil {
			return err
		}
	}
	return nil
}

// takeAll fixes what the donor has at places, of a whole assembly or a single one. Of an
// assembly of which the machine has something, what the donor alone has may come along.
func (t *task) takeAll(ids []graph.PositionID, whole bool) error {
	mayBring := whole && slices.ContainsFunc(ids, func(id graph.PositionID) bool { return !t.before.Brings(id) })
	for _, id := range ids {
		seat := t.donor.Seat(t.onDonor(id))
		switch {
		case !seat.Empty && mayBring && t.before.Brings(id):
			t.along = append(t.along, id)
		case !seat.Empty:
			t.fixed[id] = donorOption{part: seat.Part.ID, from: fromDonor}
			t.pinned[id] = t.pinned[id] || !whole
		case whole && t.before.MayGo(id):
			t.notes = append(t.notes, fmt.Sprintf("%s has no %s: what is there may stay, or come off for good",
				t.donor.Variant.ID, id.Local()))
		case whole:
			t.notes = append(t.notes, fmt.Sprintf("%s has nothing at %s; that place stays free to keep what it has",
				t.donor.Variant.ID, id.Local()))
		default:
			return &queries.NotFoundError{What: "part", Asked: id.Local(), Where: "on the donor " + string(t.donor.Variant.ID)}
		}
	}
	return nil
}

// readWanted notes the places that must get something out of the offers: those
// named, and of an assembly those for which an offer has something.
func (t *task) readWanted() error {
	for _, typed := range t.q.Take {
		ids, whole, err := t.placesNamed(typed)
		if err != nil {
			return err
		}
		if err := t.before.Load(t.asked, ids...); err != nil {
			return err
		}
		some := false
		for _, id := range ids {
			if t.isOfferedFor(id) {
				t.wanted[id], some = true, true
				t.pinned[id] = t.pinned[id] || !whole
			}
		}
		if !some {
			return &queries.NotFoundError{What: "part", Asked: typed, Where: "in the offers"}
		}
		if missing := lists.Kept(ids, func(id graph.PositionID) bool { return !t.wanted[id] }); whole && len(missing) > 0 {
			t.notes = append(t.notes, fmt.Sprintf("no offer has anything for %s; %s free to keep what is there",
				strings.Join(lists.Mapped(missing, graph.PositionID.Local), ", "), staysWord(len(missing))))
		}
	}
	return nil
}

func staysWord(n int) string {
	if n == 1 {
		return "that place stays"
	}
	return "those places stay"
}

// isOfferedFor reports whether some offer has enough parts of the kind of a place.
func (t *task) isOfferedFor(id graph.PositionID) bool {
	seat := t.before.Seat(id)
	return slices.ContainsFunc(t.lots, func(l lot) bool {
		kind := t.before.Library().Part(l.part).Kind
		return isOffered(l.from) && l.quantity >= t.wantedAt(id) && (kind == seat.Part.Kind || kind == seat.Position.Kind) &&
			(l.condition == graph.ConditionNew || !seat.Position.Renew)
	})
}

// readBudget reads what the whole way may cost.
func (t *task) readBudget() error {
	if t.q.Budget == (measure.Money{}) {
		return nil
	}
	if t.q.Budget.Hundredths == 0 {
		return &DonorError{"a budget of nothing buys nothing: leave it out, or say what there is to spend"}
	}
	t.paidIn = t.q.Budget.Currency
	return nil
}

// readReversible finds the places whose parts are not to be drilled, turned or
// welded.
func (t *task) readReversible() error {
	for _, typed := range t.q.Reversible {
		ids, _, err := t.placesNamed(typed)
		if err != nil {
			return err
		}
		for _, id := range ids {
			t.spared[id] = true
		}
	}
	return nil
}

// readAhead reads, in few calls, what is listed at the places to take that are
// named exactly, on the machine and on the donor.
func (t *task) readAhead() error {
	l := t.before.Library()
	on := map[graph.PositionID]graph.VariantID{}
	for _, typed := range t.q.Take {
		if strings.Contains(typed, "/") && t.donor != nil {
			id := t.placeTyped(typed)
			on[id], on[t.onDonor(id)] = t.before.Variant.ID, t.donor.Variant.ID
		}
	}
	if err := l.ReadPositions(t.asked, lists.KeysOf(on)); err != nil {
		return err
	}
	var parts []graph.PartID
	for _, id := range lists.KeysOf(on) {
		listed := lists.Kept(slices.Clone(l.ListedAt(id)),
			func(f graph.Fitment) bool { return slices.Contains(f.On, on[id]) })
		parts = append(parts, machine.PartsIn(listed)...)
	}
	return l.ReadParts(t.asked, parts)
}

// placeTyped is the position of the machine by the name typed, there or not.
func (t *task) placeTyped(typed string) graph.PositionID {
	return graph.PositionID(string(t.before.Variant.Model) + ":" + strings.ToLower(strings.TrimSpace(typed)))
}

// placesNamed are the positions of the machine that a word stands for, and
// whether it stands for a whole assembly. What is written as a position is
// looked for there first: all the assemblies need not be read for it.
func (t *task) placesNamed(typed string) ([]graph.PositionID, bool, error) {
	if id, ok, err := t.exactPlace(typed); err != nil || ok {
		return []graph.PositionID{id}, false, err
	}
	r := t.before.Library().Reader()
	assembly, err := queries.AssemblyFor(t.asked, r, t.before.Variant.Model, typed)
	var missing *queries.NotFoundError
	if errors.As(err, &missing) {
		id, err := t.placeFor(typed)
		return []graph.PositionID{id}, false, err
	}
	if err != nil {
		return nil, false, err
	}
	positions, err := r.PositionsIn(t.asked, assembly.ID)
	positions = lists.Kept(positions, func(at graph.Position) bool { return slices.Contains(at.On, t.before.Variant.ID) })
	return lists.Mapped(positions, func(at graph.Position) graph.PositionID { return at.ID }), true, err
}

// exactPlace is the position of the machine with the very name typed, such as
// front-brake/lever.
func (t *task) exactPlace(typed string) (graph.PositionID, bool, error) {
	if !strings.Contains(typed, "/") {
		return "", false, nil
	}
	id := t.placeTyped(typed)
	err := t.before.Library().ReadPositions(t.asked, []graph.PositionID{id})
	at, _ := t.before.Library().Position(id)
	return id, slices.Contains(at.On, t.before.Variant.ID), err
}

// placeFor is the one position of the machine that a word stands for.
func (t *task) placeFor(typed string) (graph.PositionID, error) {
	position, err := queries.PositionFor(t.asked, t.before.Library().Reader(), t.before.Variant.Model, typed)
	if err == nil && !slices.Contains(position.On, t.before.Variant.ID) {
		err = &queries.NotFoundError{What: "position", Asked: typed, Where: "on " + string(t.before.Variant.ID)}
	}
	return position.ID, err
}

// onDonor is the position of the donor that goes by the same name.
func (t *task) onDonor(id graph.PositionID) graph.PositionID {
	return id.On(t.donor.Variant.Model)
}

// readFixed adds the parts that were fixed by hand; they outrank what was
// taken.
func (t *task) readFixed() error {
	if len(t.q.Swaps) == 0 {
		return nil
	}
	changes, _, err := swap.ReadSwaps(t.asked, t.before, t.q.Swaps)
	for id, part := range changes {
		t.fixed[id] = donorOption{part: part, from: FromAsked}
		t.pinned[id] = true
	}
	return err
}

func (t *task) readKeep() error {
	for _, typed := range t.q.Keep {
		ids, whole, err := t.placesNamed(typed)
		if err != nil {
			return err
		}
		for _, id := range ids {
			if _, taken := t.fixed[id]; taken || t.wanted[id] {
				if whole {
					continue
				}
				return &DonorError{fmt.Sprintf("%s can't both stay and change", id.Local())}
			}
			t.keep[id] = true
		}
	}
	return nil
}

// readLots counts what lies in the boxes of the bike, when it may be used, in
// the order of the boxes. What was asked for by its number comes from there too.
func (t *task) readLots() error {
	if !t.q.Boxes || t.before.Bike == nil {
		return nil
	}
	boxed, err := machine.Boxed(t.asked, t.before.Library(), *t.before.Bike, nil)
	if err != nil {
		return err
	}
	for _, b := range boxed {
		if t.usable(b) && b.IsProved() {
			t.addBoxed(b)
		}
	}
	for _, b := range boxed { // what was identified by eye only where none of that is proved
		if b.State.Is == graph.Sound && !b.IsProved() && !slices.ContainsFunc(t.lots, func(l lot) bool {
			return l.part == b.Part && isBoxed(l.from) && l.condition != graph.ConditionInspect
		}) {
			t.addBoxed(b)
		}
	}
	given := map[graph.PartID]int{}
	for _, id := range lists.KeysOf(t.fixed) {
		t.takeAsked(id, given)
	}
	return nil
}

// addBoxed adds a line of a box to what lies there.
func (t *task) addBoxed(b machine.InBox) {
	condition := graph.ConditionUsed
	switch {
	case !b.IsProved():
		condition = graph.ConditionInspect
	case b.IsUnused():
		condition = graph.ConditionNew
	}
	at := slices.IndexFunc(t.lots, func(l lot) bool { return l.part == b.Part && isBoxed(l.from) })
	switch {
	case at < 0:
		t.lots = append(t.lots, lot{part: b.Part, from: fromBox + b.Box, quantity: b.Quantity, condition: condition})
		return
	case !strings.HasSuffix(t.lots[at].from, " "+b.Box):
		t.lots[at].from += " or " + b.Box
	}
	t.lots[at].quantity += b.Quantity
	t.lots[at].condition = worse(t.lots[at].condition, condition)
}

// takeAsked takes what was asked for by its number out of the boxes, where enough of it
// lies there that somebody proved; given is how many of each part were taken so.
func (t *task) takeAsked(id graph.PositionID, given map[graph.PartID]int) {
	o := t.fixed[id]
	at := slices.IndexFunc(t.lots, func(l lot) bool {
		return l.part == o.part && isBoxed(l.from) && l.condition != graph.ConditionInspect &&
			given[o.part]+t.wantedAt(id) <= l.quantity
	})
	if at >= 0 && o.from == FromAsked {
		given[o.part] += t.wantedAt(id)
		o.from = t.lots[at].from
		t.fixed[id] = o
	}
}

// usable reports whether what lies in a box may be used: what is scrap is not,
// and what is doubtful is looked at first. What is left out is noted.
func (t *task) usable(b machine.InBox) bool {
	if b.State.Is != graph.Sound {
		t.notes = append(t.notes, fmt.Sprintf("%s out of the boxes is not reckoned with: %s", b.Part, b.State.Why))
	}
	return b.State.Is == graph.Sound
}

// readEmpty finds the places that the bike lists as missing and that may be
// filled. A place that must stay, that was fixed, or that holds what makes the
// machine that machine is none of them. What connects the machine is found on a
// setup with all of them filled as built: a disc that is missing has a caliper
// all the same.
func (t *task) readEmpty() error {
	filled, err := t.readBrought()
	if err != nil {
		return err
	}
	if err := t.readMissing(filled); err != nil {
		return err
	}
	t.shape = t.base
	if len(filled) > 0 {
		t.shape, err = t.base.With(t.asked, filled)
	}
	return err
}

// readBrought gives what the donor has at the places that it alone has.
func (t *task) readBrought() (map[graph.PositionID]graph.PartID, error) {
	filled := map[graph.PositionID]graph.PartID{}
	brought := t.before.Brought()
	if err := t.before.Load(t.asked, brought...); err != nil {
		return nil, err
	}
	for _, id := range brought {
		_, fixed := t.fixed[id]
		if seat := t.donor.Seat(t.onDonor(id)); !fixed && !seat.Empty {
			filled[id] = seat.Part.ID
		}
	}
	return filled, nil
}

// readMissing finds those of the empty places of a user's own machine, and adds what was
// built there.
func (t *task) readMissing(filled map[graph.PositionID]graph.PartID) error {
	if t.before.Bike == nil {
		return nil
	}
	var missing []graph.PositionID
	noted, err := t.notedPlaces()
	if err != nil {
		return err
	}
	for _, id := range noted {
		if _, fixed := t.fixed[id]; t.isEmptyNow(id) && !fixed && !t.wanted[id] && !t.keep[id] {
			missing = append(missing, id)
		}
	}
	for _, id := range missing {
		built := t.before.AsBuilt().Seat(id)
		if swap.IsMachine(built.Part) {
			continue
		}
		t.empty[id] = built.Part.ID
		if !built.Empty {
			filled[id] = built.Part.ID
		}
	}
	return nil
}

// notedPlaces are the positions of which something was noted on the bike, by
// themselves or with their assembly, and reads them.
func (t *task) notedPlaces() ([]graph.PositionID, error) {
	bike := t.before.Bike
	ids := lists.Mapped(bike.Found, func(f graph.Fitted) graph.PositionID { return f.Position })
	gone := lists.Kept(slices.Clone(bike.Assemblies), func(n graph.AssemblyNote) bool { return !n.AsBuilt })
	if len(gone) > 0 {
		in, err := t.before.Library().Reader().PositionsIn(t.asked,
			lists.Mapped(gone, func(n graph.AssemblyNote) graph.AssemblyID { return n.Assembly })...)
		if err != nil {
			return nil, err
		}
		for _, p := range in {
			if slices.Contains(p.On, bike.Variant) {
				ids = append(ids, p.ID)
			}
		}
	}
	ids = lists.Unique(ids)
	return ids, t.before.Load(t.asked, ids...)
}

// isEmptyNow reports whether the bike lists a place as missing.
func (t *task) isEmptyNow(id graph.PositionID) bool {
	_, listed := t.before.FoundAt(id)
	return listed && t.before.Seat(id).Empty
}

// wantedAt is how many parts a position takes.
func (t *task) wantedAt(at graph.PositionID) int {
	return t.before.Quantity(at)
}

// readOffers counts what lies in each offer: what its machine was built with at the
// places it holds, and the parts that it names.
func (t *task) readOffers() error {
	for _, o := range t.q.Offers {
		for _, m := range []measure.Money{o.Price, o.Postage} {
			if m.Currency != "" && t.paidIn != "" && m.Currency != t.paidIn {
				return &DonorError{fmt.Sprintf("offer %q is in %s and another amount in %s: give them in one currency",
					o.Name, m.Currency, t.paidIn)}
			}
			t.paidIn = cmp.Or(t.paidIn, m.Currency)
		}
		held, err := machine.PartsOffered(t.asked, t.before, o)
		if err != nil {
			return err
		}
		for _, item := range held {
			addOffered(t, o, item.Part, item.Quantity, item.Condition)
		}
	}
	ids := lists.Mapped(t.lots, func(l lot) graph.PartID { return l.part })
	return t.before.Library().ReadParts(t.asked, ids)
}
