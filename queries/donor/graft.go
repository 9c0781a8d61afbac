package donor

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// grafted reads what there is, and has a machine besides with the places that only its
// donor has: they are empty as built, and are joined as they are on the donor. So a spacer
// of a later year, a second caliper or a brace can come along, and is judged as any part.
type grafted struct {
	graph.Reader
	on, from graph.Variant
	places   map[graph.PositionID]graph.Position // by their names on the machine
	// assemblies are those taken whole, as assemblies of the machine.
	assemblies []graph.Assembly
	joints     []graph.Joint
	runs       []graph.Run
	circuits   []graph.Circuit
	stacks     []graph.Stack
}

// machines are the machine of a question and its donor, nil without one, with what each
// may lend the other.
func machines(ctx context.Context, r graph.Reader, q DonorQuestion) (before, donor *machine.Setup, err error) {
	before, err = machine.NewSetup(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, q.Scheme)
	if err != nil || q.From == "" {
		return before, nil, err
	}
	m, err := queries.MachinesFor(ctx, before.Library().Reader(), queries.MachineQuestion{On: q.From})
	if err != nil {
		return nil, nil, err
	}
	if len(m.Variants) > 1 {
		return nil, nil, &queries.AmbiguousError{What: "donor", Asked: q.From,
			Could: lists.Mapped(m.IDs(), func(id graph.VariantID) string { return string(id) })}
	}
	g := &grafted{Reader: before.Library().Reader(), on: before.Variant, from: m.Variants[0],
		places: map[graph.PositionID]graph.Position{}}
	if err := g.find(ctx, q.Take); err != nil {
		return nil, nil, err
	}
	if len(g.places) > 0 { // read anew, through what has them
		before, err = machine.NewSetup(ctx, g, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, q.Scheme)
		if err != nil {
			return nil, nil, err
		}
	}
	donor = before.Sibling(g.from, "")
	if len(g.places) == 0 && g.on.Model != g.from.Model && !slices.ContainsFunc(q.Take, mayBeWhole) {
		return before, donor, nil // what is named alone comes alone
	}
	brings := map[graph.PositionID]bool{}
	for id := range g.places {
		brings[id] = true
	}
	return before.Lending(&machine.Lent{Donor: donor, Brings: brings}), donor, nil
}

// mayBeWhole reports whether what was typed is no position, and so perhaps an assembly.
func mayBeWhole(typed string) bool { return !strings.Contains(typed, "/") }

// find looks for the places that the donor alone has: of what is to come over, and of what
// these are joined to; of the same model all, since what the machine alone has may come off
// anywhere too.
func (g *grafted) find(ctx context.Context, take []string) error {
	theirs, err := g.taken(ctx, take)
	if err != nil || len(theirs) == 0 {
		return err
	}
	if g.on.Model == g.from.Model { // a plan reaches farther than what is named, and may need any of it
		all, err := g.Reader.PositionsOf(ctx, g.from.Model)
		if err != nil {
			return err
		}
		for _, p := range all {
			theirs = append(theirs, p.ID)
		}
	}
	for next := theirs; len(next) > 0; {
		fresh, err := g.add(ctx, next)
		if err != nil || len(fresh) == 0 {
			return err
		}
		if next, err = g.join(ctx, fresh); err != nil {
			return err
		}
	}
	return nil
}

// taken are the donor's places that are named, by itself or with their assembly.
func (g *grafted) taken(ctx context.Context, take []string) ([]graph.PositionID, error) {
	var assemblies []graph.AssemblyID
	var theirs []graph.PositionID
	for _, typed := range take {
		local := strings.ToLower(strings.TrimSpace(typed))
		if !mayBeWhole(typed) {
			theirs = append(theirs, graph.PositionID(string(g.from.Model)+":"+local))
			continue
		}
		a, err := queries.AssemblyFor(ctx, g.Reader, g.from.Model, typed)
		if err != nil { // it is a word for a place, or for nothing: whoever reads the question says so
			continue
		}
		assemblies = append(assemblies, a.ID)
		a.ID, a.Model = graph.AssemblyID(string(g.on.Model)+":"+a.ID.Local()), g.on.Model
		g.assemblies = append(g.assemblies, a)
	}
	if len(assemblies) == 0 {
		return theirs, nil
	}
	slices.SortFunc(g.assemblies, func(a, b graph.Assembly) int { return cmp.Compare(a.ID, b.ID) })
	in, err := g.Reader.PositionsIn(ctx, assemblies...)
	for _, p := range in {
		theirs = append(theirs, p.ID)
	}
	return theirs, err
}

// add takes up those of some places of the donor that the machine has not.
func (g *grafted) add(ctx context.Context, theirs []graph.PositionID) ([]graph.PositionID, error) {
	theirs = lists.Unique(theirs)
	mine := lists.Mapped(theirs, g.here)
	read, err := g.Reader.Positions(ctx, lists.Unique(slices.Concat(theirs, mine))...)
	if err != nil {
		return nil, err
	}
	by := lists.ByKey(read, func(p graph.Position) graph.PositionID { return p.ID })
	var fresh []graph.PositionID
	for i, id := range theirs {
		_, have := g.places[mine[i]]
		if have || !slices.Contains(by[id].On, g.from.ID) || slices.Contains(by[mine[i]].On, g.on.ID) {
			continue
		}
		p := by[id]
		p.ID, p.Model, p.Assembly = mine[i], g.on.Model, mine[i].Assembly()
		p.On = withVariant(p.On, g.on.ID)
		p.After = lists.Mapped(p.After, g.here)
		g.places[p.ID] = p
		fresh = append(fresh, id)
	}
	return fresh, nil
}

// here is a place of the donor by the name that it has on the machine.
func (g *grafted) here(id graph.PositionID) graph.PositionID {
	if id == "" {
		return ""
	}
	return id.On(g.on.Model)
}

func (g *grafted) ref(r graph.FeatureRef) graph.FeatureRef {
	return graph.FeatureRef{Position: g.here(r.Position), Feature: r.Feature}
}

func (g *grafted) refs(refs []graph.FeatureRef) []graph.FeatureRef { return lists.Mapped(refs, g.ref) }

func withVariant(on []graph.VariantID, v graph.VariantID) []graph.VariantID {
	return lists.Unique(append(slices.Clone(on), v))
}

// join takes up what joins places of the donor, and gives the further places that it joins
// them to.
func (g *grafted) join(ctx context.Context, theirs []graph.PositionID) ([]graph.PositionID, error) {
	joints, err := g.Reader.JointsAt(ctx, theirs...)
	if err != nil {
		return nil, err
	}
	runs, err := g.Reader.RunsAt(ctx, theirs...)
	if err != nil {
		return nil, err
	}
	circuits, err := g.Reader.CircuitsAt(ctx, theirs...)
	if err != nil {
		return nil, err
	}
	stacks, err := g.Reader.StacksAt(ctx, theirs...)
	if err != nil {
		return nil, err
	}
	var further []graph.PositionID
	for _, j := range joints {
		if !slices.Contains(j.On, g.from.ID) {
			continue
		}
		elsewhere, err := g.isElsewhere(ctx, j)
		if err != nil {
			return nil, err
		}
		if !elsewhere {
			further = append(further, g.addJoint(j)...)
		}
	}
	for _, r := range runs {
		if slices.Contains(r.On, g.from.ID) && slices.Contains(theirs, r.Line) {
			further = append(further, g.addRun(r)...)
		}
	}
	for _, c := range circuits {
		if slices.Contains(c.On, g.from.ID) {
			if err := g.addCircuit(ctx, c); err != nil {
				return nil, err
			}
		}
	}
	for _, st := range stacks {
		if slices.Contains(st.On, g.from.ID) {
			if err := g.addStack(ctx, st); err != nil {
				return nil, err
			}
			further = append(further, st.Places()...)
		}
	}
	return lists.Kept(lists.Unique(further), func(id graph.PositionID) bool { return id != "" }), nil
}

// local is the name of something of the donor's on the machine; of another model it says
// whence, since the machine may have one of that name.
func (g *grafted) local(id string) string {
	if g.on.Model == g.from.Model {
		return id
	}
	return string(g.on.Model) + ":" + queries.LocalName(id) + "-as-on-" + string(g.from.Model)
}

// isElsewhere reports whether an end of a joint of the donor is joined to something else on
// the machine, which stays there: clocks that hang on the upper yoke need not hang on the stay
// of a fairing.
func (g *grafted) isElsewhere(ctx context.Context, j graph.Joint) (bool, error) {
	ends := []graph.PositionID{j.A.Position, j.B.Position}
	theirs, err := g.Reader.JointsAt(ctx, ends...)
	if err != nil {
		return false, err
	}
	mine, err := g.Reader.JointsAt(ctx, lists.Mapped(ends, g.here)...)
	if err != nil {
		return false, err
	}
	for _, own := range mine {
		isTheirs := slices.ContainsFunc(theirs, func(k graph.Joint) bool {
			a, b := g.ref(k.A), g.ref(k.B)
			return slices.Contains(k.On, g.from.ID) && (a == own.A && b == own.B || a == own.B && b == own.A)
		})
		if isTheirs || !slices.Contains(own.On, g.on.ID) {
			continue
		}
		for _, pair := range [][2]graph.FeatureRef{{own.A, own.B}, {own.B, own.A}} {
			if pair[0] != g.ref(j.A) && pair[0] != g.ref(j.B) {
				continue
			}
			has, err := g.hasToo(ctx, pair[1].Position)
			if has || err != nil {
				return has, err
			}
		}
	}
	return false, nil
}

// hasToo reports whether the donor has a place of the machine.
func (g *grafted) hasToo(ctx context.Context, id graph.PositionID) (bool, error) {
	read, err := g.Reader.Positions(ctx, id.On(g.from.Model))
	return len(read) > 0 && slices.Contains(read[0].On, g.from.ID), err
}

func (g *grafted) addJoint(j graph.Joint) []graph.PositionID {
	places := j.Places()
	j.ID, j.Model, j.A, j.B = graph.JointID(g.local(string(j.ID))), g.on.Model, g.ref(j.A), g.ref(j.B)
	j.Fasteners, j.Renew = lists.Mapped(j.Fasteners, g.here), lists.Mapped(j.Renew, g.here)
	j.On = withVariant(j.On, g.on.ID)
	g.joints = over(g.joints, []graph.Joint{j}, jointID)
	return places
}

func (g *grafted) addRun(r graph.Run) []graph.PositionID {
	places := r.Places()
	r.ID, r.Model, r.Line, r.From, r.To = graph.RunID(g.local(string(r.ID))), g.on.Model, g.here(r.Line), g.ref(r.From),
		g.ref(r.To)
	r.MovedBy, r.LengthenedBy, r.Hot = g.refs(r.MovedBy), g.refs(r.LengthenedBy), lists.Mapped(r.Hot, g.here)
	r.On = withVariant(r.On, g.on.ID)
	g.runs = over(g.runs, []graph.Run{r}, runID)
	return places
}

// addCircuit has the machine's own circuit take in what the donor's has besides; without
// one it is the donor's.
func (g *grafted) addCircuit(ctx context.Context, c graph.Circuit) error {
	feeds, fed, members := lists.Mapped(c.Feeds, g.here), lists.Mapped(c.Fed, g.here), lists.Mapped(c.Members, g.here)
	mine, err := g.CircuitsAt(ctx, members...)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(mine, func(own graph.Circuit) bool {
		return slices.Contains(own.On, g.on.ID) && (own.Carries == c.Carries)
	})
	if at < 0 {
		c.ID, c.Model, c.Feeds, c.Fed, c.Members = graph.CircuitID(g.local(string(c.ID))), g.on.Model, feeds, fed, members
		c.On = withVariant(c.On, g.on.ID)
		g.circuits = over(g.circuits, []graph.Circuit{c}, circuitID)
		return nil
	}
	own := mine[at]
	own.Feeds, own.Fed = g.withBrought(own.Feeds, feeds), g.withBrought(own.Fed, fed)
	own.Members = g.withBrought(own.Members, members)
	g.circuits = over(g.circuits, []graph.Circuit{own}, circuitID)
	return nil
}

// withBrought are places of the machine, with those of the donor that it alone has.
func (g *grafted) withBrought(own, theirs []graph.PositionID) []graph.PositionID {
	own = slices.Clone(own)
	for _, id := range theirs {
		if _, brought := g.places[id]; brought {
			own = append(own, id)
		}
	}
	return lists.Unique(own)
}

// addStack has the machine's own row, where it lies within the same, take in what the
// donor's has besides, each where the donor has it: what is left out of it is not counted.
// Without one it is the donor's.
func (g *grafted) addStack(ctx context.Context, st graph.Stack) error {
	within, row := g.ref(st.Within), g.refs(st.Row)
	mine, err := g.StacksAt(ctx, within.Position)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(mine, func(own graph.Stack) bool {
		return slices.Contains(own.On, g.on.ID) && own.Within == within && own.Centre == g.ref(st.Centre)
	})
	if at < 0 {
		st.ID, st.Model, st.Within, st.Row = graph.StackID(g.local(string(st.ID))), g.on.Model, within, row
		st.Centre, st.On = g.ref(st.Centre), withVariant(st.On, g.on.ID)
		g.stacks = over(g.stacks, []graph.Stack{st}, stackID)
		return nil
	}
	own := mine[at]
	own.Row = slices.Clone(own.Row)
	from := 0 // where in the own row the next of the donor's goes
	for _, ref := range row {
		if i := slices.Index(own.Row, ref); i >= 0 {
			from = i + 1
			continue
		}
		own.Row = slices.Insert(own.Row, from, ref)
		from++
	}
	g.stacks = over(g.stacks, []graph.Stack{own}, stackID)
	return nil
}

func jointID(j graph.Joint) graph.JointID          { return j.ID }
func runID(r graph.Run) graph.RunID                { return r.ID }
func circuitID(c graph.Circuit) graph.CircuitID    { return c.ID }
func stackID(st graph.Stack) graph.StackID         { return st.ID }
func assemblyID(a graph.Assembly) graph.AssemblyID { return a.ID }
func positionID(p graph.Position) graph.PositionID { return p.ID }

// over is a list, sorted by identity, with others laid over it.
func over[T any, K cmp.Ordered](list, others []T, id func(T) K) []T {
	if len(others) == 0 {
		return list
	}
	is := map[K]bool{}
	for _, one := range others {
		is[id(one)] = true
	}
	all := lists.Kept(slices.Clone(list), func(one T) bool { return !is[id(one)] })
	all = append(all, others...)
	slices.SortFunc(all, func(a, b T) int { return cmp.Compare(id(a), id(b)) })
	return all
}

// at are those of some connections that touch one of some places.
func at[T interface{ Places() []graph.PositionID }](all []T, ids []graph.PositionID) []T {
	return lists.Kept(slices.Clone(all), func(one T) bool {
		return slices.ContainsFunc(one.Places(), func(id graph.PositionID) bool { return slices.Contains(ids, id) })
	})
}

// brought are the places that are of some sort.
func (g *grafted) brought(is func(graph.Position) bool) []graph.Position {
	var found []graph.Position
	for _, id := range lists.KeysOf(g.places) {
		if is(g.places[id]) {
			found = append(found, g.places[id])
		}
	}
	return found
}

// Positions and what follows it are as graph.Reader says, with what the donor brings.
func (g *grafted) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	read, err := g.Reader.Positions(ctx, ids...)
	return over(read, g.brought(func(p graph.Position) bool { return slices.Contains(ids, p.ID) }), positionID), err
}

// Assemblies gives assemblies; one that the machine has not is as the donor's.
func (g *grafted) Assemblies(ctx context.Context, ids ...graph.AssemblyID) ([]graph.Assembly, error) {
	read, err := g.Reader.Assemblies(ctx, ids...)
	return over(lists.Kept(slices.Clone(g.assemblies),
		func(a graph.Assembly) bool { return slices.Contains(ids, a.ID) }), read, assemblyID), err
}

// AssembliesOf gives the assemblies of models.
func (g *grafted) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	read, err := g.Reader.AssembliesOf(ctx, models...)
	return over(lists.Kept(slices.Clone(g.assemblies),
		func(a graph.Assembly) bool { return slices.Contains(models, a.Model) }), read, assemblyID), err
}

// PositionsIn gives the positions of assemblies.
func (g *grafted) PositionsIn(ctx context.Context, ids ...graph.AssemblyID) ([]graph.Position, error) {
	read, err := g.Reader.PositionsIn(ctx, ids...)
	return over(read, g.brought(func(p graph.Position) bool { return slices.Contains(ids, p.Assembly) }), positionID), err
}

// PositionsOf gives the positions of models.
func (g *grafted) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	read, err := g.Reader.PositionsOf(ctx, models...)
	return over(read, g.brought(func(p graph.Position) bool { return slices.Contains(models, p.Model) }), positionID), err
}

// PositionsOfKindOn gives the positions of a model at which parts of some kinds belong.
func (g *grafted) PositionsOfKindOn(ctx context.Context, model graph.ModelID,
	kinds ...graph.KindID) ([]graph.PositionID, error) {
	read, err := g.Reader.PositionsOfKindOn(ctx, model, kinds...)
	for _, p := range g.brought(func(p graph.Position) bool {
		return p.Model == model && slices.Contains(kinds, p.Kind)
	}) {
		read = append(read, p.ID)
	}
	return lists.Unique(read), err
}

// JointsAt gives the joints at positions.
func (g *grafted) JointsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Joint, error) {
	read, err := g.Reader.JointsAt(ctx, ids...)
	return over(read, at(g.joints, ids), jointID), err
}

// JointsOf gives the joints of models.
func (g *grafted) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	read, err := g.Reader.JointsOf(ctx, models...)
	return over(read, lists.Kept(slices.Clone(g.joints),
		func(j graph.Joint) bool { return slices.Contains(models, j.Model) }), jointID), err
}

// RunsAt gives the runs at positions.
func (g *grafted) RunsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Run, error) {
	read, err := g.Reader.RunsAt(ctx, ids...)
	return over(read, at(g.runs, ids), runID), err
}

// RunsOf gives the runs of models.
func (g *grafted) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	read, err := g.Reader.RunsOf(ctx, models...)
	return over(read, lists.Kept(slices.Clone(g.runs),
		func(r graph.Run) bool { return slices.Contains(models, r.Model) }), runID), err
}

// CircuitsAt gives the circuits at positions.
func (g *grafted) CircuitsAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Circuit, error) {
	read, err := g.Reader.CircuitsAt(ctx, ids...)
	return over(read, at(g.circuits, ids), circuitID), err
}

// CircuitsOf gives the circuits of models.
func (g *grafted) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	read, err := g.Reader.CircuitsOf(ctx, models...)
	return over(read, lists.Kept(slices.Clone(g.circuits),
		func(c graph.Circuit) bool { return slices.Contains(models, c.Model) }), circuitID), err
}

// StacksAt gives the rows at positions.
func (g *grafted) StacksAt(ctx context.Context, ids ...graph.PositionID) ([]graph.Stack, error) {
	read, err := g.Reader.StacksAt(ctx, ids...)
	return over(read, at(g.stacks, ids), stackID), err
}

// StacksOf gives the rows of models.
func (g *grafted) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	read, err := g.Reader.StacksOf(ctx, models...)
	return over(read, lists.Kept(slices.Clone(g.stacks),
		func(st graph.Stack) bool { return slices.Contains(models, st.Model) }), stackID), err
}
