package examine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// held is what hangs on places that have no safety class of their own: a hanger that
// holds the rear master cylinder, a bracket on a brake line. A fault of such a part is a
// fault of what it holds.
type held struct {
	on map[graph.PositionID][]graph.PositionID
	// far is how many joints away the frame or engine is; of what none is known to
	// hold there is none.
	far map[graph.PositionID]int
}

// findHeld reads what hangs on the places of joints to be judged that have no class and
// meet something that has one. It reads the joints of the whole machine, and only where
// there is such a place.
func (a *Connections) findHeld(ctx context.Context, s *machine.Setup) error {
	classless := a.classless(s)
	if len(classless) == 0 {
		return nil
	}
	around, err := s.Library().JointsTouching(ctx, s.Variant.ID, classless)
	if err != nil {
		return err
	}
	if err := s.Load(ctx, endsOfAll(around)...); err != nil {
		return err
	}
	if !slices.ContainsFunc(around, func(j graph.Joint) bool { return meetsClass(s, j) }) {
		return nil
	}
	joints, err := s.Library().Reader().JointsOf(ctx, s.Variant.Model)
	if err != nil {
		return err
	}
	joints = lists.Kept(slices.Clone(joints), func(j graph.Joint) bool { return slices.Contains(j.On, s.Variant.ID) })
	if err := s.Load(ctx, endsOfAll(joints)...); err != nil {
		return err
	}
	w := newHolding(s, joints)
	a.held = held{on: map[graph.PositionID][]graph.PositionID{}, far: w.far()}
	for _, id := range classless {
		a.held.on[id] = w.on(id)
	}
	return nil
}

func endsOfAll(joints []graph.Joint) []graph.PositionID {
	var ids []graph.PositionID
	for _, j := range joints {
		ids = append(ids, j.A.Position, j.B.Position)
	}
	return lists.Unique(ids)
}

// meetsClass reports whether something with a class that could hang on it meets a place
// that has none.
func meetsClass(s *machine.Setup, j graph.Joint) bool {
	a, b := j.A.Position, j.B.Position
	holdsAll := func(id graph.PositionID) bool { return isRoot(s, id) || isBolt(s, id) }
	return (s.SafetyAt(a) == graph.SafetyNone) != (s.SafetyAt(b) == graph.SafetyNone) && !holdsAll(a) && !holdsAll(b)
}

// classless are the ends without a class of joints to be judged that are neither what
// the whole machine hangs on nor bolts.
func (a *Connections) classless(s *machine.Setup) []graph.PositionID {
	var ids []graph.PositionID
	for _, j := range a.Joints {
		for _, id := range []graph.PositionID{j.A.Position, j.B.Position} {
			if s.SafetyAt(id) == graph.SafetyNone && !isRoot(s, id) && !isBolt(s, id) {
				ids = append(ids, id)
			}
		}
	}
	return lists.Unique(ids)
}

// isRoot reports whether all else hangs on what belongs at a place.
func isRoot(s *machine.Setup, id graph.PositionID) bool {
	return slices.Contains([]graph.KindID{"frame", "engine"}, s.Position(id).Kind)
}

// holding is which places keep which others where they are, on a machine.
type holding struct {
	s     *machine.Setup
	next  map[graph.PositionID][]graph.PositionID // over joints that hold, lines and bolts left out
	lines map[graph.PositionID][]graph.PositionID // the lines that are laid along a place
	upon  map[[2]graph.PositionID]bool            // the first of a joint on the second
	roots []graph.PositionID
}

func newHolding(s *machine.Setup, joints []graph.Joint) holding {
	w := holding{s: s, next: map[graph.PositionID][]graph.PositionID{}, lines: map[graph.PositionID][]graph.PositionID{},
		upon: map[[2]graph.PositionID]bool{}}
	for _, j := range joints {
		a, b := j.A.Position, j.B.Position
		w.upon[[2]graph.PositionID{a, b}] = true
		for _, ends := range [][2]graph.PositionID{{a, b}, {b, a}} {
			if isRoot(s, ends[0]) {
				w.roots = append(w.roots, ends[0])
			}
			switch lineA, lineB := isLine(s, ends[0]), isLine(s, ends[1]); {
			case isBolt(s, a) || isBolt(s, b) || machine.OnlyPasses(s.KindOf(j.A)) || machine.OnlyPasses(s.KindOf(j.B)):
			case lineB && !lineA:
				w.lines[ends[0]] = append(w.lines[ends[0]], ends[1])
			case !lineA && !lineB:
				w.next[ends[0]] = append(w.next[ends[0]], ends[1])
			}
		}
	}
	w.roots = lists.Unique(w.roots)
	return w
}

// on are the places that are held by nothing once what sits at a place is gone, and the
// lines laid along it. Where nobody recorded a frame, what is written as joined on a
// place hangs on it.
func (w holding) on(id graph.PositionID) []graph.PositionID {
	found := slices.Clone(w.lines[id])
	seen := map[graph.PositionID]bool{id: true}
	for _, next := range w.next[id] {
		island, reaches := w.island(next, seen)
		switch {
		case len(w.roots) == 0 && w.upon[[2]graph.PositionID{next, id}]:
			found = append(found, next)
		case len(w.roots) > 0 && !reaches:
			found = append(found, island...)
		}
	}
	return lists.Unique(found)
}

// island is what is joined to a place without passing those that were seen, and whether
// the frame or engine is among it.
func (w holding) island(from graph.PositionID, seen map[graph.PositionID]bool) ([]graph.PositionID, bool) {
	past := map[graph.PositionID]bool{from: true}
	for id := range seen {
		past[id] = true
	}
	island := []graph.PositionID{from}
	for i := 0; i < len(island); i++ {
		if slices.Contains(w.roots, island[i]) {
			return nil, true
		}
		for _, next := range w.next[island[i]] {
			if !past[next] {
				past[next] = true
				island = append(island, next)
			}
		}
	}
	return island, false
}

func isLine(s *machine.Setup, id graph.PositionID) bool {
	return slices.ContainsFunc([]string{"hose", "cable", "lead"}, func(kind string) bool { return s.HasAt(id, kind) })
}

// isBolt reports whether what belongs at a place only holds other parts together.
func isBolt(s *machine.Setup, id graph.PositionID) bool {
	return queries.IsHardware(s.Position(id).Kind)
}

// far is how many joints lie between each place and the frame or engine.
func (w holding) far() map[graph.PositionID]int {
	far := map[graph.PositionID]int{}
	queue := slices.Clone(w.roots)
	for _, id := range queue {
		far[id] = 0
	}
	for i := 0; i < len(queue); i++ {
		for _, next := range w.next[queue[i]] {
			if _, seen := far[next]; !seen {
				far[next] = far[queue[i]] + 1
				queue = append(queue, next)
			}
		}
	}
	return far
}

// withHeld are ends with those of what hangs on them, where they have no class.
func (x *Examiner) withHeld(ends []End) []End {
	all := slices.Clone(ends)
	for _, e := range ends {
		for _, id := range x.held.on[e.Position] {
			all = append(all, x.end(graph.FeatureRef{Position: id}))
		}
	}
	return all
}

// borne are the ends of what hangs on a joint: of the side that the other one holds,
// with all that hangs on it.
func (x *Examiner) borne(j graph.Joint) []End {
	var all []End
	a, b := j.A.Position, j.B.Position
	for _, ends := range [][2]graph.PositionID{{a, b}, {b, a}} {
		own, other := ends[0], ends[1]
		onOwn, known := x.held.on[own]
		switch {
		case !known:
		case slices.Contains(onOwn, other):
			all = append(all, x.withHeld(x.Ends(graph.FeatureRef{Position: other}))...)
		case x.isNearer(other, own):
			all = append(all, x.withHeld(x.Ends(graph.FeatureRef{Position: own}))...)
		}
	}
	return all
}

// isNearer reports whether one place is nearer to the frame than another, as what holds
// it is.
func (x *Examiner) isNearer(id, than graph.PositionID) bool {
	far, known := x.held.far[id]
	of, ofKnown := x.held.far[than]
	return !ofKnown || known && far < of
}
