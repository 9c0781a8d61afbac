package examine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// held is what hangs on places that have no safety class of their own, or a light one: a hanger that
// holds the rear master cylinder, a bracket on a brake line. A fault of such a part is a
// fault of what it holds.
type held struct {
	on map[graph.PositionID][]graph.PositionID
	// far is how many joints away the frame or engine is from these places and from what
	// they meet; of what none is known to hold there is none.
	far map[graph.PositionID]int
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
	holdsAll := func(id graph.PositionID) bool { return isRoot(s, id) || s.IsHardwareAt(id) }
	return isLight(s.SafetyAt(a)) != isLight(s.SafetyAt(b)) && !holdsAll(a) && !holdsAll(b)
}

// isLight reports whether a place with a class may hold something whose class weighs more:
// it has none, or holds the rider, and perhaps a brake pedal besides.
func isLight(class graph.Safety) bool {
	return class == graph.SafetyNone || class == graph.SafetyFooting
}

// rootKinds are what all else hangs on.
var rootKinds = []graph.KindID{"frame", "engine"}

// isRoot reports whether all else hangs on what belongs at a place.
func isRoot(s *machine.Setup, id graph.PositionID) bool {
	return slices.Contains(rootKinds, s.Position(id).Kind)
}

// holding is which places keep which others where they are, on a machine, read as far
// as it was asked for.
type holding struct {
	s      *machine.Setup
	read   map[graph.PositionID]bool // the places whose joints were read
	joints map[graph.JointID]bool
	next   map[graph.PositionID][]graph.PositionID // over joints that hold, lines and bolts left out
	lines  map[graph.PositionID][]graph.PositionID // the lines that are laid along a place
	upon   map[[2]graph.PositionID]bool            // the first of a joint on the second
}

func newHolding(s *machine.Setup) holding {
	return holding{s: s, read: map[graph.PositionID]bool{}, joints: map[graph.JointID]bool{},
		next: map[graph.PositionID][]graph.PositionID{}, lines: map[graph.PositionID][]graph.PositionID{},
		upon: map[[2]graph.PositionID]bool{}}
}

// reach reads the joints of some places, those that were read before left out, and what
// sits at their ends.
func (w holding) reach(ctx context.Context, at []graph.PositionID) ([]graph.Joint, error) {
	at = lists.Kept(slices.Clone(at), func(id graph.PositionID) bool { return !w.read[id] })
	if len(at) == 0 {
		return nil, nil
	}
	joints, err := w.s.Library().JointsTouching(ctx, w.s.Variant.ID, at)
	if err != nil {
		return nil, err
	}
	if err := w.s.Load(ctx, endsOfAll(joints)...); err != nil {
		return nil, err
	}
	for _, id := range at {
		w.read[id] = true
	}
	for _, j := range joints {
		if !w.joints[j.ID] {
			w.joints[j.ID] = true
			w.add(j)
		}
	}
	return joints, nil
}

func (w holding) add(j graph.Joint) {
	a, b := j.A.Position, j.B.Position
	w.upon[[2]graph.PositionID{a, b}] = true
	for _, ends := range [][2]graph.PositionID{{a, b}, {b, a}} {
		switch lineA, lineB := isLine(w.s, ends[0]), isLine(w.s, ends[1]); {
		case w.s.IsHardwareAt(a) || w.s.IsHardwareAt(b) || machine.OnlyPasses(w.s.KindOf(j.A)) ||
			machine.OnlyPasses(w.s.KindOf(j.B)):
		case lineB && !lineA:
			w.lines[ends[0]] = append(w.lines[ends[0]], ends[1])
		case !lineA && !lineB:
			w.next[ends[0]] = append(w.next[ends[0]], ends[1])
		}
	}
}

// on are the places that are held by nothing once what sits at a place is gone, and the
// lines laid along it. Where nobody recorded a frame, what is written as joined on a
// place hangs on it.
func (w holding) on(ctx context.Context, id graph.PositionID) ([]graph.PositionID, error) {
	found := slices.Clone(w.lines[id])
	for _, next := range lists.Unique(slices.Clone(w.next[id])) {
		island, _, reaches, err := w.island(ctx, next, id)
		if err != nil {
			return nil, err
		}
		if reaches {
			continue
		}
		isRooted, err := w.isRooted(ctx)
		switch {
		case err != nil:
			return nil, err
		case isRooted:
			found = append(found, island...)
		case w.upon[[2]graph.PositionID{next, id}]:
			found = append(found, next)
		}
	}
	return lists.Unique(found), nil
}

// isRooted reports whether a frame or engine is joined to anything on the machine.
func (w holding) isRooted(ctx context.Context) (bool, error) {
	ids, err := w.s.Library().Reader().PositionsOfKindOn(ctx, w.s.Variant.Model, rootKinds...)
	if err != nil {
		return false, err
	}
	joints, err := w.s.Library().JointsTouching(ctx, w.s.Variant.ID, ids)
	return slices.ContainsFunc(joints, func(j graph.Joint) bool {
		return slices.Contains(ids, j.A.Position) || slices.Contains(ids, j.B.Position)
	}), err
}

// island is what is joined to a place without passing another one, up to the frame or
// engine: how many joints away that is, and whether it is there at all.
func (w holding) island(ctx context.Context, from, without graph.PositionID) (
	island []graph.PositionID, far int, reaches bool, err error) {
	past := map[graph.PositionID]bool{from: true, without: true}
	for edge := []graph.PositionID{from}; len(edge) > 0; far++ {
		island = append(island, edge...)
		if slices.ContainsFunc(edge, func(id graph.PositionID) bool { return isRoot(w.s, id) }) {
			return nil, far, true, nil
		}
		if _, err := w.reach(ctx, edge); err != nil {
			return nil, 0, false, err
		}
		var beyond []graph.PositionID
		for _, id := range edge {
			for _, next := range w.next[id] {
				if !past[next] {
					past[next] = true
					beyond = append(beyond, next)
				}
			}
		}
		edge = beyond
	}
	return island, 0, false, nil
}

// far is how many joints lie between a place and the frame or engine; false where none
// is to be come to.
func (w holding) far(ctx context.Context, id graph.PositionID) (int, bool, error) {
	_, far, reaches, err := w.island(ctx, id, "")
	return far, reaches, err
}

func isLine(s *machine.Setup, id graph.PositionID) bool {
	return slices.ContainsFunc(machine.LineKinds(), func(kind string) bool { return s.HasAt(id, kind) })
}
