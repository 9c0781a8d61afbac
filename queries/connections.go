package queries

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
)

// connections is what connects the positions of one machine.
type connections struct {
	// joints, runs, circuits and stacks are to be judged.
	joints   []graph.Joint
	runs     []graph.Run
	circuits []graph.Circuit
	stacks   []graph.Stack
	// known are all joints that were read, to find from a caliper to its disc
	// or from a sprocket to its chain; those to be judged are among them.
	known []graph.Joint
	// rows are stacks that are not to be judged, but decide where a disc runs.
	rows []graph.Stack
	// discs is where discs run in their calipers, found on the machine as built.
	discs []discLine
	// painted are the positions whose finish must be of one scheme.
	painted []graph.PositionID
	whole   bool // the whole machine was read
}

// connectionsAt reads what touches the positions: their joints, runs,
// circuits and stacks, and the joints that depend on them at one remove. What
// sits at every position involved is loaded into the setups.
func connectionsAt(ctx context.Context, s *Setup, positions []graph.PositionID) (*connections, error) {
	l, on := s.Library(), s.Variant.ID
	a := &connections{}
	var err error
	if a.joints, err = l.jointsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.runs, err = l.runsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.circuits, err = l.circuitsTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	if a.stacks, err = l.stacksTouching(ctx, on, positions); err != nil {
		return nil, err
	}
	a.known = slices.Clone(a.joints)
	if err := s.Load(ctx, slices.Concat(a.positions(), positions, mapped(positions, twinOf))...); err != nil {
		return nil, err
	}
	if err := a.widen(ctx, s, positions); err != nil {
		return nil, err
	}
	a.findDiscs(s)
	a.addNewCircuit(s, positions)
	if err := l.evidence().load(ctx, l.reader(), a.cites()); err != nil {
		return nil, err
	}
	return a, a.addPainted(ctx, s, positions)
}

// wholeMachine reads everything that connects positions of the variant.
func wholeMachine(ctx context.Context, s *Setup) (*connections, error) {
	r, on, model := s.Library().reader(), s.Variant.ID, s.Variant.Model
	a := &connections{whole: true}
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
	a.joints = kept(joints, func(j graph.Joint) bool { return slices.Contains(j.On, on) })
	a.runs = kept(runs, func(run graph.Run) bool { return slices.Contains(run.On, on) })
	a.circuits = kept(circuits, func(c graph.Circuit) bool { return slices.Contains(c.On, on) })
	a.stacks = kept(stacks, func(st graph.Stack) bool { return slices.Contains(st.On, on) })
	a.known = a.joints
	positions = kept(positions, func(p graph.Position) bool { return slices.Contains(p.On, on) })
	ids := mapped(positions, func(p graph.Position) graph.PositionID { return p.ID })
	if err := s.Load(ctx, append(a.positions(), ids...)...); err != nil {
		return nil, err
	}
	a.painted = kept(ids, func(id graph.PositionID) bool { return s.isPainted(id) })
	if err := s.Library().evidence().load(ctx, r, a.cites()); err != nil {
		return nil, err
	}
	err = s.Library().readKinds(ctx, a.undescribed(s))
	a.findDiscs(s)
	return a, err
}

// cites are the sources of what joints and runs measure themselves.
func (a *connections) cites() []graph.Cite {
	var cites []graph.Cite
	add := func(readings []graph.Reading) {
		for _, r := range readings {
			cites = append(cites, r.Cite)
		}
	}
	for _, j := range a.known {
		add(j.Torque)
	}
	for _, run := range a.runs {
		for _, need := range run.Needs {
			add(need.Length)
		}
		add(run.Inner)
		add(run.Spare)
	}
	return cites
}

// positions are all positions that take part in what was read.
func (a *connections) positions() []graph.PositionID {
	var all []graph.PositionID
	for _, j := range a.known {
		all = append(all, jointPlaces(j)...)
	}
	for _, run := range a.runs {
		all = append(all, runPlaces(run)...)
	}
	for _, c := range a.circuits {
		all = append(all, circuitPlaces(c)...)
	}
	for _, st := range append(slices.Clone(a.stacks), a.rows...) {
		all = append(all, stackPlaces(st)...)
	}
	return kept(unique(all), func(id graph.PositionID) bool { return id != "" })
}

// maxRemoves is how far the joints are followed from the changed positions:
// from a sprocket carrier over sprocket and chain to the other sprocket.
const maxRemoves = 4

// widen reads the joints that a judgement needs besides those of the changed
// positions: where the disc of a caliper is and where it runs, what the other
// end of a chain runs on. A caliper whose disc changed is judged anew on its leg.
func (a *connections) widen(ctx context.Context, s *Setup, from []graph.PositionID) error {
	read := map[graph.PositionID]bool{}
	for _, id := range from {
		read[id] = true
	}
	for range maxRemoves {
		further := a.further(s, read)
		if len(further) == 0 {
			break
		}
		joints, err := s.Library().jointsTouching(ctx, s.Variant.ID, further)
		if err != nil {
			return err
		}
		for _, id := range further {
			read[id] = true
		}
		for _, j := range joints {
			if !slices.ContainsFunc(a.known, func(k graph.Joint) bool { return k.ID == j.ID }) {
				a.known = append(a.known, j)
			}
		}
		if err := s.Load(ctx, a.positions()...); err != nil {
			return err
		}
	}
	slices.SortFunc(a.known, func(x, y graph.Joint) int { return cmp.Compare(x.ID, y.ID) })
	a.addMounts(s, from)
	if err := a.addRows(ctx, s); err != nil {
		return err
	}
	return s.Library().readKinds(ctx, a.undescribed(s))
}

// further are the positions whose own joints are needed too.
func (a *connections) further(s *Setup, read map[graph.PositionID]bool) []graph.PositionID {
	var next []graph.PositionID
	for _, j := range a.joints {
		next = append(next, j.Fasteners...) // for the threads they go into, and their torque
	}
	for _, run := range a.runs {
		next = append(next, run.Line) // for what its ends must suit
	}
	for _, st := range a.stacks {
		next = append(next, st.Centre.Position) // for the discs that run with it
		for _, ref := range st.Row {
			if isSpacer(s.Seat(ref.Position)) {
				next = append(next, ref.Position) // for the seal that runs on it
			}
		}
	}
	for _, j := range a.known {
		kindA, kindB := s.kindOf(j.A), s.kindOf(j.B)
		for _, end := range []struct {
			at           graph.PositionID
			own, another string
		}{{j.A.Position, kindA, kindB}, {j.B.Position, kindB, kindA}} {
			part := s.Seat(end.at).Part
			switch {
			case end.own == "caliper-mount" && hasKind(part, "caliper-slot"),
				end.own == "caliper-slot", end.own == "disc-rim", end.own == "nipple",
				end.own == "bolt-pattern" && hasKind(part, "disc-rim"),
				end.own == "chain" || end.another == "chain",
				hasKind(part, "sprocket") && s.atPlane(j):
				next = append(next, end.at)
			}
		}
	}
	return kept(unique(next), func(id graph.PositionID) bool { return !read[id] })
}

// atPlane reports whether a joint holds a sprocket on the face it mounts on.
func (s *Setup) atPlane(j graph.Joint) bool {
	return hasKind(s.Seat(j.A.Position).Part, "sprocket-plane") || hasKind(s.Seat(j.B.Position).Part, "sprocket-plane")
}

// addMounts judges the caliper on its leg again where the disc changed.
func (a *connections) addMounts(s *Setup, from []graph.PositionID) {
	for _, j := range a.known {
		if s.kindOf(j.A) != "caliper-mount" && s.kindOf(j.B) != "caliper-mount" {
			continue
		}
		if slices.ContainsFunc(a.joints, func(k graph.Joint) bool { return k.ID == j.ID }) {
			continue
		}
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			if disc, ok := a.discOf(s, end); ok && slices.Contains(from, disc.Position) {
				a.joints = append(a.joints, j)
				break
			}
		}
	}
	slices.SortFunc(a.joints, func(x, y graph.Joint) int { return cmp.Compare(x.ID, y.ID) })
}

// undescribed are the kinds of parts and positions that lack a feature which a
// joint, run or stack names: the kind says what sort of feature was expected.
func (a *connections) undescribed(s *Setup) []graph.KindID {
	var refs []graph.FeatureRef
	for _, j := range a.joints {
		refs = append(refs, j.A, j.B)
	}
	for _, run := range a.runs {
		refs = slices.Concat(refs, run.MovedBy, run.LengthenedBy)
	}
	for _, st := range append(slices.Clone(a.stacks), a.rows...) {
		refs = append(append(refs, st.Within), st.Row...)
	}
	kinds := a.sealKinds(s)
	for _, ref := range refs {
		seat := s.Seat(ref.Position)
		if _, ok := seat.Part.Feature(ref.Feature); !ok && !seat.Empty {
			kinds = append(kinds, seat.Part.Kind, seat.Position.Kind)
		}
	}
	return kinds
}

// hasKind reports whether a part has a feature of a kind.
func hasKind(p graph.Part, kind string) bool {
	return slices.ContainsFunc(p.Features, func(f graph.Feature) bool { return f.Kind == kind })
}

// ofKind is the first feature of a kind, by name.
func ofKind(p graph.Part, kind string) (graph.Feature, bool) {
	at := slices.IndexFunc(p.Features, func(f graph.Feature) bool { return f.Kind == kind })
	if at < 0 {
		return graph.Feature{}, false
	}
	return p.Features[at], true
}

// kindOf is the kind of the feature at a place, empty when the part there has
// none of that name.
func (s *Setup) kindOf(ref graph.FeatureRef) string {
	f, _ := s.Seat(ref.Position).Part.Feature(ref.Feature)
	return f.Kind
}
