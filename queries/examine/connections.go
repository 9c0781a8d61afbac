package examine

import (
	"cmp"
	"context"
	"errors"
	"iter"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Connections is what connects the positions of one machine.
type Connections struct {
	// joints, runs, circuits and stacks are to be judged.
	Joints   []graph.Joint
	runs     []graph.Run
	Circuits []graph.Circuit
	stacks   []graph.Stack
	// Known are all joints that were read, to find from a caliper to its disc
	// or from a sprocket to its chain; those to be judged are among them.
	Known []graph.Joint
	// reaches are the runs of chains, judged or not: how far apart the axles may be.
	reaches []graph.Run
	// rows are stacks that are not to be judged, but decide where a disc runs.
	rows []graph.Stack
	// discs is where discs run in their calipers, found on the machine as built.
	discs []discLine
	// painted are the positions whose finish must be of one scheme.
	painted []graph.PositionID
	// landmarks are where the machine's geometry is decided, and spots the places of
	// other features that are judged together wherever they sit; both are only read
	// where something of them may change.
	landmarks *machine.Landmarks
	spots     machine.Places
	// speedometer are the clocks and what drives them; none where no part of it may change.
	speedometer []graph.PositionID
	held        held
	// risers are the places of the risers under what sits at a place: a bar.
	risers map[graph.PositionID][]graph.PositionID
	placed *placed            // the joints known by place; nil before it is asked for
	kinds  [][2]string        // of both sides of each joint known, as built; none before all was read
	ofKind map[string][]int   // the joints known by the kinds of their sides as built, as indices
	whole  bool               // the whole machine was read
	all    []graph.PositionID // its places, when it was
}

// ConnectionsAt reads what touches the positions: their joints, runs,
// circuits and stacks, and the joints that depend on them at one remove. What
// sits at every position involved is loaded into the setups.
func ConnectionsAt(ctx context.Context, s *machine.Setup, positions []graph.PositionID) (*Connections, error) {
	return connectionsAt(ctx, s, positions, true)
}

// ConnectionsUnclassed is ConnectionsAt for who does not ask for the safety classes of
// outcomes: what hangs on the places is not followed to the frame.
func ConnectionsUnclassed(ctx context.Context, s *machine.Setup, positions []graph.PositionID) (*Connections, error) {
	return connectionsAt(ctx, s, positions, false)
}

func connectionsAt(ctx context.Context, s *machine.Setup, positions []graph.PositionID,
	classed bool) (*Connections, error) {
	l, on := s.Library(), s.Variant.ID
	a := &Connections{}
	var err error
	if a.Joints, err = l.JointsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.runs, err = l.RunsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.Circuits, err = l.CircuitsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.stacks, err = l.StacksTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if err := a.addRisers(ctx, s, positions); err != nil {
		return nil, err
	}
	a.Known = slices.Clone(a.Joints)
	if err := s.Load(ctx, slices.Concat(a.Positions(), positions,
		lists.Mapped(positions, machine.OtherSide))...); err != nil {
		return nil, err
	}
	if err := a.widen(ctx, s, positions); err != nil {
		return nil, err
	}
	if err := a.addReaches(ctx, s); err != nil {
		return nil, err
	}
	if err := errors.Join(a.findSpots(ctx, s, positions), findSpeedometer(ctx, a, s, positions)); err != nil {
		return nil, err
	}
	if classed {
		if err := a.findHeld(ctx, s); err != nil {
			return nil, err
		}
	}
	findDiscs(a, s)
	a.AddNewCircuit(s, positions)
	noteKinds(a, s)
	if err := l.Evidence().Load(ctx, l.Reader(), a.cites()); err != nil {
		return nil, err
	}
	return a, addPainted(ctx, a, s, positions)
}

// addReaches reads the runs of the chains that were met: with another engine or
// carrier the chain is judged as well.
func (a *Connections) addReaches(ctx context.Context, s *machine.Setup) (err error) {
	var chains []graph.PositionID
	for _, j := range a.Known {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if machine.RunsRound(s.KindOf(ref)) {
				chains = append(chains, ref.Position)
			}
		}
	}
	if len(chains) > 0 {
		a.reaches, err = s.Library().RunsTouching(ctx, s.Variant.ID, lists.Unique(chains))
	}
	return err
}

// WholeMachine reads everything that connects positions of the variant.
func WholeMachine(ctx context.Context, s *machine.Setup) (*Connections, error) {
	r, on, model := s.Library().Reader(), s.Variant.ID, s.Variant.Model
	a := &Connections{whole: true}
	joints, err := r.JointsOf(ctx, model)
	if err != nil {
		return nil, err
	}
	runs, err := r.RunsOf(ctx, model)
	if err != nil {
		return nil, err
	}
	circuits, err := r.CircuitsOf(ctx, model)
	if err != nil {
		return nil, err
	}
	stacks, err := r.StacksOf(ctx, model)
	if err != nil {
		return nil, err
	}
	positions, err := r.PositionsOf(ctx, model)
	if err != nil {
		return nil, err
	}
	a.Joints = lists.Kept(joints, func(j graph.Joint) bool { return slices.Contains(j.On, on) })
	a.runs = lists.Kept(runs, func(run graph.Run) bool { return slices.Contains(run.On, on) })
	a.Circuits = lists.Kept(circuits, func(c graph.Circuit) bool { return slices.Contains(c.On, on) })
	a.stacks = lists.Kept(stacks, func(st graph.Stack) bool { return slices.Contains(st.On, on) })
	a.Known, a.reaches = a.Joints, a.runs
	if err := a.addRisers(ctx, s, nil); err != nil {
		return nil, err
	}
	positions = lists.Kept(positions, func(p graph.Position) bool { return slices.Contains(p.On, on) })
	ids := lists.Mapped(positions, func(p graph.Position) graph.PositionID { return p.ID })
	if err := s.Load(ctx, append(a.Positions(), ids...)...); err != nil {
		return nil, err
	}
	a.painted = lists.Kept(ids, func(id graph.PositionID) bool { return s.IsPainted(id) })
	if err := s.Library().Evidence().Load(ctx, r, a.cites()); err != nil {
		return nil, err
	}
	if err := s.Library().ReadKinds(ctx, a.undescribed(s)); err != nil {
		return nil, err
	}
	findDiscs(a, s)
	noteKinds(a, s)
	a.all = ids
	return a, errors.Join(a.findSpots(ctx, s, ids), findSpeedometer(ctx, a, s, ids))
}

// cites are the sources of what joints and runs measure themselves.
func (a *Connections) cites() []graph.Cite {
	var cites []graph.Cite
	add := func(readings []graph.Reading) {
		for _, r := range readings {
			cites = append(cites, r.Cite)
		}
	}
	for _, j := range a.Known {
		add(j.Torque)
	}
	for _, run := range slices.Concat(a.runs, a.reaches) {
		for _, need := range run.Needs {
			add(need.Length)
		}
		add(run.Inner)
		add(run.Spare)
		add(run.Gap)
		add(run.LeastGap)
	}
	return cites
}

// Positions are all positions that take part in what was read.
func (a *Connections) Positions() []graph.PositionID {
	var all []graph.PositionID
	for _, j := range a.Known {
		all = append(all, j.Places()...)
	}
	for _, run := range slices.Concat(a.runs, a.reaches) {
		all = append(all, run.Places()...)
	}
	for _, c := range a.Circuits {
		all = append(all, c.Places()...)
	}
	for _, st := range append(slices.Clone(a.stacks), a.rows...) {
		all = append(all, st.Places()...)
	}
	return lists.Kept(lists.Unique(all), func(id graph.PositionID) bool { return id != "" })
}

// maxRemoves is how far the joints are followed from the changed positions:
// from a sprocket carrier over sprocket and chain to the other sprocket.
const maxRemoves = 4

// widen reads the joints that a judgement needs besides those of the changed
// positions: where the disc of a caliper is and where it runs, what the other
// end of a chain runs on. A caliper whose disc changed is judged anew on its leg.
func (a *Connections) widen(ctx context.Context, s *machine.Setup, from []graph.PositionID) error {
	read := map[graph.PositionID]bool{}
	for _, id := range from {
		read[id] = true
	}
	for range maxRemoves {
		further := a.further(s, read)
		if len(further) == 0 {
			break
		}
		joints, err := s.Library().JointsTouching(ctx, s.Variant.ID, further)
		if err != nil {
			return err
		}
		for _, id := range further {
			read[id] = true
		}
		for _, j := range joints {
			if !slices.ContainsFunc(a.Known, func(k graph.Joint) bool { return k.ID == j.ID }) {
				a.Known = append(a.Known, j)
			}
		}
		a.placed = nil
		if err := s.Load(ctx, a.Positions()...); err != nil {
			return err
		}
	}
	slices.SortFunc(a.Known, func(x, y graph.Joint) int { return cmp.Compare(x.ID, y.ID) })
	a.placed = nil
	a.addMounts(s, from)
	addBolts(a, s, from)
	if err := addRows(ctx, a, s); err != nil {
		return err
	}
	return s.Library().ReadKinds(ctx, a.undescribed(s))
}

// further are the positions whose own joints are needed too.
func (a *Connections) further(s *machine.Setup, read map[graph.PositionID]bool) []graph.PositionID {
	var next []graph.PositionID
	for _, j := range a.Joints {
		next = append(next, j.Fasteners...) // for the threads they go into, and their torque
	}
	for _, run := range a.runs {
		next = append(next, run.Line) // for what its ends must suit
	}
	for _, st := range a.stacks {
		next = append(next, st.Centre.Position) // for the discs that run with it
		for _, ref := range st.Row {
			if IsSpacer(s.Seat(ref.Position)) || carriesBrake(s, ref.Position) || s.HasAt(ref.Position, "bolt-pattern") {
				next = append(next, ref.Position) // for the seal that runs on it; for what holds it besides the axle
			}
		}
	}
	for _, j := range a.Known {
		kindA, kindB := s.KindOf(j.A), s.KindOf(j.B)
		for _, end := range []struct {
			at           graph.PositionID
			own, another string
		}{{j.A.Position, kindA, kindB}, {j.B.Position, kindB, kindA}} {
			part := s.Seat(end.at).Part
			switch {
			case end.own == "bearing", // for what its other ring meets
				end.own == "caliper-mount" && machine.HasKind(part, "caliper-slot"),
				end.own == "caliper-slot", end.own == "disc-rim", end.own == "nipple",
				end.own == "bolt-pattern" && machine.HasKind(part, "disc-rim"),
				end.own == "bearing-seat" && machine.HasKind(part, "hub-row"),                              // for the other bearing
				end.own == "shaft" && end.another == "bearing" && a.isInHub(s, j.A.Position, j.B.Position), // for the tube
				// for the bearings beside the tube
				end.own == "shaft" && machine.HasKind(s.Seat(otherEnd(j, end.at)).Part, "row-width"),
				end.own == "eye" && end.another == "clevis" && carriesBrake(s, otherEnd(j, end.at)),
				end.own == "clevis" && end.another == "eye" && carriesBrake(s, otherEnd(j, end.at)), // a stay's far end
				end.own == "bar-end", end.own == "link-rod",
				end.own == "tyre" && end.another == "rim", // for the tube in it
				machine.RunsRound(end.own) || machine.RunsRound(end.another),
				// for the disc between the pads, which on a bike may be scrap
				s.Bike != nil && machine.HasKind(part, "pad-seat") && (end.own == "pad-seat" || end.own == "shaft"),
				machine.HasKind(part, "spokes"), // for the other end of them
				isDriven(part) && s.AtPlane(j):
				next = append(next, end.at)
			}
		}
	}
	return lists.Kept(lists.Unique(next), func(id graph.PositionID) bool { return !read[id] })
}

// isInHub reports whether one of the places is a bearing's that sits in a hub.
func (a *Connections) isInHub(s *machine.Setup, ids ...graph.PositionID) bool {
	return slices.ContainsFunc(ids, func(id graph.PositionID) bool {
		_, _, ok := a.meets(id, func(own, other graph.FeatureRef) bool {
			return s.KindOf(own) == "bearing" && machine.HasKind(s.Seat(other.Position).Part, "hub-row")
		})
		return ok
	})
}

// otherEnd is the place at the other end of a joint.
func otherEnd(j graph.Joint, id graph.PositionID) graph.PositionID {
	if j.A.Position == id {
		return j.B.Position
	}
	return j.A.Position
}

// spotGroups are the kinds of feature that are judged together wherever on the
// machine they sit: those by which a part takes part, and all that it is then
// judged with.
func spotGroups() []struct{ by, with []string } {
	return []struct{ by, with []string }{
		{[]string{"steering-stop", "swing", "swing-room"}, []string{"steering-stop", "swing", "swing-room"}},
		{[]string{"stand", "stand-pivot", "tyre", "fork-length", "link-ratio"}, []string{"stand", "stand-pivot"}},
		{[]string{"clutch-hub", "friction-plate", "steel-plate", "spring"},
			[]string{"clutch-hub", "friction-plate", "steel-plate", "spring"}},
		{[]string{"signal-out", "signal-in", "tyre", "sprocket", "pulley"}, []string{"signal-out", "signal-in"}},
		{[]string{"tyre", "tyre-need"}, []string{"tyre-need"}},
		{[]string{"tyre", "guard-room"}, []string{"guard-room"}},
		{[]string{"battery"}, append(voltageKinds(), "battery")},
		{voltageKinds(), []string{"battery"}},
	}
}

// findSpots reads the landmarks and the spots that what sits at some places takes
// part in.
func (a *Connections) findSpots(ctx context.Context, s *machine.Setup, at []graph.PositionID) error {
	built := s.AsBuilt()
	has := func(is func(graph.Part) bool) bool {
		return slices.ContainsFunc(at,
			func(id graph.PositionID) bool { return is(s.Seat(id).Part) || is(built.Seat(id).Part) })
	}
	a.spots = machine.Places{}
	var kinds []string
	for _, group := range spotGroups() {
		if has(func(p graph.Part) bool {
			return slices.ContainsFunc(group.by, func(kind string) bool { return machine.HasKind(p, kind) })
		}) {
			kinds = append(kinds, group.with...)
		}
	}
	var err error
	if len(kinds) > 0 {
		if a.spots, err = s.PlacesWith(ctx, lists.Unique(kinds)...); err != nil {
			return err
		}
	}
	if len(a.spots["battery"]) == 0 && slices.ContainsFunc(voltageKinds(), func(kind string) bool {
		return has(func(p graph.Part) bool { return machine.HasKind(p, kind) })
	}) { // what else tells the voltage of the machine
		others, err := s.PlacesWith(ctx, voltageKinds()...)
		if err != nil {
			return err
		}
		for kind, ids := range others {
			a.spots[kind] = ids
		}
	}
	takes := []string{"stand", "stand-pivot", "signal-out", "signal-in", "guard-room"}
	if !has(func(p graph.Part) bool {
		return machine.HasLandmark(p) || isDriven(p) ||
			slices.ContainsFunc(takes, func(kind string) bool { return machine.HasKind(p, kind) })
	}) {
		return nil
	}
	a.landmarks, err = s.FindLandmarks(ctx)
	return err
}

// addMounts judges the caliper on its leg again where the disc changed.
func (a *Connections) addMounts(s *machine.Setup, from []graph.PositionID) {
	for _, j := range a.Known {
		if s.KindOf(j.A) != "caliper-mount" && s.KindOf(j.B) != "caliper-mount" {
			continue
		}
		if isToJudge(a, j) {
			continue
		}
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			if disc, ok := discOf(a, s, end); ok && slices.Contains(from, disc.Position) {
				a.Joints = append(a.Joints, j)
				break
			}
		}
	}
	slices.SortFunc(a.Joints, func(x, y graph.Joint) int { return cmp.Compare(x.ID, y.ID) })
}

// undescribed are the kinds of parts and positions that lack a feature which a
// joint, run or stack names: the kind says what sort of feature was expected.
func (a *Connections) undescribed(s *machine.Setup) []graph.KindID {
	var refs []graph.FeatureRef
	for _, j := range a.Joints {
		refs = append(refs, j.A, j.B)
	}
	for _, run := range a.runs {
		refs = slices.Concat(refs, run.MovedBy, run.LengthenedBy)
	}
	for _, st := range append(slices.Clone(a.stacks), a.rows...) {
		refs = append(append(refs, st.Within), st.Row...)
	}
	kinds := sealKinds(a, s)
	direct := len(refs) // what meets in a joint may meet directly, by its kind
	for _, j := range a.Joints {
		refs = append(refs, j.A, j.B)
	}
	for i, ref := range refs {
		seat := s.Seat(ref.Position)
		if _, ok := seat.Part.Feature(ref.Feature); (!ok || i >= direct) && !seat.Empty {
			kinds = append(kinds, seat.Part.Kind, seat.Position.Kind)
		}
	}
	return kinds
}

// List is everything that connects the positions that were read, on a machine on
// which those of at may change: joints, runs, rows, discs, circuits, chains, pairs,
// paint, in this order. This is the one place that says what there is to judge.
func (c *Connections) List(s *machine.Setup, at []graph.PositionID) []Connection {
	return c.list(s, at, "")
}

// list is List; with a place, what that takes no part in may be left out.
func (c *Connections) list(s *machine.Setup, at []graph.PositionID, only graph.PositionID) []Connection {
	x := examiner(c, From(s), s)
	x.only = only
	all := make([]Connection, 0, len(c.Joints)+len(c.runs)+len(c.stacks)+len(c.discs)+len(c.Circuits)+len(at))
	takes := x.asksFor
	for _, j := range c.Joints {
		all = append(all, jointConnection(x, j))
	}
	for _, run := range c.runs {
		if takes(run.Places()) && !isReach(x, run) {
			all = append(all, runConnection(x, run))
		}
	}
	for _, st := range c.stacks {
		if takes(st.Places()) || x.joins(only, st.Places()) {
			all = append(all, stackConnection(x, st))
		}
	}
	for _, d := range c.discs {
		if takes(d.places()) {
			all = append(all, discConnection(x, d))
		}
	}
	for _, circuit := range c.Circuits {
		if circuit.Carries != CarriesCurrent && takes(circuit.Members) {
			all = append(all, circuitConnection(x, circuit))
		}
	}
	for _, d := range drives(x, s) {
		if takes(d.positions()) {
			all = append(all, chainConnection(x, d))
		}
	}
	all = append(all, pairConnections(x, at)...)
	if len(c.painted) > 0 && takes(c.painted) {
		all = append(all, finishConnection(x))
	}
	all = append(all, heatConnections(x)...)
	all = append(all, roadConnections(x, at)...)
	all = append(all, speedometerConnections(x)...)
	all = append(all, wearConnections(x, at)...)
	all = append(all, scrapDiscs(x, at)...)
	for _, a := range aspects(x, at) {
		if only == "" || slices.ContainsFunc(a.meets, func(m featureAt) bool { return m.at == only }) {
			all = append(all, aspectConnection(x, a))
		}
	}
	return all
}

// Met are the places that features of what sits at a position meet: the other ends
// of its joints, and for a line what moves its ends. Sorted.
func (c *Connections) Met(at graph.PositionID, features []string) []graph.PositionID {
	var places []graph.PositionID
	for j := range c.JointsAt(at) {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position == at && slices.Contains(features, ends[0].Feature) {
				places = append(places, ends[1].Position)
			}
		}
	}
	for _, r := range c.runs {
		if r.Line != at {
			continue
		}
		for _, ref := range slices.Concat(r.MovedBy, r.LengthenedBy) {
			places = append(places, ref.Position)
		}
	}
	return lists.Unique(places)
}

// Examiner judges what was read on a machine after a change.
func (c *Connections) Examiner(before *Before, after *machine.Setup) *Examiner {
	return examiner(c, before, after)
}

// DiscAt is the disc that the caliper of a joint straddles; the zero Side where
// the joint holds none, or its disc was not read.
func (c *Connections) DiscAt(s *machine.Setup, j graph.Joint) mating.Side {
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := discOf(c, s, ref.Position); ok && s.KindOf(ref) == "caliper-mount" {
			return s.Side(disc)
		}
	}
	return mating.Side{}
}

// AddNewCircuit joins parts that work by a fluid and sit where no circuit was,
// such as a hydraulic clutch in the place of a cable: together they are a
// circuit of their own.
func (a *Connections) AddNewCircuit(s *machine.Setup, changed []graph.PositionID) {
	c := graph.Circuit{ID: graph.CircuitID(string(s.Variant.Model) + ":" + NewCircuit), Model: s.Variant.Model,
		Carries: "fluid",
		On:      []graph.VariantID{s.Variant.ID}}
	for _, id := range changed {
		if slices.ContainsFunc(a.Circuits, func(c graph.Circuit) bool { return slices.Contains(c.Places(), id) }) {
			continue
		}
		part := s.Seat(id).Part
		if machine.HasKind(part, "master-bore") {
			c.Feeds = append(c.Feeds, id)
		}
		if machine.HasKind(part, "pistons") {
			c.Fed = append(c.Fed, id)
		}
		if machine.HasKind(part, "fluid") || machine.HasKind(part, "master-bore") || machine.HasKind(part, "pistons") {
			c.Members = append(c.Members, id)
		}
	}
	if len(c.Feeds) > 0 && len(c.Fed) > 0 {
		a.Circuits = append(a.Circuits, c)
	}
}

// Near sorts the joints that were read by place.
func (c *Connections) Near(before *Before) Near {
	n := Near{Connections: c, at: map[graph.PositionID][]graph.Joint{}, bolts: map[graph.PositionID][]graph.PositionID{}}
	for _, j := range c.Joints {
		for _, id := range j.Places() {
			n.at[id] = append(n.at[id], j)
		}
		if s := before.setup; s.KindOf(j.A) == "caliper-mount" || s.KindOf(j.B) == "caliper-mount" {
			n.over = append(n.over, j)
		}
	}
	for _, j := range c.Known {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			n.bolts[ref.Position] = append(n.bolts[ref.Position], j.Fasteners...)
		}
	}
	return n
}

// PlugsIn reports whether a part goes between the plug of a line and what that
// plugs into.
func (c *Connections) PlugsIn(s *machine.Setup, line graph.PositionID, part graph.Part) bool {
	for j := range c.JointsAt(line) {
		own, other, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own.Position == line && s.KindOf(own) == "connector" && s.KindOf(other) == "connector"
		})
		if ok && Joins(part, s.Side(own), s.Side(other)) {
			return true
		}
	}
	return false
}

// findHeld reads what hangs on the places of joints to be judged that have no class and
// meet something that has one: from each as far as it takes to come to the frame or
// engine.
func (a *Connections) findHeld(ctx context.Context, s *machine.Setup) error {
	classless := a.classless(s)
	if len(classless) == 0 {
		return nil
	}
	w := newHolding(s)
	around, err := w.reach(ctx, classless)
	if err != nil || !slices.ContainsFunc(around, func(j graph.Joint) bool { return meetsClass(s, j) }) {
		return err
	}
	a.held = held{on: map[graph.PositionID][]graph.PositionID{}, far: map[graph.PositionID]int{}}
	for _, id := range classless {
		if a.held.on[id], err = w.on(ctx, id); err != nil {
			return err
		}
	}
	for _, id := range endsOfAll(around) {
		far, known, err := w.far(ctx, id)
		if err != nil {
			return err
		}
		if known {
			a.held.far[id] = far
		}
	}
	return nil
}

// classless are the ends without a class of joints to be judged that are neither what
// the whole machine hangs on nor bolts.
func (a *Connections) classless(s *machine.Setup) []graph.PositionID {
	var ids []graph.PositionID
	for _, j := range a.Joints {
		for _, id := range []graph.PositionID{j.A.Position, j.B.Position} {
			if isLight(s.SafetyAt(id)) && !isRoot(s, id) && !s.IsHardwareAt(id) {
				ids = append(ids, id)
			}
		}
	}
	return lists.Unique(ids)
}

// byPlace sorts the joints known by place, once they are all read.
func (c *Connections) byPlace() *placed {
	if c.placed == nil {
		p := &placed{ends: map[graph.PositionID][]int{}, bolts: map[graph.PositionID][]int{}}
		note := func(at map[graph.PositionID][]int, id graph.PositionID, i int) {
			if had := at[id]; len(had) == 0 || had[len(had)-1] != i {
				at[id] = append(had, i)
			}
		}
		for i := range c.Known {
			j := &c.Known[i]
			note(p.ends, j.A.Position, i)
			note(p.ends, j.B.Position, i)
			for _, id := range j.Fasteners {
				note(p.bolts, id, i)
			}
		}
		c.placed = p
	}
	return c.placed
}

// JointsAt are the joints known that have an end at one of some places, in their order.
func (c *Connections) JointsAt(ids ...graph.PositionID) iter.Seq[*graph.Joint] {
	return c.jointsIn(c.byPlace().ends, ids)
}

// jointsHeldBy are those that are held by what sits at one of some places, in their order.
func (c *Connections) jointsHeldBy(ids ...graph.PositionID) iter.Seq[*graph.Joint] {
	return c.jointsIn(c.byPlace().bolts, ids)
}

func (c *Connections) jointsIn(at map[graph.PositionID][]int, ids []graph.PositionID) iter.Seq[*graph.Joint] {
	var found []int
	for i, id := range ids {
		if i == 0 {
			found = at[id]
		} else if more := at[id]; len(more) > 0 {
			found = slices.Concat(found, more)
		}
	}
	if len(ids) > 1 && !slices.IsSorted(found) {
		slices.Sort(found)
	}
	return func(yield func(*graph.Joint) bool) {
		for n, i := range found {
			if (n == 0 || found[n-1] != i) && !yield(&c.Known[i]) {
				return
			}
		}
	}
}

// joins reports whether a place is joined to one of others.
func (c *Connections) joins(at graph.PositionID, others []graph.PositionID) bool {
	for j := range c.JointsAt(at) {
		if slices.Contains(others, j.A.Position) || slices.Contains(others, j.B.Position) {
			return true
		}
	}
	return false
}

// meets is the first joint of a place, either way round, whose ends are what is looked
// for: own is the one at that place.
func (c *Connections) meets(at graph.PositionID, is func(own, other graph.FeatureRef) bool) (
	own, other graph.FeatureRef, ok bool) {
	for j := range c.JointsAt(at) {
		if own, other, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own.Position == at && is(own, other)
		}); ok {
			return own, other, true
		}
	}
	return graph.FeatureRef{}, graph.FeatureRef{}, false
}

// withKind are the indices of the joints known that have a side of a kind as built, and
// of all at whose ends another part sits on one state of the machine; sorted. Before the
// kinds are noted it is all of them.
func (c *Connections) withKind(s *machine.Setup, kind string) []int {
	if len(c.kinds) != len(c.Known) {
		all := make([]int, len(c.Known))
		for i := range all {
			all[i] = i
		}
		return all
	}
	found := slices.Clone(c.ofKind[kind])
	for id := range s.Altered() {
		found = append(found, c.byPlace().ends[id]...)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// risersOf are the places of the risers under the bar that carries an end of a run, sorted.
func (c *Connections) risersOf(run graph.Run) []graph.PositionID {
	var ids []graph.PositionID
	for _, ref := range run.MovedBy {
		ids = append(ids, c.risers[ref.Position]...)
	}
	return lists.Unique(ids)
}

// addRisers reads which risers carry which bar, and what ends on a bar whose riser is among
// some places: it goes where the bar goes.
func (a *Connections) addRisers(ctx context.Context, s *machine.Setup, positions []graph.PositionID) error {
	l, on := s.Library(), s.Variant.ID
	found, err := s.PlacesWith(ctx, "riser-set")
	if risers := found["riser-set"]; err != nil || len(risers) == 0 {
		return err
	}
	joints, err := l.JointsTouching(ctx, on, found["riser-set"])
	if err != nil {
		return err
	}
	a.risers = map[graph.PositionID][]graph.PositionID{}
	var moved []graph.PositionID
	for _, j := range joints {
		riser, bar, ok := endsOf(&j, func(own, _ graph.FeatureRef) bool {
			return slices.Contains(found["riser-set"], own.Position) && s.KindOf(own) == "clamp"
		})
		if !ok {
			continue
		}
		a.risers[bar.Position] = lists.Unique(append(a.risers[bar.Position], riser.Position))
		if slices.Contains(positions, riser.Position) {
			moved = append(moved, bar.Position)
		}
	}
	runs, err := l.RunsTouching(ctx, on, lists.Unique(moved))
	if err != nil {
		return err
	}
	for _, run := range runs {
		isOn := slices.ContainsFunc(run.MovedBy, func(ref graph.FeatureRef) bool {
			return slices.Contains(moved, ref.Position)
		})
		if isOn && !slices.ContainsFunc(a.runs, func(had graph.Run) bool { return had.ID == run.ID }) {
			a.runs = append(a.runs, run)
		}
	}
	return nil
}
