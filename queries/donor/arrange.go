package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// workJoint is what the order of work needs of a joint.
type workJoint struct {
	ID        graph.JointID
	A, B      graph.PositionID
	Fasteners []graph.PositionID
	Holds     bool             // one end keeps the other in its place; false where the two only pass each other
	Fluid     bool             // fluid passes through it
	Shaft     graph.PositionID // the end that goes through the other; empty when neither does
	Inner     graph.PositionID // the end that the other shuts in; empty when neither does
}

func (j workJoint) ends() []graph.PositionID { return []graph.PositionID{j.A, j.B} }

func (j workJoint) places() []graph.PositionID { return append(j.ends(), j.Fasteners...) }

func (j workJoint) other(id graph.PositionID) graph.PositionID {
	if id == j.A {
		return j.B
	}
	return j.A
}

// workCase is a machine and the places on it that get another part.
type workCase struct {
	Replaced []graph.PositionID
	There    map[graph.PositionID]bool               // places that hold something before the work
	After    map[graph.PositionID][]graph.PositionID // what must be on before each place is fitted
	Bends    map[graph.PositionID]bool               // hoses, cables and leads, which let what they hold come off
	Joints   []workJoint
}

// arranged is the order of work: Order is that of fitting, and what comes off
// comes off the other way round.
type arranged struct {
	Order []graph.PositionID
	// places that each wait for one another by After; they stand last in Order
	Cycle []graph.PositionID
	// what comes off with a part that is replaced, and moves over to the new one
	MoveTo map[graph.PositionID]graph.PositionID
	With   map[graph.PositionID][]graph.PositionID // what stays on a part while that is off
	Opened []workJoint                             // by identity
}

// arrange finds what has to come off besides what is replaced, and in which
// order it all goes on:
//
//   - what must be on before a part is fitted, by After, also over places that stay;
//   - bolts after what they hold;
//   - what sits on a replaced part and on nothing else before that part, anything
//     else that is joined to it after it;
//   - a shaft after what it carries, and what shuts something in after that;
//   - bolts of hoses after those of what the hose goes to.
//
// Where two of these contradict each other the earlier one holds. Between equals
// the order is that of the identities.
func arrange(c workCase) arranged {
	w := &arranging{workCase: c, off: map[graph.PositionID]bool{},
		waits: map[graph.PositionID][]graph.PositionID{}, moves: map[graph.PositionID]graph.PositionID{},
		carrier: map[graph.PositionID]graph.PositionID{}, isBolt: map[graph.PositionID]bool{}}
	for _, j := range c.Joints {
		for _, id := range j.Fasteners {
			w.isBolt[id] = true
		}
	}
	for _, id := range c.Replaced {
		w.off[id] = true
	}
	for w.stays() || w.rests() || w.bolts() || w.loose() {
	}
	w.order()
	a := arranged{MoveTo: w.moves, With: w.with(), Opened: lists.Kept(slices.Clone(c.Joints), w.opens)}
	slices.SortFunc(a.Opened, func(x, y workJoint) int { return cmp.Compare(x.ID, y.ID) })
	a.Order, a.Cycle = sorted(lists.KeysOf(w.off), w.waits)
	return a
}

type arranging struct {
	workCase
	off   map[graph.PositionID]bool // what comes off, or comes on for the first time
	waits map[graph.PositionID][]graph.PositionID
	moves map[graph.PositionID]graph.PositionID
	// carrier is what something stays on that comes off; it counts only while
	// the former does not come off itself.
	carrier map[graph.PositionID]graph.PositionID
	units   []graph.PositionID // carriers of what came loose as one
	isBolt  map[graph.PositionID]bool
}

// opens reports whether a joint comes apart: something of it comes off, and not
// all of it as one.
func (w *arranging) opens(j workJoint) bool {
	if !slices.ContainsFunc(j.places(), func(id graph.PositionID) bool { return w.off[id] }) {
		return false
	}
	return slices.ContainsFunc(j.places(), func(id graph.PositionID) bool { return w.asOne(id) != w.asOne(j.A) })
}

// asOne is the part that something comes off with: itself unless it stays on
// another.
func (w *arranging) asOne(id graph.PositionID) graph.PositionID {
	if on, ok := w.carrier[id]; ok && !w.off[id] {
		return on
	}
	return id
}

// with is what stays on each part that comes off, sorted.
func (w *arranging) with() map[graph.PositionID][]graph.PositionID {
	with := map[graph.PositionID][]graph.PositionID{}
	for _, id := range lists.KeysOf(w.carrier) {
		if on := w.carrier[id]; !w.off[id] {
			with[on] = append(with[on], id)
		}
	}
	return with
}

// stays notes what stays on a part that comes off and goes back: hoses, cables and
// leads, and what nothing else holds, each with the bolts between.
func (w *arranging) stays() (more bool) {
	for _, j := range w.Joints {
		for _, on := range j.ends() {
			id := j.other(on)
			if !j.Holds || j.Shaft == on || !w.off[on] || slices.Contains(w.Replaced, on) || w.off[id] || !w.There[id] ||
				w.isBolt[id] {
				continue
			}
			if _, have := w.carrier[id]; have || !w.Bends[id] && !w.isHeldBy(id, on) {
				continue
			}
			if slices.ContainsFunc(j.Fasteners, func(bolt graph.PositionID) bool { return w.off[bolt] }) {
				continue
			}
			more = true
			for _, one := range append([]graph.PositionID{id}, j.Fasteners...) {
				w.carrier[one] = on
			}
		}
	}
	return more
}

// isHeldBy reports whether something is joined to nothing but one part.
func (w *arranging) isHeldBy(id, on graph.PositionID) bool {
	return !slices.ContainsFunc(w.Joints, func(j workJoint) bool {
		other := j.other(id)
		return j.Holds && slices.Contains(j.ends(), id) && other != on && w.There[other] && !w.isBolt[other]
	})
}

// take has something come off that is there, and reports whether that is new.
func (w *arranging) take(id graph.PositionID) bool {
	if w.off[id] || !w.There[id] {
		return false
	}
	w.off[id] = true
	return true
}

// rests takes off one part that hangs on something that comes off, so that what
// stays on that part is found first.
func (w *arranging) rests() bool {
	for _, id := range lists.KeysOf(w.After) {
		if !w.off[id] && slices.ContainsFunc(w.After[id],
			func(on graph.PositionID) bool { return w.off[on] && w.There[on] && w.asOne(id) != on }) {
			if w.take(id) {
				return true
			}
		}
	}
	return false
}

// bolts takes out the bolts of every joint that comes apart.
func (w *arranging) bolts() (more bool) {
	for _, j := range w.Joints {
		if w.opens(j) {
			for _, id := range j.Fasteners {
				more = w.take(id) || more
			}
		}
	}
	return more
}

// loose takes off what nothing holds any more: each part by itself where it sat
// on a part that is replaced, else all that hangs together as one, under the part
// that most of it is joined to.
func (w *arranging) loose() bool {
	whole := w.islands(map[graph.PositionID]bool{})
	if len(whole) == 0 {
		return false
	}
	var left [][]graph.PositionID
	for _, island := range w.islands(w.off) {
		if _, onMachine := slices.BinarySearch(whole[0], island[0]); onMachine {
			left = append(left, island)
		}
	}
	for _, island := range left[min(1, len(left)):] {
		if w.takeLoose(island) {
			return true
		}
	}
	return false
}

// islands are the places that hang together without some, the largest first,
// each sorted.
func (w *arranging) islands(without map[graph.PositionID]bool) [][]graph.PositionID {
	next := map[graph.PositionID][]graph.PositionID{}
	for _, j := range w.Joints {
		places := lists.Kept(j.places(), func(id graph.PositionID) bool { return w.There[id] && !without[id] })
		for _, id := range places {
			next[id] = append(next[id], lists.Kept(slices.Clone(places),
				func(other graph.PositionID) bool { return j.Holds && other != id })...)
		}
	}
	var islands [][]graph.PositionID
	seen := map[graph.PositionID]bool{}
	for _, id := range lists.KeysOf(next) {
		if seen[id] {
			continue
		}
		seen[id] = true
		island := []graph.PositionID{id}
		for i := 0; i < len(island); i++ {
			for _, other := range next[island[i]] {
				if !seen[other] {
					seen[other] = true
					island = append(island, other)
				}
			}
		}
		slices.Sort(island)
		islands = append(islands, island)
	}
	slices.SortStableFunc(islands, func(a, b []graph.PositionID) int { return len(b) - len(a) })
	return islands
}

func (w *arranging) takeLoose(island []graph.PositionID) (more bool) {
	joints, most := map[graph.PositionID]int{}, island[0]
	for _, j := range w.Joints {
		for _, id := range j.ends() {
			if _, mine := slices.BinarySearch(island, id); !mine || !j.Holds {
				continue
			}
			joints[id]++
			if slices.Contains(w.Replaced, j.other(id)) && w.There[j.other(id)] {
				more = w.take(id) || more
			}
		}
	}
	if more {
		return true
	}
	if slices.ContainsFunc(island, func(id graph.PositionID) bool { return w.asOne(id) != id }) {
		return false // it is off already, as one
	}
	for _, id := range island {
		if joints[id] > joints[most] {
			most = id
		}
	}
	for _, id := range island {
		if id != most {
			w.carrier[id] = most
		}
	}
	w.units = append(w.units, most)
	return w.take(most)
}

// order says what each place waits for.
func (w *arranging) order() {
	for _, id := range lists.KeysOf(w.off) {
		w.waits[id] = w.waitsOf(id)
	}
	for _, j := range w.Joints {
		w.movesOver(j)
	}
	for _, j := range w.Joints {
		w.boltsLast(j)
	}
	for _, j := range w.Joints {
		w.boltsOver(j)
	}
	for _, j := range w.Joints {
		w.threadsLast(j)
	}
	for _, id := range lists.KeysOf(w.moves) {
		w.wait(w.moves[id], id)
	}
	for _, j := range w.Joints {
		w.hangsOn(j)
	}
	for _, id := range w.units {
		for _, on := range w.Replaced {
			w.wait(id, on)
		}
	}
	for _, j := range w.Joints {
		if j.Shaft != "" && !w.isBolt[j.Shaft] {
			w.wait(j.Shaft, j.other(j.Shaft))
		}
	}
	for _, j := range w.Joints {
		if j.Inner != "" {
			w.wait(j.other(j.Inner), j.Inner)
		}
	}
	for _, j := range w.Joints {
		if j.Fluid {
			w.hosesLast(j)
		}
	}
}

// hangsOn has what is joined to a replaced part, and stays on the machine's side,
// wait for that part.
func (w *arranging) hangsOn(j workJoint) {
	for _, id := range j.ends() {
		if on := j.other(id); j.Holds && slices.Contains(w.Replaced, on) && !slices.Contains(w.Replaced, id) &&
			w.moves[id] != on {
			w.wait(id, on)
		}
	}
}

// movesOver notes what sat on a replaced part and on nothing else that stays.
func (w *arranging) movesOver(j workJoint) {
	for _, id := range j.ends() {
		on := j.other(id)
		if !j.Holds || j.Shaft == id || w.isBolt[id] || w.isBolt[on] || !w.off[id] || slices.Contains(w.Replaced, id) ||
			!slices.Contains(w.Replaced, on) || !w.There[on] {
			continue
		}
		if w.reaches(id, on) || w.reaches(on, id) || w.isHeldBesides(id) {
			continue
		}
		if have, ok := w.moves[id]; !ok || on < have {
			w.moves[id] = on
		}
	}
}

// isHeldBesides reports whether something is joined to a part that stays on.
func (w *arranging) isHeldBesides(id graph.PositionID) bool {
	return slices.ContainsFunc(w.Joints, func(j workJoint) bool {
		return j.Holds && slices.Contains(j.ends(), id) && w.There[j.other(id)] && !w.off[j.other(id)]
	})
}

// boltsLast has bolts wait for what they hold, except the part on the machine
// that something else is bolted to before.
func (w *arranging) boltsLast(j workJoint) {
	for _, id := range j.ends() {
		on := j.other(id)
		for _, bolt := range j.Fasteners {
			if w.moves[on] != id {
				w.wait(bolt, id)
			}
		}
	}
}

// threadsLast has bolts wait for what they screw into.
func (w *arranging) threadsLast(j workJoint) {
	for _, id := range j.ends() {
		if on := j.other(id); w.isBolt[id] && !w.isBolt[on] {
			w.wait(id, on)
		}
	}
}

// boltsOver has the bolts between a replaced part and what moves over to the new
// one be in before that is on the machine.
func (w *arranging) boltsOver(j workJoint) {
	for _, id := range j.ends() {
		for _, bolt := range j.Fasteners {
			if on := j.other(id); w.moves[id] == on {
				w.wait(on, bolt)
			}
		}
	}
}

// hosesLast has the bolts of a hose go in after those of what it goes to.
func (w *arranging) hosesLast(hose workJoint) {
	for _, j := range w.Joints {
		if j.Fluid || !slices.Contains(j.ends(), hose.A) && !slices.Contains(j.ends(), hose.B) {
			continue
		}
		for _, bolt := range hose.Fasteners {
			for _, first := range j.Fasteners {
				w.wait(bolt, first)
			}
		}
	}
}

// wait has one place wait for another, unless that waits for it already.
func (w *arranging) wait(id, before graph.PositionID) {
	if id == before || !w.off[id] || !w.off[before] || w.reaches(before, id) || slices.Contains(w.waits[id], before) {
		return
	}
	w.waits[id] = append(w.waits[id], before)
}

// reaches reports whether a place waits for another, over any number of others.
func (w *arranging) reaches(id, before graph.PositionID) bool {
	seen := map[graph.PositionID]bool{}
	var walk func(at graph.PositionID) bool
	walk = func(at graph.PositionID) bool {
		if seen[at] {
			return false
		}
		seen[at] = true
		return slices.ContainsFunc(w.waits[at], func(next graph.PositionID) bool { return next == before || walk(next) })
	}
	return walk(id)
}

// waitsOf walks from a place over what must be on before it, up to the next
// that comes off on each way.
func (w *arranging) waitsOf(id graph.PositionID) []graph.PositionID {
	var found []graph.PositionID
	seen := map[graph.PositionID]bool{}
	var walk func(at graph.PositionID)
	walk = func(at graph.PositionID) {
		for _, before := range w.After[at] {
			if seen[before] {
				continue
			}
			seen[before] = true
			if w.off[before] {
				found = append(found, before)
				continue
			}
			walk(before)
		}
	}
	walk(id)
	return lists.Unique(found)
}

// sorted is a topological order; what is left over waits in a circle or for
// one.
func sorted(ids []graph.PositionID, waits map[graph.PositionID][]graph.PositionID) (order, cycle []graph.PositionID) {
	left := lists.Unique(slices.Clone(ids))
	for len(left) > 0 {
		at := slices.IndexFunc(left, func(id graph.PositionID) bool {
			return !slices.ContainsFunc(waits[id], func(w graph.PositionID) bool { return slices.Contains(left, w) })
		})
		if at < 0 {
			return append(order, left...), left
		}
		order = append(order, left[at])
		left = slices.Delete(left, at, at+1)
	}
	return order, nil
}
