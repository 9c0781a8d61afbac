package bike

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// ownMachine is a user's own machine, with what sits at every position of its
// variant, as built and as found.
type ownMachine struct {
	r     graph.Reader
	bike  graph.Bike
	setup *machine.Setup // with the bike's own parts
	// built is the machine as built, to hold others against: each connection of it is
	// judged once.
	built *examine.Before
	// positions are those of the variant, sorted.
	positions []graph.Position
	scheme    Scheme
	siblings  queries.Universe                   // all variants of all models: a box holds parts of any
	joints    []graph.Joint                      // of the variant, once readJoints was called
	holds     map[graph.PositionID][]graph.Joint // the joints that each fastener holds
	// off is what was found on it and goes with nothing, whatever is got: the book's part is
	// wanted there, and setup is without it.
	off []shop.Refused
}

// readOwnMachine reads a bike by its name. A *NotFoundError offers the names of
// others.
func readOwnMachine(ctx context.Context, r graph.Reader, name string) (*ownMachine, error) {
	library := machine.NewLibrary(r)
	r = library.Reader()
	bike, err := bikeFor(ctx, r, name)
	if err != nil {
		return nil, err
	}
	variants, err := r.Variants(ctx, bike.Variant)
	if err != nil {
		return nil, err
	}
	if len(variants) == 0 {
		return nil, &queries.NotFoundError{What: "variant", Asked: string(bike.Variant), Where: "for bike " + string(bike.ID)}
	}
	scheme, by, err := machine.OwnScheme(ctx, library, bike, variants[0])
	if err != nil {
		return nil, err
	}
	m := &ownMachine{r: r, bike: bike}
	m.stand(library, variants[0], scheme)
	m.scheme = schemeOf(m.setup, scheme, by)
	all, err := r.PositionsOf(ctx, bike.Variant.Model())
	if err != nil {
		return nil, err
	}
	models, err := r.Models(ctx)
	if err != nil {
		return nil, err
	}
	if m.siblings, err = queries.SiblingsOf(ctx, r, lists.Mapped(models,
		func(m graph.Model) graph.ModelID { return m.ID })); err != nil {
		return nil, err
	}
	m.positions = lists.Kept(all, func(p graph.Position) bool { return slices.Contains(p.On, bike.Variant) })
	return m, m.load(ctx)
}

// stand begins the setup of the machine, of which nothing is loaded yet.
func (m *ownMachine) stand(l *machine.Library, v graph.Variant, scheme string) {
	m.setup = machine.StartIn(l, v, scheme)
	m.setup.Bike, m.setup.Frame, m.setup.OnlyThere = &m.bike, m.bike.Frame, true
	m.built = examine.From(m.setup.AsBuilt())
}

func (m *ownMachine) load(ctx context.Context) error {
	return m.setup.Load(ctx, lists.Mapped(m.positions, func(p graph.Position) graph.PositionID { return p.ID })...)
}

// takenOff is the machine without something that was found on it, which goes with nothing.
func (m *ownMachine) takenOff(ctx context.Context, off shop.Refused) (*ownMachine, error) {
	bare := *m
	bare.off = append(slices.Clone(m.off), off)
	bare.bike.Found = lists.Mapped(m.bike.Found, func(f graph.Fitted) graph.Fitted {
		if slices.Contains(off.At, f.Position) {
			return graph.Fitted{Position: f.Position}
		}
		return f
	})
	bare.stand(m.setup.Library(), m.setup.Variant, m.setup.Scheme)
	return &bare, bare.load(ctx)
}

// offAt says why what was found at a place goes with nothing; empty where nothing such was.
func (m *ownMachine) offAt(id graph.PositionID) string {
	for _, off := range m.off {
		if slices.Contains(off.At, id) {
			return string(off.Part) + " is on it and does not go: " + off.Why
		}
	}
	return ""
}

// bikeFor finds a bike by its name.
func bikeFor(ctx context.Context, r graph.Reader, name string) (graph.Bike, error) {
	bikes, err := r.Bikes(ctx, graph.BikeID(name))
	if err != nil {
		return graph.Bike{}, err
	}
	if len(bikes) > 0 {
		return bikes[0], nil
	}
	if bikes, err = r.Bikes(ctx); err != nil {
		return graph.Bike{}, err
	}
	return graph.Bike{}, queries.NotListed("bike", name, "",
		lists.Mapped(bikes, func(b graph.Bike) graph.BikeID { return b.ID }))
}

// readJoints reads the joints of the variant, once.
func (m *ownMachine) readJoints(ctx context.Context) error {
	if m.holds != nil {
		return nil
	}
	all, err := m.r.JointsOf(ctx, m.setup.Variant.Model)
	m.joints = lists.Kept(all, func(j graph.Joint) bool { return slices.Contains(j.On, m.setup.Variant.ID) })
	m.holds = map[graph.PositionID][]graph.Joint{}
	for _, j := range m.joints {
		for _, id := range j.Fasteners {
			m.holds[id] = append(m.holds[id], j)
		}
	}
	return err
}

// needed is how many pieces a position of the machine as found takes: as listed
// for the part, and as many as the parts that were found have holes. The joints
// must be read.
func (m *ownMachine) needed(p graph.Position, part graph.PartID) int {
	n := m.setup.QuantityOf(p, part)
	for _, j := range m.holds[p.ID] {
		n = max(n, m.setup.BoltsWanted(j, p.ID))
	}
	return n
}

// planned is the part that is meant to go to a position; ok is false when
// nothing is planned there.
func (m *ownMachine) planned(id graph.PositionID) (part graph.PartID, ok bool) {
	planned, ok := m.bike.PlannedAt(id)
	return planned.Part, ok
}

// builtPart is the part listed at a position; empty when no source says.
func (m *ownMachine) builtPart(id graph.PositionID) graph.PartID { return m.setup.BuiltAt(id).Part.ID }

// nameOf is a part's name, empty when nobody gave one.
func (m *ownMachine) nameOf(id graph.PartID) string { return m.setup.Library().Part(id).Name }

// inAssembly keeps the positions of one assembly, named without its model; an
// empty name keeps all. A *NotFoundError offers near names.
func (m *ownMachine) inAssembly(ctx context.Context, name string) ([]graph.Position, error) {
	if name == "" {
		return m.positions, nil
	}
	a, err := queries.AssemblyFor(ctx, m.r, m.setup.Variant.Model, name)
	if err != nil {
		return nil, err
	}
	return lists.Kept(m.positions, func(p graph.Position) bool { return p.Assembly == a.ID }), nil
}

// otherFrame adds which variants of the model have the frame number.
func (m *ownMachine) otherFrame(ctx context.Context, why string) (string, error) {
	variants, err := m.r.VariantsOf(ctx, m.setup.Variant.Model)
	if err != nil {
		return why, err
	}
	holding, err := queries.HoldingFrame(variants, m.bike.Frame)
	if err != nil || len(holding) == 0 {
		return why + ", nor within those of another variant of the model", nil
	}
	ids := lists.Mapped(holding, func(v graph.Variant) string { return string(v.ID) })
	return why + "; it is one of " + graph.OrList(ids), nil
}

// places are the positions with something found or planned.
func (m *ownMachine) places() []BikePlace {
	byPlace := map[graph.PositionID]BikePlace{}
	add := func(f graph.Fitted, set func(*BikePlace, string)) {
		place, have := byPlace[f.Position]
		if !have {
			p := m.setup.Position(f.Position)
			place = BikePlace{Position: p.ID, Name: p.Name, Safety: p.Safety, Built: m.builtPart(p.ID)}
		}
		set(&place, cmp.Or(string(f.Part), nothingThere))
		if f.Note != "" && place.Note != "" {
			place.Note += "; "
		}
		place.Note += f.Note
		byPlace[f.Position] = place
	}
	for _, f := range m.bike.Found {
		seat := m.setup.Seat(f.Position)
		if f.AsBuilt && seat.State.Why == "" && f.Note == "" {
			continue
		}
		add(f, func(p *BikePlace, part string) {
			p.Missing = f.Part == "" && !f.AsBuilt
			if p.Found, p.State = part, seat.State.Why; f.AsBuilt {
				p.Found = string(p.Built)
			}
		})
	}
	for _, moved := range m.bike.Moved {
		f := graph.Fitted{Position: moved.Position, Note: moved.Note}
		add(f, func(p *BikePlace, _ string) { p.Moved = moved.Where() })
	}
	for _, f := range m.bike.Planned {
		add(f, func(p *BikePlace, part string) { p.Planned = part })
	}
	return lists.Mapped(lists.KeysOf(byPlace), func(id graph.PositionID) BikePlace { return byPlace[id] })
}

// asFound is the whole judgement of what was found, all of it together and as it was
// measured, against the machine as built.
func (m *ownMachine) asFound(ctx context.Context) (swap.Judgement, *machine.Setup, error) {
	places := movedPlaces(m) // the same parts, but their lines are to be judged
	for _, f := range m.bike.Found {
		places = append(places, f.Position)
	}
	changes := map[graph.PositionID]machine.Seat{}
	for _, id := range lists.Unique(places) {
		if seat := m.setup.Seat(id); !seat.Empty && m.setup.Library().Has(seat.Part.ID) {
			seat.Changed = true
			changes[id] = seat
		}
	}
	after := m.setup.WithSeats(changes)
	j, err := swap.Judge(ctx, m.built, after, swap.Asked{Bare: true})
	return j, after, err
}

// bagTable lists the hardware of the machine, as found, and its groups.
func (m *ownMachine) bagTable(ctx context.Context) (*bagTable, error) {
	if err := m.readJoints(ctx); err != nil {
		return nil, err
	}
	t := &bagTable{ownMachine: m}
	for _, p := range m.positions {
		if !machine.IsHardware(p.Kind) {
			continue
		}
		seat := m.setup.Seat(p.ID)
		lacks := seat.Empty || !m.bike.Apart // of a machine in pieces, what is noted as on it has its bolts
		if seat.Empty {
			seat = m.setup.BuiltAt(p.ID)
		}
		s := slot{position: p, part: seat.Part, size: sizeOf(seat.Part), quantity: m.needed(p, seat.Part.ID)}
		left := 0
		if lacks {
			left = s.quantity
		}
		t.slots, t.left = append(t.slots, s), append(t.left, left)
	}
	t.adapt()
	assemblies, err := m.r.AssembliesOf(ctx, m.setup.Variant.Model)
	if err != nil {
		return nil, err
	}
	t.group(lists.ByKey(assemblies, func(a graph.Assembly) graph.AssemblyID { return a.ID }))
	return t, nil
}

// looseParts reads the known hardware of the kinds that lie in bags.
func (m *ownMachine) looseParts(ctx context.Context) (looseTable, error) {
	var t looseTable
	var kinds []graph.KindID
	for _, bag := range m.bike.Bags {
		for _, item := range bag.Contents {
			kinds = append(kinds, item.Kind)
		}
	}
	if len(kinds) == 0 {
		return t, nil
	}
	ids, err := m.r.PartsOfKind(ctx, lists.Unique(kinds)...)
	if err != nil || len(ids) == 0 {
		return t, err
	}
	l := m.setup.Library()
	if err := l.ReadParts(ctx, ids); err != nil {
		return t, err
	}
	var some []graph.PartID
	for _, id := range ids {
		p, _ := l.Ranked(id, &m.setup.Variant)
		t.parts = append(t.parts, p)
		if m.inAnyBag(p) {
			some = append(some, id)
		}
	}
	t.uses, err = evidence.UsesOf(ctx, m.r, some)
	return t, err
}

func (m *ownMachine) inAnyBag(p graph.Part) bool {
	return slices.ContainsFunc(m.bike.Bags, func(bag graph.Bag) bool {
		return slices.ContainsFunc(bag.Contents, func(item graph.BagItem) bool {
			return compareHardware(item, p.Kind, sizeOf(p)).same
		})
	})
}

// assumed counts the positions that nobody looked at.
func (m *ownMachine) assumed(scope []graph.Position) int {
	count := 0
	for _, p := range scope {
		if _, ok := m.setup.FoundAt(p.ID); !ok && m.builtPart(p.ID) != "" {
			count++
		}
	}
	return count
}

// coverageWords says a set of variants shortly: "skerry-620 2004-2006 eu, uk".
func (m *ownMachine) coverageWords(on []graph.VariantID) string {
	return strings.Join(lists.Mapped(queries.CoveragesOf(lists.Unique(slices.Clone(on)), m.siblings),
		func(c queries.Coverage) string {
			return strings.TrimSpace(string(c.Model) + " " + c.String())
		}), "; ")
}

func (m *ownMachine) successors(ctx context.Context, parts []graph.PartID) (successors, error) {
	edges, err := evidence.EdgesAround(ctx, m.r, parts)
	return successors{evidence.NewWalker(edges).On(m.setup.Variant, m.bike.Frame)}, err
}

// work works out wants and gifts for the whole machine, and judges them. What was found
// there and goes with nothing is taken off it, one piece after another, and the book's part is
// wanted in its place: everything else is judged with that on.
func (m *ownMachine) work(ctx context.Context) (*work, error) {
	for {
		w, err := m.judgedWork(ctx)
		if err != nil {
			return nil, err
		}
		off, err := w.worstOff(ctx)
		if err != nil || off == nil {
			return w, err
		}
		if m, err = m.takenOff(ctx, *off); err != nil {
			return nil, err
		}
	}
}

// judgedWork works out wants and gifts for the machine as it stands, and judges them.
func (m *ownMachine) judgedWork(ctx context.Context) (*work, error) {
	w, err := m.shared(ctx)
	if err != nil {
		return nil, err
	}
	if err := w.readListings(ctx); err != nil {
		return nil, err
	}
	if err := w.tryOn(ctx); err != nil || !w.anyRefused() && !w.anyOther() {
		return w, err
	}
	return w, w.close(ctx)
}

// shared works out what the machine wants and what the boxes and bags give.
func (m *ownMachine) shared(ctx context.Context) (*work, error) {
	if err := m.readJoints(ctx); err != nil {
		return nil, err
	}
	w := &work{ownMachine: m, wants: m.wants()}
	var parts []graph.PartID
	for _, one := range w.wants {
		parts = append(parts, one.part)
	}
	parts = lists.Kept(lists.Unique(parts), func(id graph.PartID) bool { return id != "" })
	if err := m.setup.Library().ReadParts(ctx, parts); err != nil {
		return nil, err
	}
	var err error
	if w.successors, err = m.successors(ctx, parts); err != nil {
		return nil, err
	}
	boxed, err := machine.Boxed(ctx, m.setup.Library(), m.bike, w.successors.reaches(w.wants))
	if err != nil {
		return nil, err
	}
	w.lines = lists.Mapped(boxed, func(b machine.InBox) stockLine { return stockLine{InBox: b} })
	w.asWholes()
	return w, w.shareOut(ctx, nil)
}

// wants are the positions that need something: empty ones, those where what is
// there is scrap, those where something else is planned than what is there, and
// empty ones for which no source names a part.
func (m *ownMachine) wants() []want {
	var all []want
	for _, p := range m.positions {
		there, built := m.setup.Seat(p.ID), m.builtPart(p.ID)
		planned, isPlanned := m.planned(p.ID)
		switch {
		case isPlanned && planned == "": // it shall stay empty
		case isPlanned && planned != there.Part.ID:
			all = append(all, want{p, planned, m.needed(p, built), there.ScrapWhy()})
		case !isPlanned && there.Empty:
			// What replaces scrap is the same again: it met what is around it.
			all = append(all, want{p, cmp.Or(there.Scrap.ID, built), m.needed(p, built), there.ScrapWhy()})
		}
	}
	return all
}

// unlisted are the places with a safety class of which nobody knows what sits there.
func (m *ownMachine) unlisted() []swap.Hindrance {
	var why []swap.Hindrance
	for _, p := range m.positions {
		seat := m.setup.Seat(p.ID)
		if p.Safety != graph.SafetyNone && seat.Empty && seat.ScrapWhy() == "" && m.builtPart(p.ID) == "" {
			why = append(why, swap.Judged(graph.Unknown, p.ID.Local(), "no source says what belongs there, and nobody "+
				"noted what sits there"))
		}
	}
	return why
}

// notReady says what on the machine as found stands against riding: empty places with
// a safety class, pieces there that are scrap or to be looked at first, then what does not
// mate or can't be judged.
func (m *ownMachine) notReady(ctx context.Context) ([]swap.Hindrance, error) {
	var why []swap.Hindrance
	for _, p := range m.positions {
		switch seat := m.setup.Seat(p.ID); {
		case p.Safety == graph.SafetyNone || !seat.Empty || m.builtPart(p.ID) == "":
		case seat.ScrapWhy() != "":
			why = append(why, swap.Judged(graph.DoesNotFit, "piece at "+p.ID.Local(), seat.ScrapWhy()))
		default:
			why = append(why, swap.NothingAt(p.ID))
		}
	}
	why = append(why, doubts(m.doubtful())...)
	judgement, _, err := m.asFound(ctx)
	if err != nil {
		return nil, err
	}
	wrong, err := m.wrongAsFound(ctx, judgement)
	found := swap.NotReady(judgement.Outcomes, judgement.Answer.Numbers)
	return slices.Concat(why, found, swap.NotReady(wrong, nil)), err
}

// wrongAsFound are the outcomes of the machine as it stands that do not fit, where neither
// side is noted as another than built: what was measured on the machine says so.
func (m *ownMachine) wrongAsFound(ctx context.Context, judged swap.Judgement) ([]examine.Outcome, error) {
	all, err := examine.ExamineAll(ctx, m.setup)
	return lists.Kept(all, func(o examine.Outcome) bool {
		return o.After == graph.DoesNotFit && !slices.ContainsFunc(judged.Outcomes,
			func(j examine.Outcome) bool { return j.What == o.What && j.ID == o.ID })
	}), err
}

// doubtful are the pieces on the machine that are to be looked at first and for which
// nothing else is planned, by safety class, then position.
func (m *ownMachine) doubtful() []LookFirst {
	rows := []LookFirst{}
	for _, f := range m.bike.Found {
		seat := m.setup.Seat(f.Position)
		if _, planned := m.planned(f.Position); planned || seat.Empty || seat.State.Is != graph.Doubtful {
			continue
		}
		rows = append(rows, LookFirst{Position: f.Position, Name: seat.Position.Name, Safety: seat.Position.Safety,
			Part: seat.Part.ID, State: seat.State.Why})
	}
	slices.SortStableFunc(rows, func(x, y LookFirst) int { return byClass(x.Safety, y.Safety, x.Position, y.Position) })
	return rows
}

// withJobs names with each piece the job that renews what is in it.
func (m *ownMachine) withJobs(ctx context.Context, rows []LookFirst) ([]LookFirst, error) {
	if len(rows) == 0 {
		return rows, nil
	}
	jobs, err := m.r.Jobs(ctx)
	jobs = graph.JobsAt(jobs, m.positions)
	for i, row := range rows {
		at := slices.IndexFunc(jobs, func(j graph.Job) bool { return slices.Contains(j.Places, row.Position) })
		if at >= 0 {
			rows[i].Job = jobs[at].ID
		}
	}
	return rows, err
}
