package donor

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// DonorError says that a donor question can't be understood.
type DonorError struct{ Why string }

// Error is why.
func (e *DonorError) Error() string { return e.Why }

// planner works out one donor plan. It grows: slots and what connects them are
// added as far as a mismatch reaches.
type planner struct {
	asked  context.Context // of the question
	ctx    *deadline       // of all that looks for a plan
	q      DonorQuestion
	before *machine.Setup
	base   *machine.Setup                    // before with what is fixed put on
	shape  *machine.Setup                    // base with the empty places filled as built: where things connect
	empty  map[graph.PositionID]graph.PartID // empty places that may be filled, and what was built there
	donor  *machine.Setup                    // nil when parts are fixed by hand only
	fixed  map[graph.PositionID]donorOption
	keep   map[graph.PositionID]bool
	notes  []string
	models []graph.ModelID // of the whole graph, once they were needed

	around   *examine.Connections
	slots    []*donorSlot
	slotAt   map[graph.PositionID]int
	demands  []*demand
	problem  plan.Problem
	judged   map[string]examine.Outcome
	anything *trial     // of a combination that holds for nothing
	bound    *plan.Cost // of a plan that is known; nil before there is one
	plain    bool       // save nothing: judge all there is, for a test to compare with
	guessed  int        // how many sizes were guessed at
	box      *box       // while a plan of that size is guessed at
	floors   floors     // when last enumerated, of all slots there were
	trials   map[string]map[string]*trial
	key      []byte
	signs    map[signKey]int
	texts    map[string]int
	known    *known
	late     bool // the time was over before a plan was proved smallest
	looks    int
	joined   map[string][]graph.Part // what stands between two sides
	was      *examine.Before         // before, with what was judged of it
	seats    map[seatKey]machine.Seat
	adapters map[string][]graph.PartID
	byKind   map[graph.KindID][]graph.PartID                      // parts of the kinds that were asked for
	meant    map[graph.KindID]map[graph.PartID][]graph.PositionID // where parts of the kinds are listed
	anywhere map[graph.KindID]bool
	featured map[string][]graph.KindID // kinds of part by the kinds of their features
	lots     []lot
	words    map[seatKey]word
	after    map[graph.PositionID][]graph.PositionID // what must be on before
	currency string
	fault    error // of the reader, met while judging
}

func newPlanner(ctx context.Context, r graph.Reader, q DonorQuestion) (*planner, error) {
	before, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, q.Scheme)
	if err != nil {
		return nil, err
	}
	p := emptyPlanner(ctx, q, before)
	for _, step := range []func() error{p.readDonor, p.readTake, p.readFixed, p.readKeep} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	if len(p.fixed) == 0 {
		return nil, &DonorError{"nothing is to come over: say what to take, or which part goes where"}
	}
	if p.base, err = before.With(ctx, p.parts()); err != nil {
		return nil, err
	}
	err = p.readEmpty()
	p.readLots()
	p.ctx.keepBack()
	return p, err
}

// emptyPlanner is a planner that nothing is asked of yet.
func emptyPlanner(ctx context.Context, q DonorQuestion, before *machine.Setup) *planner {
	if q.Time == 0 {
		q.Time = DonorTime
	}
	p := &planner{asked: ctx, ctx: newDeadline(ctx, q), q: q, before: before, fixed: map[graph.PositionID]donorOption{}, empty: map[graph.PositionID]graph.PartID{}, keep: map[graph.PositionID]bool{},
		slotAt: map[graph.PositionID]int{}, was: examine.From(before), judged: map[string]examine.Outcome{},
		anything: &trial{ways: []donorWay{{}}, complete: true}, trials: map[string]map[string]*trial{},
		signs: map[signKey]int{}, texts: map[string]int{}, joined: map[string][]graph.Part{}, seats: map[seatKey]machine.Seat{},
		adapters: map[string][]graph.PartID{}, byKind: map[graph.KindID][]graph.PartID{}, meant: map[graph.KindID]map[graph.PartID][]graph.PositionID{}, anywhere: map[graph.KindID]bool{}, featured: map[string][]graph.KindID{}, words: map[seatKey]word{}, after: map[graph.PositionID][]graph.PositionID{}}
	return p
}

func (p *planner) parts() map[graph.PositionID]graph.PartID {
	parts := map[graph.PositionID]graph.PartID{}
	for id, o := range p.fixed {
		parts[id] = o.part
	}
	return parts
}

func (p *planner) readDonor() error {
	if p.q.From == "" {
		if len(p.q.Take) > 0 {
			return &DonorError{"say which machine to take it from"}
		}
		return nil
	}
	m, err := queries.MachinesFor(p.ctx, p.before.Library().Reader(), queries.MachineQuestion{On: p.q.From})
	if err != nil {
		return err
	}
	if len(m.Variants) > 1 {
		return &queries.AmbiguousError{What: "donor", Asked: p.q.From, Could: lists.Mapped(m.IDs(), func(id graph.VariantID) string { return string(id) })}
	}
	p.donor = p.before.Sibling(m.Variants[0], "")
	return nil
}

// readTake fixes what the donor has at each position that is to come over. Of
// an assembly, the places that both machines have are taken.
func (p *planner) readTake() error {
	if err := p.readAhead(); err != nil {
		return err
	}
	for _, typed := range p.q.Take {
		ids, whole, err := p.placesNamed(typed)
		if err != nil {
			return err
		}
		if err := errors.Join(p.before.Load(p.ctx, ids...), p.donor.Load(p.ctx, lists.Mapped(ids, p.onDonor)...)); err != nil {
			return err
		}
		for _, id := range ids {
			seat := p.donor.Seat(p.onDonor(id))
			switch {
			case !seat.Empty:
				p.fixed[id] = donorOption{part: seat.Part.ID, from: fromDonor}
			case whole:
				p.notes = append(p.notes, fmt.Sprintf("%s has nothing at %s; that place stays free to keep what it has", p.donor.Variant.ID, id.Local()))
			default:
				return &queries.NotFoundError{What: "part", Asked: id.Local(), Where: "on the donor " + string(p.donor.Variant.ID)}
			}
		}
		if whole {
			p.noteDonorOnly(ids)
		}
	}
	return nil
}

// readAhead reads, in few calls, what is listed at the places to take that are
// named exactly, on the machine and on the donor.
func (p *planner) readAhead() error {
	l := p.before.Library()
	on := map[graph.PositionID]graph.VariantID{}
	for _, typed := range p.q.Take {
		if strings.Contains(typed, "/") && p.donor != nil {
			id := p.placeTyped(typed)
			on[id], on[p.onDonor(id)] = p.before.Variant.ID, p.donor.Variant.ID
		}
	}
	if err := l.ReadPositions(p.ctx, lists.KeysOf(on)); err != nil {
		return err
	}
	var parts []graph.PartID
	for _, id := range lists.KeysOf(on) {
		listed := lists.Kept(slices.Clone(l.ListedAt(id)), func(f graph.Fitment) bool { return slices.Contains(f.On, on[id]) })
		parts = append(parts, machine.PartsIn(listed)...)
	}
	return l.ReadParts(p.ctx, parts)
}

// placeTyped is the position of the machine by the name typed, there or not.
func (p *planner) placeTyped(typed string) graph.PositionID {
	return graph.PositionID(string(p.before.Variant.Model) + ":" + strings.ToLower(strings.TrimSpace(typed)))
}

// placesNamed are the positions of the machine that a word stands for, and
// whether it stands for a whole assembly. What is written as a position is
// looked for there first: all the assemblies need not be read for it.
func (p *planner) placesNamed(typed string) ([]graph.PositionID, bool, error) {
	if id, ok, err := p.exactPlace(typed); err != nil || ok {
		return []graph.PositionID{id}, false, err
	}
	r := p.before.Library().Reader()
	assembly, err := queries.AssemblyFor(p.ctx, r, p.before.Variant.Model, typed)
	var missing *queries.NotFoundError
	if errors.As(err, &missing) {
		id, err := p.placeFor(typed)
		return []graph.PositionID{id}, false, err
	}
	if err != nil {
		return nil, false, err
	}
	positions, err := r.PositionsIn(p.ctx, assembly.ID)
	positions = lists.Kept(positions, func(at graph.Position) bool { return slices.Contains(at.On, p.before.Variant.ID) })
	return lists.Mapped(positions, func(at graph.Position) graph.PositionID { return at.ID }), true, err
}

// exactPlace is the position of the machine with the very name typed, such as
// front-brake/lever.
func (p *planner) exactPlace(typed string) (graph.PositionID, bool, error) {
	if !strings.Contains(typed, "/") {
		return "", false, nil
	}
	id := p.placeTyped(typed)
	err := p.before.Library().ReadPositions(p.ctx, []graph.PositionID{id})
	at, _ := p.before.Library().Position(id)
	return id, slices.Contains(at.On, p.before.Variant.ID), err
}

// placeFor is the one position of the machine that a word stands for.
func (p *planner) placeFor(typed string) (graph.PositionID, error) {
	position, err := queries.PositionFor(p.ctx, p.before.Library().Reader(), p.before.Variant.Model, typed)
	if err == nil && !slices.Contains(position.On, p.before.Variant.ID) {
		err = &queries.NotFoundError{What: "position", Asked: typed, Where: "on " + string(p.before.Variant.ID)}
	}
	return position.ID, err
}

// onDonor is the position of the donor that goes by the same name.
func (p *planner) onDonor(id graph.PositionID) graph.PositionID {
	return graph.PositionID(string(p.donor.Variant.Model) + ":" + id.Local())
}

// noteDonorOnly names what the donor has in an assembly and the machine has no
// place for.
func (p *planner) noteDonorOnly(ids []graph.PositionID) {
	if len(ids) == 0 {
		return
	}
	theirs, err := p.before.Library().Reader().PositionsIn(p.ctx, p.onDonor(ids[0]).Assembly())
	if err != nil {
		return // a note only: the plan does not need it
	}
	for _, at := range theirs {
		same := func(id graph.PositionID) bool { return id.Local() == at.ID.Local() }
		if slices.Contains(at.On, p.donor.Variant.ID) && !slices.ContainsFunc(ids, same) {
			p.notes = append(p.notes, fmt.Sprintf("%s has no place for %s of the donor", p.before.Variant.ID, at.ID.Local()))
		}
	}
}

// readFixed adds the parts that were fixed by hand; they outrank what was
// taken.
func (p *planner) readFixed() error {
	if len(p.q.Swaps) == 0 {
		return nil
	}
	changes, _, err := swap.ReadSwaps(p.ctx, p.before, p.q.Swaps)
	for id, part := range changes {
		p.fixed[id] = donorOption{part: part, from: fromAsked}
	}
	return err
}

func (p *planner) readKeep() error {
	for _, typed := range p.q.Keep {
		ids, whole, err := p.placesNamed(typed)
		if err != nil {
			return err
		}
		for _, id := range ids {
			if _, taken := p.fixed[id]; taken {
				if whole {
					continue
				}
				return &DonorError{fmt.Sprintf("%s can't both stay and change", id.Local())}
			}
			p.keep[id] = true
		}
	}
	return nil
}
