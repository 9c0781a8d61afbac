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

// opensFor reports whether a wheel must leave the machine for what comes off.
func (w *arranging) opensFor(wheel Wheel) bool {
	isOff := func(id graph.PositionID) bool { return w.off[id] }
	return slices.ContainsFunc(wheel.Axles, isOff) || slices.ContainsFunc(wheel.Carriers, isOff) ||
		slices.ContainsFunc(lists.KeysOf(wheel.On), isOff) || slices.ContainsFunc(w.Joints, func(j Joint) bool {
		return wheel.isCarriedBy(j) && slices.ContainsFunc(j.Fasteners, isOff)
	})
}

// isLifted reports whether the machine must be held up for a wheel: it comes out, or
// something opens that carries it.
func (w *arranging) isLifted(wheel Wheel) bool {
	carries := slices.Concat(wheel.Carriers, wheel.Sprung, wheel.Axles)
	isOff := func(id graph.PositionID) bool { return w.off[id] }
	return w.off[wheel.Hub] || slices.ContainsFunc(carries, isOff) || slices.ContainsFunc(w.Joints, func(j Joint) bool {
		return slices.Contains(carries, j.A) && slices.Contains(carries, j.B) && slices.ContainsFunc(j.Fasteners, isOff)
	})
}

// wheels takes out each wheel that must leave the machine, with its axle and the calipers
// round its discs, and what sits in a leg that is opened.
func (w *arranging) wheels() (more bool) {
	for _, wheel := range w.Wheels {
		more = w.legs(wheel) || more
		if w.opensFor(wheel) {
			more = w.take(wheel.Hub) || more
		}
		if !w.off[wheel.Hub] {
			continue
		}
		for _, id := range slices.Concat(wheel.Axles, wheel.Around) {
			more = w.take(id) || more
		}
		for _, j := range w.Joints { // shoes come out of the drum on their plate
			if plate := j.Other(j.Lining); j.Lining != "" && w.off[j.Lining] && !wheel.has(plate) && wheel.has(j.Lining) {
				more = w.take(plate) || more
			}
		}
		w.rides(wheel)
	}
	return more
}

// legs takes off what the axle goes through where something pressed into it comes out.
func (w *arranging) legs(wheel Wheel) (more bool) {
	for _, j := range w.Joints {
		if j.Pressed && slices.Contains(wheel.Carriers, j.Seat) && w.off[j.Other(j.Seat)] && w.isOnAxle(wheel, j.Seat) {
			more = w.take(j.Seat) || more
			for _, id := range w.inside(wheel, j.Seat) { // the tube comes out of the leg past them
				more = w.take(id) || more
			}
		}
	}
	return more
}

func (w *arranging) isOnAxle(wheel Wheel, id graph.PositionID) bool {
	return slices.ContainsFunc(w.Joints, func(j Joint) bool {
		return slices.Contains(j.Ends(), id) && slices.Contains(wheel.Axles, j.Other(id))
	})
}

// rides notes what stays on a wheel that comes off and goes back: what hangs together
// with it over nothing that comes off itself.
func (w *arranging) rides(wheel Wheel) {
	for id := range wheel.On {
		if w.carrier[id] == wheel.Hub {
			delete(w.carrier, id)
		}
	}
	if slices.Contains(w.Replaced, wheel.Hub) {
		return
	}
	riders := []graph.PositionID{wheel.Hub}
	add := func(id graph.PositionID) {
		if _, on := wheel.On[id]; on && !w.off[id] && w.There[id] && !slices.Contains(riders, id) {
			riders = append(riders, id)
			w.carrier[id] = wheel.Hub
		}
	}
	for i := 0; i < len(riders); i++ {
		for _, j := range w.Joints {
			if !slices.Contains(j.Ends(), riders[i]) || !j.Holds {
				continue
			}
			if other := j.Other(riders[i]); !w.off[other] && wheel.has(other) {
				for _, id := range append([]graph.PositionID{other}, j.Fasteners...) {
					add(id)
				}
			}
		}
	}
}

// pivots takes out the shaft on which something turns that comes off: the pivot of a
// swingarm.
func (w *arranging) pivots() (more bool) {
	ofWheels := map[graph.PositionID]bool{}
	for _, wheel := range w.Wheels {
		for _, axle := range wheel.Axles {
			ofWheels[axle] = true
		}
	}
	for _, j := range w.Joints {
		if j.Shaft == "" || ofWheels[j.Shaft] || w.off[j.Shaft] {
			continue
		}
		if slices.ContainsFunc(w.turnsOn(j.Shaft), func(id graph.PositionID) bool { return w.off[id] }) {
			more = w.take(j.Shaft) || more
		}
	}
	return more
}

// turnsOn is what a shaft goes through but for the frame, what is round that without a
// bolt, and what the bearings there are pressed into.
func (w *arranging) turnsOn(shaft graph.PositionID) []graph.PositionID {
	found := []graph.PositionID{shaft}
	seats := map[graph.PositionID]bool{}
	for i := 0; i < len(found); i++ {
		for _, j := range w.Joints {
			other := j.Other(found[i])
			if !slices.Contains(j.Ends(), found[i]) || !j.Holds || len(j.Fasteners) > 0 || j.Nut != "" || other == w.Root ||
				seats[found[i]] || i == 0 && j.Shaft != shaft || slices.Contains(found, other) {
				continue
			}
			seats[other] = j.Seat == other
			found = append(found, other)
		}
	}
	return found[1:]
}

// rows takes off what sits in a row on a stem that comes out of the frame, and what lies
// over a part of such a row that comes off.
func (w *arranging) rows() (more bool) {
	for _, row := range w.Rows {
		root := slices.Index(row.Row, w.Root)
		for i, id := range row.Row {
			below := row.Row[min(max(root, 0)+1, i):i]
			over := slices.ContainsFunc(below, func(under graph.PositionID) bool { return w.off[under] })
			if root >= 0 && i != root && (w.off[row.Within] || i > root && over) {
				more = w.take(id) || more
			}
		}
	}
	return more
}

// shut takes off what shuts in something that comes off.
func (w *arranging) shut() (more bool) {
	for _, j := range w.Joints {
		if j.Inner != "" && w.off[j.Inner] && w.There[j.Inner] {
			more = w.take(j.Other(j.Inner)) || more
		}
	}
	return more
}

// hangers take off what sits on a part that is replaced, farther from the frame than
// that, so that it moves over: grips and switches on a bar.
func (w *arranging) hangers() (more bool) {
	for _, j := range w.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			if j.Line == id && slices.Contains(w.Replaced, on) && w.There[on] {
				more = w.take(id) || more
			}
			if !j.Holds || j.Electric || j.Inner != "" || j.Nut != "" || w.isBolt[id] || w.isBolt[on] || w.Lines[id] ||
				!w.There[on] || !slices.Contains(w.Replaced, on) || w.depth[on] == 0 || w.depth[id] <= w.depth[on] ||
				w.isPressedBeside(id, on) {
				continue
			}
			more = w.take(id) || more
		}
	}
	return more
}

// isPressedBeside reports whether a bearing or a seal sits in something else than what comes
// out of it: a sleeve is pulled out of its bearings.
func (w *arranging) isPressedBeside(id, on graph.PositionID) bool {
	return slices.ContainsFunc(w.Joints, func(j Joint) bool {
		return j.Pressed && j.Other(j.Seat) == id && j.Seat != on
	})
}

// wheelsLast has each wheel wait for all that is in and on it and for what carries it,
// its axle for the wheel, and what reaches round its discs for both.
func (w *arranging) wheelsLast() {
	for _, wheel := range w.Wheels {
		for _, id := range wheel.Carriers {
			w.wait(wheel.Hub, id)
		}
		for _, j := range w.Joints {
			if wheel.isCarriedBy(j) {
				for _, bolt := range j.Fasteners {
					w.wait(wheel.Hub, bolt)
				}
			}
			if j.Pressed && j.Seat != wheel.Hub && (wheel.has(j.Seat) || w.isOnAxle(wheel, j.Seat)) {
				w.wait(j.Seat, j.Other(j.Seat))
			}
		}
		w.filled(wheel)
		for _, id := range lists.KeysOf(wheel.On) {
			w.wait(wheel.Hub, id)
		}
		for _, axle := range wheel.Axles {
			w.wait(axle, wheel.Hub)
			for _, id := range wheel.Around {
				w.wait(id, axle)
			}
		}
		for _, id := range wheel.Around {
			w.wait(id, wheel.Hub)
		}
	}
}

// filled has what goes on a wheel wait for what no joint names, which lies inside, a leg
// for what nothing but the leg holds, and the wheel for that where the leg is on already.
func (w *arranging) filled(wheel Wheel) {
	for _, j := range w.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			if wheel.On[id] > 0 && j.Holds && !j.Pressed && wheel.has(on) && !slices.Contains(wheel.Unjoined, id) &&
				len(j.Fasteners) == 0 && !w.isBolt[id] {
				for _, inside := range wheel.Unjoined {
					w.wait(id, inside)
				}
			}
			if slices.Contains(wheel.Carriers, on) && w.isOnAxle(wheel, on) && w.liesIn(wheel, j, id) {
				w.wait(on, id)
			}
		}
	}
	for _, leg := range wheel.Carriers {
		if !w.off[leg] && w.isOnAxle(wheel, leg) {
			for _, id := range w.inside(wheel, leg) {
				w.wait(wheel.Hub, id)
			}
		}
	}
}

// liesIn reports whether what is at an end of a joint lies in the other: nothing but that
// holds it, and no bolt.
func (w *arranging) liesIn(wheel Wheel, j Joint, id graph.PositionID) bool {
	return j.Holds && len(j.Fasteners) == 0 && !w.isBolt[id] && !slices.Contains(wheel.Axles, id) &&
		w.isHeldBy(id, j.Other(id))
}

// inside is what goes into a leg, and what shuts that in. A leg that is on the machine
// already comes out again for it: nothing that must be off for that goes on before.
func (w *arranging) inside(wheel Wheel, leg graph.PositionID) []graph.PositionID {
	var in []graph.PositionID
	for _, j := range w.Joints {
		for _, id := range j.Ends() {
			if j.Other(id) == leg && (j.Pressed && j.Seat == leg || w.liesIn(wheel, j, id)) {
				in = append(in, id)
			}
		}
	}
	for i := 0; i < len(in); i++ {
		for _, j := range w.Joints {
			if over := j.Other(in[i]); j.Inner == in[i] && over != leg && !slices.Contains(in, over) {
				in = append(in, over)
			}
		}
	}
	return in
}

// rowsInTurn has what sits in a row on a stem go on from the bottom up, the stem through
// the frame after what lies under that.
func (w *arranging) rowsInTurn() {
	for _, row := range w.Rows {
		root := slices.Index(row.Row, w.Root)
		for i, id := range row.Row {
			switch {
			case root < 0:
			case i < root:
				w.wait(row.Within, id)
			case i > root:
				w.wait(id, row.Within)
				if i > root+1 {
					w.wait(id, row.Row[i-1])
				}
			}
		}
	}
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
// are out and the lines off.
func wheelsOf(s *machine.Setup, m Machine) []Wheel {
	shafts := map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		if j.Shaft != "" {
			shafts[j.Shaft] = true
		}
	}
	next := nextOf(m.Case, func(j Joint) bool {
		return j.Holds && !j.Electric && !shafts[j.A] && !shafts[j.B] && !m.Lines[j.A] && !m.Lines[j.B]
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
	bearings := map[graph.PositionID]int{}
	for _, j := range m.Joints {
		if j.Pressed && unit[j.Seat] > 0 && slices.ContainsFunc(m.Joints, func(k Joint) bool {
			return k.Shaft != "" && k.Other(k.Shaft) == j.Other(j.Seat)
		}) {
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
	return lists.Kept(lists.KeysOf(all), func(id graph.PositionID) bool {
		return id != from && id != to && !slices.ContainsFunc(lists.KeysOf(all), func(cut graph.PositionID) bool {
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
