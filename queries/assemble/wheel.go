package assemble

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Wheel is a wheel of the machine, and what must be known of it before anything near it
// is opened. Common practice, no source: it leaves the machine before anything in or on it
// is worked on, and before anything opens that carries it.
type Wheel struct {
	Hub   graph.PositionID         // what leaves the machine with all that is on it
	Axles []graph.PositionID       // what it turns on
	On    map[graph.PositionID]int // what is in and on it, with its bolts; how many joints from the hub
	// Unjoined are those of On that no joint names: a valve, cush rubbers.
	Unjoined []graph.PositionID
	Plates   []graph.PositionID // what carries the shoes in its drum, and leaves with it
	Around   []graph.PositionID // what reaches round what turns with it, and stays on the machine: calipers
	// Carriers are what carries it, and may open once it is out only: what steers it, and
	// what its axle goes through. Sprung are the others that carry it: a shock, a rocker.
	Carriers, Sprung []graph.PositionID
}

// has reports whether something turns with the wheel, or is the wheel.
func (w Wheel) has(id graph.PositionID) bool {
	_, on := w.On[id]
	return on || id == w.Hub
}

// isCarriedBy reports whether both ends of a joint carry the wheel, so that the joint does.
func (w Wheel) isCarriedBy(j Joint) bool {
	return slices.Contains(w.Carriers, j.A) && slices.Contains(w.Carriers, j.B)
}

// depths are how many joints each place is from the frame, over what holds; what hangs
// on a line only has none.
func depths(c Case) map[graph.PositionID]int {
	return depthsOver(c, func(j Joint) bool { return j.Holds && !j.Electric }, c.Lines)
}

// depthsOver are how many joints each place is from the frame, from 1, over some joints;
// none is gone on from where it ends.
func depthsOver(c Case, some func(Joint) bool, ends map[graph.PositionID]bool) map[graph.PositionID]int {
	depth := map[graph.PositionID]int{c.Root: 1}
	next := nextOf(c, some)
	todo := []graph.PositionID{c.Root}
	for i := 0; c.Root != "" && i < len(todo); i++ {
		for _, id := range next[todo[i]] {
			if depth[id] == 0 {
				depth[id] = depth[todo[i]] + 1
				if !ends[id] {
					todo = append(todo, id)
				}
			}
		}
	}
	return depth
}

// nextOf is what each place meets by some joints.
func nextOf(c Case, some func(Joint) bool) map[graph.PositionID][]graph.PositionID {
	next := map[graph.PositionID][]graph.PositionID{}
	for _, j := range c.Joints {
		if some(j) {
			next[j.A], next[j.B] = append(next[j.A], j.B), append(next[j.B], j.A)
		}
	}
	return next
}

// wheelsOf finds the wheels of a machine: what a rim hangs together with once the axles
// are out and the lines off, and splines that nothing bolts have let go of one another.
func wheelsOf(s *machine.Setup, m Machine) []Wheel {
	shafts := map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		if j.Shaft != "" {
			shafts[j.Shaft] = true
		}
	}
	next := nextOf(m.Case, func(j Joint) bool {
		return j.Holds && !j.Electric && !shafts[j.A] && !shafts[j.B] && !m.Lines[j.A] && !m.Lines[j.B] && !slides(s, m, j)
	})
	var wheels []Wheel
	seen := map[graph.PositionID]bool{}
	for _, p := range m.Positions {
		if seen[p.ID] || !slices.Contains(kindsAt(s, p.ID), "rim") {
			continue
		}
		unit := reached(next, p.ID)
		for id := range unit {
			seen[id] = true
		}
		if unit[m.Root] > 0 {
			continue // nothing says how it comes off
		}
		wheels = append(wheels, wheelOf(s, m, next, p.ID, unit))
	}
	return wheels
}

// slides reports whether one end of a joint is drawn out of the other along its splines: nothing
// bolts them.
func slides(s *machine.Setup, m Machine, j Joint) bool {
	known := m.Known[j.ID]
	isSplined := func(ref graph.FeatureRef) bool { return s.Side(ref).Feature.Kind == "spline" }
	return j.ID != "" && len(j.Fasteners) == 0 && isSplined(known.A) && isSplined(known.B)
}

// reached are the places that hang together with one, and over how many joints; 1 is
// the place itself.
func reached(next map[graph.PositionID][]graph.PositionID, from graph.PositionID) map[graph.PositionID]int {
	far, todo := map[graph.PositionID]int{from: 1}, []graph.PositionID{from}
	for i := 0; i < len(todo); i++ {
		for _, id := range next[todo[i]] {
			if far[id] == 0 {
				far[id] = far[todo[i]] + 1
				todo = append(todo, id)
			}
		}
	}
	return far
}

func wheelOf(s *machine.Setup, m Machine, next map[graph.PositionID][]graph.PositionID, rim graph.PositionID,
	unit map[graph.PositionID]int) Wheel {
	w := Wheel{Hub: hubOf(m, rim, unit), On: map[graph.PositionID]int{}}
	for id, far := range reached(next, w.Hub) {
		if id != w.Hub {
			w.On[id] = far - 1
		}
	}
	for _, j := range m.Joints {
		if j.Shaft != "" && w.has(j.Other(j.Shaft)) {
			w.Axles = append(w.Axles, j.Shaft)
		}
		if j.Around != "" && w.has(j.Other(j.Around)) && !w.has(j.Around) {
			w.Around = append(w.Around, j.Around)
		}
	}
	w.Axles, w.Around = lists.Unique(w.Axles), lists.Unique(w.Around)
	for _, j := range m.Joints {
		if j.Drum != "" && w.has(j.Drum) {
			w.On[j.Other(j.Drum)] = w.On[j.Drum] + 1
		}
		for _, bolt := range j.Fasteners {
			if w.has(j.A) && w.has(j.B) {
				w.On[bolt] = max(w.On[j.A], w.On[j.B])
			}
		}
	}
	for _, j := range m.Joints {
		if plate := j.Other(j.Lining); j.Lining != "" && w.has(j.Lining) && !w.has(plate) {
			w.Plates = append(w.Plates, plate)
		}
	}
	joined := map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		for _, id := range j.Places() {
			joined[id] = true
		}
	}
	for _, p := range m.Positions {
		if p.Assembly == s.Position(w.Hub).Assembly && !joined[p.ID] && !machine.IsHardware(p.Kind) {
			w.On[p.ID], w.Unjoined = 1, append(w.Unjoined, p.ID)
		}
	}
	w.carry(s, m)
	return w
}

// hubOf is the place of a wheel into which most bearings on a shaft are pressed, the rim
// before any other.
func hubOf(m Machine, rim graph.PositionID, unit map[graph.PositionID]int) graph.PositionID {
	bearings, onShaft := map[graph.PositionID]int{}, map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		if j.Shaft != "" {
			onShaft[j.Other(j.Shaft)] = true
		}
	}
	for _, j := range m.Joints {
		if j.Pressed && unit[j.Seat] > 0 && onShaft[j.Other(j.Seat)] {
			bearings[j.Seat]++
		}
	}
	if bearings[rim] > 0 || len(bearings) == 0 {
		return rim
	}
	return slices.MaxFunc(lists.KeysOf(bearings), func(a, b graph.PositionID) int {
		return cmp.Compare(bearings[a], bearings[b])
	})
}

// carry finds what carries a wheel: what lies on a way from its axle to the frame, over
// what the safety of steering or wheel hangs on; without a frame what its axle goes
// through and steers, and what its row stands in.
func (w *Wheel) carry(s *machine.Setup, m Machine) {
	isSafe := func(id graph.PositionID) bool {
		class := s.Position(id).Safety
		return !w.has(id) && !m.Bolts[id] && !m.Lines[id] && (class == graph.SafetySteering || class == graph.SafetyWheel ||
			id == m.Root)
	}
	next := nextOf(m.Case, func(j Joint) bool { return j.Holds && isSafe(j.A) && isSafe(j.B) })
	direct := map[graph.PositionID]bool{}
	for _, axle := range w.Axles {
		for _, id := range next[axle] {
			direct[id] = true
		}
		for _, id := range between(next, axle, m.Root) {
			if direct[id] || s.Position(id).Safety == graph.SafetySteering {
				w.Carriers = append(w.Carriers, id)
			} else {
				w.Sprung = append(w.Sprung, id)
			}
		}
	}
	for _, p := range m.Positions { // without its ring nut the stem drops out of the frame
		if p.Kind == "ring-nut" && slices.ContainsFunc(w.Carriers, func(id graph.PositionID) bool {
			return s.Position(id).Assembly == p.Assembly
		}) {
			w.Carriers = append(w.Carriers, p.ID)
		}
	}
	if len(w.Carriers) > 0 {
		w.Carriers = lists.Unique(append(w.Carriers, m.Root))
		return
	}
	for _, row := range m.Rows {
		if slices.Contains(row.Row, w.Hub) {
			w.Carriers = append(w.Carriers, row.Within)
		}
	}
	for id := range direct {
		if s.Position(id).Safety == graph.SafetySteering {
			w.Carriers = append(w.Carriers, id)
		}
	}
	w.Carriers = lists.Unique(w.Carriers)
}

// between are the places on a way from one to another that passes none twice, but for
// both: those that no single place cuts off from both.
func between(next map[graph.PositionID][]graph.PositionID, from, to graph.PositionID) []graph.PositionID {
	all := reached(next, from)
	if to == "" || all[to] == 0 {
		return nil
	}
	ids := lists.KeysOf(all)
	return lists.Kept(slices.Clone(ids), func(id graph.PositionID) bool {
		return id != from && id != to && !slices.ContainsFunc(ids, func(cut graph.PositionID) bool {
			return cut != id && !reaches(next, id, cut, from, to)
		})
	})
}

// reaches reports whether a place meets one of two over others than one.
func reaches(next map[graph.PositionID][]graph.PositionID, id, without, from, to graph.PositionID) bool {
	seen, todo := map[graph.PositionID]bool{id: true, without: true}, []graph.PositionID{id}
	for i := 0; i < len(todo); i++ {
		if todo[i] == from || todo[i] == to {
			return true
		}
		for _, other := range next[todo[i]] {
			if !seen[other] {
				seen[other] = true
				todo = append(todo, other)
			}
		}
	}
	return false
}
