package assemble

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Joint is what the order of work needs of a joint.
type Joint struct {
	ID        graph.JointID
	A, B      graph.PositionID
	Fasteners []graph.PositionID
	Anew      []graph.PositionID // ends that go on new each time it was open: a seal that a spacer ran in
	Between   []graph.PositionID // what lies between the ends and goes on new each time: a gasket, an O-ring
	Holds     bool               // one end keeps the other in its place; false where the two only pass each other
	Fluid     bool               // fluid passes through it
	Shaft     graph.PositionID   // the end that goes through the other; empty when neither does
	Inner     graph.PositionID   // the end that the other shuts in; empty when neither does
	Nut       graph.PositionID   // the end that is a nut on the axle which is the other; empty when neither is
	Seat      graph.PositionID   // the end that the other is pressed or laid into; empty when neither is
	Pressed   bool               // the other is a bearing or a seal
	Around    graph.PositionID   // the end that reaches round the other, which turns: a caliper; else empty
	Drum      graph.PositionID   // the end that is a drum round the other; else empty
	Lining    graph.PositionID   // the end that comes out of a drum on the other: shoes on their plate; else empty
	Screw     graph.PositionID   // the end that is screwed into the other over what lies between; else empty
	Line      graph.PositionID   // the end that is a line which only a run says ends at the other; else empty
	Electric  bool               // a plug, or a terminal
	Along     bool               // Inner comes out with what shuts it in: a valve with its tyre
}

// Ends are the two places that meet.
func (j Joint) Ends() []graph.PositionID { return []graph.PositionID{j.A, j.B} }

// Places are both ends, the fasteners and what lies between.
func (j Joint) Places() []graph.PositionID { return slices.Concat(j.Ends(), j.Fasteners, j.Between) }

// Other is the end that an end meets.
func (j Joint) Other(id graph.PositionID) graph.PositionID {
	if id == j.A {
		return j.B
	}
	return j.A
}

// Case is a machine and the places on it that get another part.
type Case struct {
	Replaced []graph.PositionID
	There    map[graph.PositionID]bool               // places that hold something before the work
	After    map[graph.PositionID][]graph.PositionID // what must be on before each place is fitted
	Bends    map[graph.PositionID]bool               // hoses, cables and leads, which let what they hold come off
	Lines    map[graph.PositionID]bool               // those of Bends that are nothing besides, chains and belts
	Chains   map[graph.PositionID]bool               // and belts
	Rods     map[graph.PositionID]bool               // of brakes: each is pulled out of what it works once its nut is off
	Glued    map[graph.PositionID]bool               // decals: they stay on what they are on
	Clips    map[graph.PositionID]bool               // clips, of which each joint that they are of has its own
	Joints   []Joint
	Root     graph.PositionID // the frame; empty when none is known
	Wheels   []Wheel
	Rows     []Row
	// Turns is what goes on before each place where both come off, though neither hangs on
	// the other: the chain before the nut that it holds the shaft of.
	Turns map[graph.PositionID][]graph.PositionID
	// OnSpot are places that are put on once what they sit on is on the machine.
	OnSpot map[graph.PositionID]bool
	// Must is what each place follows where a machine goes together for which no joint and
	// no After says so, Late what it better follows, though nothing stops it. They count where
	// nothing else contradicts them.
	Must, Late map[graph.PositionID][]graph.PositionID
	// Small are the places of bolts, nuts, washers, pins and clips, which go in as soon as what
	// they hold is there; Studs are what each stud is screwed into.
	Small map[graph.PositionID]bool
	Studs map[graph.PositionID]graph.PositionID
	// Sides are the sides of places that have one.
	Sides map[graph.PositionID]string
	// Needs is what each place sits in or on, and can't be fitted without.
	Needs map[graph.PositionID][]graph.PositionID
}

// Row is what sits one after another along an axle or a stem, and what that belongs to.
type Row struct {
	Within graph.PositionID
	Row    []graph.PositionID
}

// Arranged is the order of work: Order is that of fitting, and what comes off
// comes off the other way round.
type Arranged struct {
	Order []graph.PositionID
	// Waits is what must be on before each place, as far as Order was made from it.
	Waits map[graph.PositionID][]graph.PositionID
	// Needs is what must be at hand for each place though it goes on later: the rim for a tyre.
	Needs map[graph.PositionID][]graph.PositionID
	// places that each wait for one another by After; they stand last in Order
	Cycle []graph.PositionID
	// what comes off with a part that is replaced, and moves over to the new one, or has
	// another for it there
	MoveTo map[graph.PositionID]graph.PositionID
	With   map[graph.PositionID][]graph.PositionID // what stays on a part while that is off
	Opened []Joint                                 // by identity
	Lifted []Wheel                                 // wheels that come out, or are held up by something that is opened
	Depth  map[graph.PositionID]int                // how many joints from the frame, from 1; 0 where nobody can say
	// OnPlates are brake plates that leave with their wheels, and what stays on them: what works or holds
	// these must be off before.
	OnPlates map[graph.PositionID]bool
	// Bench is what goes into or onto something that is not replaced while that is off the
	// machine, and into what: a bearing into its wheel.
	Bench map[graph.PositionID]graph.PositionID
}

// Arrange finds what has to come off besides what is replaced, and in which
// order it all goes on:
//
//   - what must be on before a part is fitted, by After, also over places that stay;
//   - a wheel after what is in and on it and after what carries it, its axle after the
//     wheel, and calipers after both; what sits along a stem from the bottom up;
//   - what shuts something in after that: a seal over its bearing, a spacer in its seal;
//   - bolts, and pins and clips that are renewed, after what they hold, gaskets before;
//   - what sits on a replaced part and on nothing else before that part, anything
//     else that is joined to it after it;
//   - what is pressed or laid into another after that; a shaft after what it carries
//     and what goes into that; what shuts something in after that;
//   - of two bearings one before the tube between them, the other after it; a nut after its
//     axle; what a wheel alone holds, with its bolts, before the wheel;
//   - bolts of hoses after those of what the hose goes to.
//
// Where two of these contradict each other the earlier one holds. Between equals what is of the
// assembly and side at hand comes first, with its bolts, so that one leg is finished before the
// other; then the order is that of the identities.
func Arrange(c Case) Arranged {
	w := arrangingOf(c)
	for w.wheels() || w.pivots() || w.rows() || w.shut() || w.hangers() || w.stays() || w.rests() ||
		w.bolts() || w.loose() {
	}
	w.benched()
	w.order()
	for id, on := range w.bench {
		w.moves[id] = on
	}
	a := Arranged{MoveTo: w.moves, With: w.with(), Opened: lists.Kept(slices.Clone(c.Joints), w.opens)}
	slices.SortFunc(a.Opened, func(x, y Joint) int { return cmp.Compare(x.ID, y.ID) })
	var last graph.PositionID
	a.Order, a.Cycle = inOrder(lists.KeysOf(w.off), w.waits, func(ready []graph.PositionID) int {
		near := w.beside(ready, last)
		last = cmp.Or(w.follows(near, last.Assembly()), near[0])
		return slices.Index(ready, last)
	})
	a.OnPlates = w.onPlates
	a.Waits, a.Depth, a.Bench = w.waits, w.depth, w.onBench(a.Order)
	a.Lifted = lists.Kept(slices.Clone(c.Wheels), w.isLifted)
	return a
}

func arrangingOf(c Case) *arranging {
	w := &arranging{Case: c, off: map[graph.PositionID]bool{},
		waits: map[graph.PositionID][]graph.PositionID{}, moves: map[graph.PositionID]graph.PositionID{},
		carrier: map[graph.PositionID]graph.PositionID{}, isBolt: map[graph.PositionID]bool{}, depth: depths(c),
		ends: map[graph.PositionID][]*Joint{}, onPlates: map[graph.PositionID]bool{}}
	for i := range c.Joints {
		j := &c.Joints[i]
		for _, id := range j.Fasteners {
			w.isBolt[id] = true
		}
		if w.ends[j.A] = append(w.ends[j.A], j); j.A != j.B {
			w.ends[j.B] = append(w.ends[j.B], j)
		}
	}
	for _, id := range c.Replaced {
		w.off[id] = true
	}
	return w
}

type arranging struct {
	Case
	together bool // a machine in pieces goes together
	search   search
	off      map[graph.PositionID]bool // what comes off, or comes on for the first time
	waits    map[graph.PositionID][]graph.PositionID
	moves    map[graph.PositionID]graph.PositionID
	// carrier is what something stays on that comes off; it counts only while
	// the former does not come off itself.
	carrier map[graph.PositionID]graph.PositionID
	units   []graph.PositionID // carriers of what came loose as one
	isBolt  map[graph.PositionID]bool
	depth   map[graph.PositionID]int
	// onPlates are brake plates that leave with their wheels, and what stays on them.
	onPlates map[graph.PositionID]bool
	ends     map[graph.PositionID][]*Joint // those that a place is an end of, in their order
	// bench is what something is bolted to before that is on the machine: a disc to its wheel
	bench map[graph.PositionID]graph.PositionID
}

// opens reports whether a joint comes apart: something of it comes off, and not
// all of it as one. A hose that is bolted to two parts which go back hangs between them.
func (w *arranging) opens(j Joint) bool {
	if w.hangsBetween(j) {
		return false
	}
	if !slices.ContainsFunc(j.Places(), func(id graph.PositionID) bool {
		return w.leavesOnPlate(id) || w.off[id] && (!w.Clips[id] || slices.Contains(w.Replaced, id)) ||
			w.Chains[j.Other(id)] && w.off[w.asOne(id)]
	}) {
		return false
	}
	return slices.ContainsFunc(j.Places(), func(id graph.PositionID) bool { return w.asOne(id) != w.asOne(j.A) }) ||
		slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return slices.Contains(w.Replaced, id) })
}

// leavesOnPlate reports whether something comes off with a brake plate, or with what stays on one that
// is replaced, in the drum of its wheel.
func (w *arranging) leavesOnPlate(id graph.PositionID) bool {
	on := w.asOne(id)
	return on != id && w.off[on] && w.onPlates[id]
}

func (w *arranging) isPlate(id graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool { return slices.Contains(wheel.Plates, id) })
}

// hangsBetween reports whether a hose stays bolted to a part that comes off and goes back, as
// what it is on at its other end does: two calipers and their splitter.
func (w *arranging) hangsBetween(j Joint) bool {
	isBack := func(id graph.PositionID) bool { return w.off[id] && !slices.Contains(w.Replaced, id) }
	for _, hose := range j.Ends() {
		on, by := j.Other(hose), w.asOne(hose)
		if j.Fluid && w.Bends[hose] && by != hose && by != on && isBack(by) && isBack(w.asOne(on)) &&
			!slices.ContainsFunc(slices.Concat(j.Fasteners, j.Between, []graph.PositionID{hose}),
				func(id graph.PositionID) bool { return w.off[id] }) && len(j.Fasteners) > 0 {
			return true
		}
	}
	return false
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
		for _, on := range j.Ends() {
			id := j.Other(on)
			if !j.Holds || j.Shaft == on || j.Nut == id || !w.off[on] || slices.Contains(w.Replaced, on) || w.Bends[on] ||
				w.off[id] || !w.There[id] || w.isBolt[id] || w.Bends[id] && w.isPlate(on) {
				continue
			}
			if _, have := w.carrier[id]; have || !w.Bends[id] && !w.isHeldBy(id, on) && !w.hangsOnOnly(id, on) {
				continue
			}
			small := w.smallBetween(id, on)
			if slices.ContainsFunc(small, func(bolt graph.PositionID) bool { return w.off[bolt] && w.isBolt[bolt] }) ||
				w.Chains[id] || w.isTied(id, on) {
				continue
			}
			more = true
			for _, one := range append(small, id) {
				w.carrier[one] = on
			}
		}
	}
	return more
}

// smallBetween are the bolts of all joints of two places, and what lies between these.
func (w *arranging) smallBetween(id, on graph.PositionID) []graph.PositionID {
	var small []graph.PositionID
	for _, j := range w.ends[id] {
		if j.Other(id) == on {
			small = slices.Concat(small, j.Fasteners, j.Between)
		}
	}
	return small
}

// isTied reports whether something on a stem that comes out of the frame for the bench is tied to
// the machine by a hose that is bolted to both: a splitter on a yoke. It is unbolted and hangs.
func (w *arranging) isTied(id, stem graph.PositionID) bool {
	return slices.ContainsFunc(w.Rows, func(row Row) bool {
		return row.Within == stem && slices.Contains(row.Row, w.Root)
	}) && slices.ContainsFunc(w.ends[id], func(j *Joint) bool {
		hose := j.Other(id)
		return w.Bends[hose] && j.Fluid && len(j.Fasteners) > 0 && slices.ContainsFunc(w.ends[hose], func(far *Joint) bool {
			return far.Fluid && far.Other(hose) != id && w.asOne(far.Other(hose)) != stem
		})
	})
}

// isHeldBy reports whether something is joined to nothing but one part; a plug holds nothing.
func (w *arranging) isHeldBy(id, on graph.PositionID) bool {
	return !slices.ContainsFunc(w.ends[id], func(j *Joint) bool {
		other := j.Other(id)
		return j.Holds && !j.Electric && other != on && (w.There[other] || w.off[other]) && !w.isBolt[other]
	})
}

// hangsOnOnly reports whether something, with all that is on it, hangs on one part that the
// frame carries too, but for plugs and lines: a lamp with its bulbs on a bracket.
func (w *arranging) hangsOnOnly(id, on graph.PositionID) bool {
	if w.depth[on] == 0 || w.depth[id] <= w.depth[on] {
		return false
	}
	hangs := []graph.PositionID{id}
	for i := 0; i < len(hangs); i++ {
		for _, j := range w.ends[hangs[i]] {
			other := j.Other(hangs[i])
			if !j.Holds || j.Electric || other == on || !w.There[other] ||
				w.isBolt[other] || w.Lines[other] || slices.Contains(hangs, other) {
				continue
			}
			if w.off[other] || w.depth[other] <= w.depth[on] {
				return false
			}
			hangs = append(hangs, other)
		}
	}
	return true
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
		if !w.off[id] && !w.canHang(id) && slices.ContainsFunc(w.After[id], func(on graph.PositionID) bool {
			isStuck := w.Glued[id] && !slices.Contains(w.Replaced, on) || (w.Bends[id] || w.Rods[id]) && w.isPlate(on)
			return w.off[on] && w.There[on] && w.asOne(id) != on && !isStuck && !w.isHeldWithout(id, on)
		}) {
			if w.take(id) {
				return true
			}
		}
	}
	return false
}

// canHang reports whether a hose is left by one end on what stays on the machine, or comes
// off as one with it, while the other end is open; or a chain on what it runs round.
func (w *arranging) canHang(id graph.PositionID) bool {
	if w.Chains[id] {
		return !slices.Contains(w.Replaced, id) && !w.isParted(id)
	}
	return w.Bends[id] && !slices.Contains(w.Replaced, id) && slices.ContainsFunc(w.ends[id], func(j *Joint) bool {
		on := j.Other(id)
		return j.Fluid && w.There[on] && (!w.off[on] || w.asOne(id) == on)
	})
}

// isParted reports whether a chain must be opened, since what carries its wheel comes off,
// round which it runs. For a wheel or a sprocket it is lifted off the teeth.
func (w *arranging) isParted(chain graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool {
		isDriven := slices.ContainsFunc(w.Joints, func(j Joint) bool {
			return slices.Contains(j.Ends(), chain) && wheel.has(j.Other(chain))
		})
		return isDriven && slices.ContainsFunc(wheel.Carriers, func(id graph.PositionID) bool {
			return id != w.Root && w.off[id] && w.isOnAxle(wheel, id)
		})
	})
}

// bolts takes out the bolts of every joint that comes apart, and the nut of an axle.
func (w *arranging) bolts() (more bool) {
	for _, j := range w.Joints {
		if j.Nut != "" && w.off[j.Other(j.Nut)] {
			more = w.take(j.Nut) || more
		}
		if w.opens(j) {
			for _, id := range slices.Concat(j.Fasteners, j.Between, j.Anew) {
				if !w.isStuck(id) {
					more = w.take(id) || more
				}
			}
			more = w.rodNuts(j) || more
		}
	}
	return more
}

// rodNuts takes off the nuts by which a rod works what it comes off.
func (w *arranging) rodNuts(j Joint) (more bool) {
	for _, rod := range j.Ends() {
		for _, k := range w.ends[rod] {
			if nut := k.Other(rod); w.Rods[rod] && !w.off[rod] && !w.Small[j.Other(rod)] && w.Small[nut] {
				more = w.take(nut) || more
			}
		}
	}
	return more
}

// isStuck reports whether a stud stays in what it is screwed into, which is not replaced: only
// its nut comes off. It notes what the stud then comes off with.
func (w *arranging) isStuck(id graph.PositionID) bool {
	in, isStud := w.Studs[id]
	if !isStud || slices.Contains(w.Replaced, in) || w.off[id] {
		return false
	}
	if _, have := w.carrier[id]; !have && w.off[in] {
		w.carrier[id] = in
	}
	return true
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
	slices.SortStableFunc(left, func(a, b []graph.PositionID) int { // what hangs on the frame is not loose
		return lists.Order(!slices.Contains(a, w.Root)) - lists.Order(!slices.Contains(b, w.Root))
	})
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
		places := lists.Kept(j.Places(), func(id graph.PositionID) bool { return w.There[id] && !without[id] })
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
		for _, id := range j.Ends() {
			if _, mine := slices.BinarySearch(island, id); !mine || !j.Holds {
				continue
			}
			joints[id]++
			on := j.Other(id)
			isCarrying := len(j.Fasteners) > 0 && w.depth[id] > 0 && w.depth[id] < w.depth[on]
			isOn := (j.Seat != id || j.Pressed) && slices.Contains(w.Replaced, on) // no rim sits on its tyre
			if !isCarrying && isOn && w.There[on] && !w.Lines[on] && !w.Bends[on] && !w.canHang(id) &&
				!w.isPressedBeside(id, j.Other(id)) {
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
	if !slices.ContainsFunc(island, func(id graph.PositionID) bool { return !w.Chains[id] || !w.canHang(id) }) {
		return false // it hangs round what carries the wheel
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
	w.rowsInTurn()
	w.follow(w.Turns)
	w.wheelsLast()
	w.shutIn()
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
	w.fixedFirst()
	for _, j := range w.Joints {
		if j.Seat != "" && w.bothReplaced(j) {
			w.wait(j.Other(j.Seat), j.Seat)
		}
	}
	for _, j := range w.Joints { // of two that both go on for the first time neither hangs on the other
		if j.Shaft != "" && !w.isBolt[j.Shaft] && w.bothReplaced(j) {
			w.wait(j.Shaft, j.Other(j.Shaft))
		}
	}
	w.seatedFirst()
	w.nutsLast()
	w.restsOn()
	if w.together { // what lies between two goes by which of them is on first
		w.follow(w.Must)
		w.follow(w.Needs)
	}
	for _, j := range w.Joints {
		w.betweenEnds(j)
	}
}

// betweenEnds has what lies between two ends wait for the one that is on first, and the
// other for that; what goes on the other on the bench goes over it.
func (w *arranging) betweenEnds(j Joint) {
	for _, id := range j.Between {
		if j.Screw != "" { // it lies under the head
			w.wait(j.Screw, id)
			continue
		}
		if on, moves := w.moves[j.A]; moves && on == j.B {
			w.wait(j.A, id)
			continue
		}
		if on, moves := w.moves[j.B]; moves && on == j.A {
			w.wait(j.B, id)
			continue
		}
		first, last := j.A, j.B
		if w.off[first] && (!w.off[last] || w.reaches(first, last)) {
			first, last = last, first
		}
		w.wait(id, first)
		w.wait(last, id)
		for _, bolt := range j.Fasteners {
			w.wait(bolt, id)
		}
	}
}

// restsOn has what is joined to a replaced part wait for that, shafts for what they carry,
// and hoses for what they go to.
func (w *arranging) restsOn() {
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
			w.wait(j.Shaft, j.Other(j.Shaft))
			w.pivotFirst(j.Shaft)
		}
	}
	for _, j := range w.Joints {
		if j.Fluid {
			w.hosesLast(j)
		}
	}
	for _, j := range w.Joints { // a hose without bolts is off before what it is on leaves with something else
		for _, hose := range j.Ends() {
			if j.Holds && w.Bends[hose] && !w.Chains[hose] && !j.Electric && len(j.Fasteners) == 0 {
				w.wait(hose, w.asOne(j.Other(hose)))
			}
		}
	}
}

// pivotFirst has the shaft on which something turns wait for that, and the bolts that join it to
// what else is on the machine for the shaft: a swingarm hangs on its pivot before its linkage.
func (w *arranging) pivotFirst(shaft graph.PositionID) {
	if w.isAxle(shaft) {
		return
	}
	turning := w.turnsOn(shaft)
	w.waitAll(shaft, turning)
	for _, id := range turning {
		for _, j := range w.ends[id] {
			if other := j.Other(id); other != shaft && !slices.Contains(turning, other) && w.isCarriedBy(*j, id) {
				for _, bolt := range j.Fasteners {
					w.wait(bolt, shaft)
				}
			}
		}
	}
}

// shutIn has what shuts something in wait for that. Of two bearings the first goes in
// before the tube between them, the second after it.
func (w *arranging) shutIn() {
	for _, j := range w.Joints {
		switch first := w.firstOn(j.Inner); {
		case j.Inner == "":
		case j.Holds && first == j.Other(j.Inner):
			w.wait(j.Inner, first)
		default:
			w.wait(j.Other(j.Inner), j.Inner)
		}
	}
}

// firstOn is the first of two or more that shut in what they hold and come off; empty
// where there are fewer.
func (w *arranging) firstOn(inner graph.PositionID) graph.PositionID {
	var around []graph.PositionID
	for _, j := range w.ends[inner] {
		if inner != "" && j.Inner == inner && j.Holds && w.off[j.Other(inner)] {
			around = append(around, j.Other(inner))
		}
	}
	if around = lists.Unique(around); len(around) < 2 {
		return ""
	}
	return slices.Min(around)
}

// nutsLast has the nut of an axle wait for that.
func (w *arranging) nutsLast() {
	for _, j := range w.Joints {
		if j.Nut != "" {
			w.wait(j.Nut, j.Other(j.Nut))
		}
	}
}

// seatedFirst has a shaft wait for all that goes into what it carries: bearings and
// seals, the tyre on its rim.
func (w *arranging) seatedFirst() {
	seats := map[graph.PositionID][]graph.PositionID{} // of what sits in each
	for _, j := range w.Joints {
		if j.Seat != "" {
			seats[j.Other(j.Seat)] = append(seats[j.Other(j.Seat)], j.Seat)
		}
	}
	for _, j := range w.Joints { // what turns in a bearing goes in once that is pressed in
		for _, id := range j.Ends() {
			if on := j.Other(id); j.Holds && j.Shaft == "" && j.Inner == "" && j.Nut == "" && w.isPressedBeside(on, id) &&
				!w.isPressedBeside(id, on) && !w.isBolt[id] && !w.sits(on, w.Root) {
				w.wait(id, on)
			}
		}
	}
	for _, j := range w.Joints {
		if j.Shaft == "" || w.isBolt[j.Shaft] || !w.bothReplaced(j) {
			continue
		}
		carried := append([]graph.PositionID{j.Other(j.Shaft)}, seats[j.Other(j.Shaft)]...)
		for _, k := range w.Joints {
			if k.Seat != "" && slices.Contains(carried, k.Seat) && w.bothReplaced(k) && k.Other(k.Seat) != j.Shaft {
				w.wait(j.Shaft, k.Other(k.Seat))
			}
		}
	}
}

// bothReplaced reports whether both sides of a joint are replaced.
func (w *arranging) bothReplaced(j Joint) bool {
	return slices.Contains(w.Replaced, j.A) && slices.Contains(w.Replaced, j.B)
}

// hangsOn has what is joined to a replaced part, and stays on the machine's side,
// wait for that part.
func (w *arranging) hangsOn(j Joint) {
	for _, id := range j.Ends() {
		if on := j.Other(id); j.Holds && j.Inner == "" && slices.Contains(w.Replaced, on) &&
			!slices.Contains(w.Replaced, id) && w.moves[id] != on {
			w.wait(id, on)
		}
	}
}

// movesOver notes what sat on a replaced part and on nothing else that stays.
func (w *arranging) movesOver(j Joint) {
	for _, id := range j.Ends() {
		on := j.Other(id)
		if !j.Holds || j.Shaft != "" || j.Inner != "" || j.Nut != "" || w.isBolt[id] || w.isBolt[on] ||
			!w.off[id] || slices.Contains(w.Replaced, id) || !slices.Contains(w.Replaced, on) || !w.There[on] || w.OnSpot[id] ||
			j.Seat == id {
			continue
		}
		if w.reaches(id, on) || w.reaches(on, id) || w.isHeldBesides(id) || w.joinsTwo(id) {
			continue
		}
		if have, ok := w.moves[id]; !ok || j.Seat == on || on < have && !w.sits(id, have) {
			w.moves[id] = on
		}
	}
}

// sits reports whether something is pressed or laid into another.
func (w *arranging) sits(id, in graph.PositionID) bool {
	return slices.ContainsFunc(w.Joints, func(j Joint) bool { return j.Seat == in && j.Other(in) == id })
}

// isHeldBesides reports whether something is joined to a part that stays on.
func (w *arranging) isHeldBesides(id graph.PositionID) bool {
	return slices.ContainsFunc(w.ends[id], func(j *Joint) bool {
		return j.Holds && w.There[j.Other(id)] && !w.off[j.Other(id)]
	})
}

// benched notes what is replaced together with the wheel or carrier that alone holds it.
func (w *arranging) benched() {
	w.bench = map[graph.PositionID]graph.PositionID{}
	for _, j := range w.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			if !j.Holds || w.isBolt[id] || !w.bothReplaced(j) {
				continue
			}
			isHub := slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool { return wheel.Hub == on && wheel.has(id) })
			isSeat := func(k Joint) bool { return k.Seat == on && k.Other(on) != id }
			if isHub || len(j.Fasteners) > 0 && w.isHeldBy(id, on) && !w.isHeldBy(on, id) &&
				slices.ContainsFunc(w.Joints, isSeat) {
				w.bench[id] = on
			}
		}
	}
}

// onBench finds what goes, by an order of fitting, into or onto something that is not on the
// machine yet: what is pressed or laid in first, then what hangs on it, then all that is in and
// on a wheel.
func (w *arranging) onBench(order []graph.PositionID) map[graph.PositionID]graph.PositionID {
	turn := map[graph.PositionID]int{}
	for i, id := range order {
		turn[id] = i + 1
	}
	bench := map[graph.PositionID]graph.PositionID{}
	for _, id := range order {
		if w.isBolt[id] || w.Small[id] || w.moves[id] != "" || w.bench[id] != "" {
			continue
		}
		for _, j := range w.ends[id] {
			on := j.Other(id)
			isIn := j.Seat == on && on != w.Root || j.Shaft == "" && w.isCarriedBy(*j, id) && w.isHeldBy(id, on)
			if isIn && turn[on] > turn[id] && (bench[id] == "" || j.Seat == on) {
				bench[id] = on
			}
		}
		for _, wheel := range w.Wheels {
			if wheel.On[id] > 0 && bench[id] == "" && turn[wheel.Hub] > turn[id] {
				bench[id] = wheel.Hub
			}
		}
	}
	return bench
}

// boltsLast has bolts wait for what they hold, except the part on the machine
// that something else is bolted to before.
func (w *arranging) boltsLast(j Joint) {
	for _, id := range j.Ends() {
		on := j.Other(id)
		for _, bolt := range j.Fasteners {
			switch in := w.Studs[bolt]; {
			case in == on && (w.together || w.off[bolt] && slices.Contains(w.Replaced, on)): // over a stud goes what it holds
				w.wait(id, bolt)
			case w.moves[on] != id && w.bench[on] != id:
				w.wait(bolt, id)
			}
		}
	}
}

// fixedFirst has what goes on a part on the machine wait for the bolts by which that is fixed
// nearer to the frame: what hangs on a part, or joins two, is off before their own bolts are
// opened, as a mudguard before the clamps of its fork legs.
func (w *arranging) fixedFirst() {
	for _, id := range lists.KeysOf(w.off) {
		if w.isBolt[id] || w.moves[id] != "" || w.bench[id] != "" {
			continue
		}
		on, two := slices.Clone(w.After[id]), w.joinsTwo(id)
		for _, j := range w.ends[id] {
			if other := j.Other(id); w.isCarriedBy(*j, id) && len(j.Fasteners) > 0 {
				if on = append(on, other); two {
					w.wait(id, other)
				}
			}
		}
		for _, carrier := range lists.Unique(on) {
			for _, j := range w.ends[carrier] {
				if other := j.Other(carrier); other != id && w.isCarriedBy(*j, carrier) && w.moves[carrier] != other &&
					w.bench[carrier] != other {
					w.waitAll(id, j.Fasteners)
				}
			}
		}
	}
}

// isCarriedBy reports whether a joint holds one of its ends to the other, which is nearer to the
// frame.
func (w *arranging) isCarriedBy(j Joint, id graph.PositionID) bool {
	on := j.Other(id)
	return j.Holds && !j.Electric && !w.isBolt[on] && !w.Lines[on] && w.depth[on] > 0 && w.depth[on] < w.depth[id]
}

// joinsTwo reports whether something that comes off is bolted to two parts, each of which comes off
// by itself: a mudguard on both fork legs. It goes on neither of them on the bench.
func (w *arranging) joinsTwo(id graph.PositionID) bool {
	var carriers []graph.PositionID
	for _, j := range w.ends[id] {
		on := j.Other(id)
		if w.off[on] && w.isCarriedBy(*j, id) && len(j.Fasteners) > 0 && !w.isOfWheel(on) {
			carriers = append(carriers, on)
		}
	}
	return len(lists.Unique(carriers)) > 1
}

func (w *arranging) isOfWheel(id graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool { return wheel.has(id) })
}

func (w *arranging) waitAll(id graph.PositionID, before []graph.PositionID) {
	for _, one := range before {
		w.wait(id, one)
	}
}

// threadsLast has bolts wait for what they screw into.
func (w *arranging) threadsLast(j Joint) {
	for _, id := range j.Ends() {
		if on := j.Other(id); w.isBolt[id] && !w.isBolt[on] {
			w.wait(id, on)
		}
	}
}

// boltsOver has the bolts between a replaced part and what moves over to the new
// one be in before that is on the machine.
func (w *arranging) boltsOver(j Joint) {
	for _, id := range j.Ends() {
		for _, bolt := range j.Fasteners {
			if on := j.Other(id); w.moves[id] == on || w.bench[id] == on {
				w.wait(on, bolt)
			}
		}
	}
}

// hosesLast has the bolts of a hose go in after those of what it goes to.
func (w *arranging) hosesLast(hose Joint) {
	for i := range w.Joints {
		j := &w.Joints[i]
		if j.Fluid || j.A != hose.A && j.A != hose.B && j.B != hose.A && j.B != hose.B {
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
	return w.search.finds(w.waits, id, before)
}

// search looks along what waits for what. It remembers where it has been by the
// number of the search, so that a search needs no memory of its own.
type search struct {
	number int
	seen   map[graph.PositionID]int
}

func (s *search) finds(waits map[graph.PositionID][]graph.PositionID, from, to graph.PositionID) bool {
	if s.seen == nil {
		s.seen = map[graph.PositionID]int{}
	}
	s.number++
	return s.walk(waits, from, to)
}

func (s *search) walk(waits map[graph.PositionID][]graph.PositionID, at, to graph.PositionID) bool {
	if s.seen[at] == s.number {
		return false
	}
	s.seen[at] = s.number
	return slices.ContainsFunc(waits[at], func(next graph.PositionID) bool {
		return next == to || s.walk(waits, next,
			to)
	})
}

// beside are those of some places that are of the assembly and side of another, with the bolts of
// that side; all of them where there are none, or that has no side.
func (w *arranging) beside(ready []graph.PositionID, last graph.PositionID) []graph.PositionID {
	side := w.Sides[last]
	near := lists.Kept(slices.Clone(ready), func(id graph.PositionID) bool {
		return side != "" && w.Sides[id] == side && (id.Assembly() == last.Assembly() || w.Small[id])
	})
	if len(near) == 0 {
		return ready
	}
	return near
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

// sorted is a topological order: of what waits for nothing more, the first by
// identity comes next. What is left over waits in a circle, or for one.
func sorted(ids []graph.PositionID, waits map[graph.PositionID][]graph.PositionID) (order, cycle []graph.PositionID) {
	return inOrder(ids, waits, func(ready []graph.PositionID) int { return 0 })
}

// inOrder is a topological order in which pick chooses what comes next out of
// what waits for nothing more, sorted by identity.
func inOrder(ids []graph.PositionID, waits map[graph.PositionID][]graph.PositionID,
	pick func(ready []graph.PositionID) int) (order, cycle []graph.PositionID) {
	left, later := map[graph.PositionID]int{}, map[graph.PositionID][]graph.PositionID{}
	for _, id := range ids {
		left[id] = 0
	}
	for id := range left {
		for _, before := range lists.Unique(slices.Clone(waits[id])) {
			if _, waited := left[before]; waited {
				left[id]++
				later[before] = append(later[before], id)
			}
		}
	}
	var ready []graph.PositionID
	for _, id := range lists.KeysOf(left) {
		if left[id] == 0 {
			ready = append(ready, id)
		}
	}
	for len(ready) > 0 {
		at := pick(ready)
		next := ready[at]
		ready = slices.Delete(ready, at, at+1)
		order = append(order, next)
		delete(left, next)
		for _, id := range later[next] {
			if left[id]--; left[id] == 0 {
				at, _ := slices.BinarySearch(ready, id)
				ready = slices.Insert(ready, at, id)
			}
		}
	}
	cycle = lists.KeysOf(left)
	if len(cycle) == 0 {
		return order, nil
	}
	return append(order, cycle...), cycle
}

// HeldUp are the places that can't be fitted now: what is not at hand, and what
// waits for such a place, over any number of others, or needs it. Each comes with the places
// that are not at hand and hold it up, sorted; a place that is not at hand holds
// up itself.
func (a Arranged) HeldUp(atHand func(graph.PositionID) bool) map[graph.PositionID][]graph.PositionID {
	held := map[graph.PositionID][]graph.PositionID{}
	for _, id := range a.Order {
		var by []graph.PositionID
		if !atHand(id) {
			by = append(by, id)
		}
		for _, before := range a.Waits[id] {
			by = append(by, held[before]...)
		}
		for _, in := range a.Needs[id] {
			if !atHand(in) {
				by = append(by, in)
			}
		}
		if len(by) > 0 {
			slices.Sort(by)
			held[id] = slices.Compact(by)
		}
	}
	return held
}

// opensFor reports whether a wheel must leave the machine for what comes off.
func (w *arranging) opensFor(wheel Wheel) bool {
	isOff := func(id graph.PositionID) bool { return w.off[id] }
	for id := range wheel.On {
		if isOff(id) {
			return true
		}
	}
	isNeeded := func(id graph.PositionID) bool { return !w.isSpare(wheel, id) }
	return slices.ContainsFunc(wheel.Axles, isOff) ||
		slices.ContainsFunc(lists.Kept(slices.Clone(wheel.Carriers), isNeeded), isOff) ||
		slices.ContainsFunc(w.Joints, func(j Joint) bool {
			return wheel.isCarriedBy(j) && isNeeded(j.A) && isNeeded(j.B) && slices.ContainsFunc(j.Fasteners, isOff)
		})
}

// isSpare reports whether the wheel stays held without something that carries it too: it is no
// nearer to the frame than what the axle goes through, as an upper yoke over legs that the
// lower one holds.
func (w *arranging) isSpare(wheel Wheel, id graph.PositionID) bool {
	legs := lists.Kept(slices.Clone(wheel.Carriers), func(leg graph.PositionID) bool { return w.isOnAxle(wheel, leg) })
	return len(legs) > 0 && w.depth[id] > 0 && !slices.Contains(legs, id) &&
		!slices.ContainsFunc(legs, func(leg graph.PositionID) bool { return w.depth[leg] == 0 || w.depth[leg] > w.depth[id] })
}

// isHeldWithout reports whether something is what an axle goes through, and stays held without
// what also carries the wheel.
func (w *arranging) isHeldWithout(id, without graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool {
		return slices.Contains(wheel.Carriers, id) && w.isOnAxle(wheel, id) && slices.Contains(wheel.Carriers, without) &&
			w.isSpare(wheel, without)
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
		for _, plate := range wheel.Plates { // it leaves in the drum, with the shoes on it
			more = w.take(plate) || more
			more = w.ridesOn(plate, wheel) || more
		}
		w.rides(wheel)
	}
	return more
}

// ridesOn notes what stays on a brake plate that leaves with its wheel: shoes, cam and arm, each held by
// nothing but what does so too.
func (w *arranging) ridesOn(plate graph.PositionID, wheel Wheel) (more bool) {
	isFree := func(id graph.PositionID) bool {
		return w.isBolt[id] || w.Bends[id] || w.Rods[id] || wheel.Hub == id || slices.Contains(wheel.Axles, id)
	}
	held := w.hanging(w.Root, func(id graph.PositionID) bool { return id == plate || isFree(id) })
	riders := w.hanging(plate, func(id graph.PositionID) bool {
		return isFree(id) || slices.Contains(held, id) || w.off[id] && !slices.Contains(w.Replaced, plate) || !w.There[id] ||
			w.Root == "" && id.Assembly() != plate.Assembly()
	})
	for _, id := range riders {
		w.onPlates[id] = true
		if id == plate || slices.Contains(w.Replaced, plate) {
			continue
		}
		for _, one := range append(w.smallAround(id, riders), id) {
			if _, have := w.carrier[one]; !have && !w.off[one] {
				w.carrier[one], more = plate, true
			}
		}
	}
	return more
}

// hanging are a place and what hangs together with it, but for some.
func (w *arranging) hanging(from graph.PositionID, without func(graph.PositionID) bool) []graph.PositionID {
	all, seen := []graph.PositionID{from}, map[graph.PositionID]bool{from: true}
	for i := 0; i < len(all); i++ {
		for _, j := range w.ends[all[i]] {
			if id := j.Other(all[i]); j.Holds && !j.Electric && !seen[id] && !without(id) {
				seen[id] = true
				all = append(all, id)
			}
		}
	}
	return all
}

// smallAround are the bolts of the joints of something with others.
func (w *arranging) smallAround(id graph.PositionID, others []graph.PositionID) []graph.PositionID {
	var small []graph.PositionID
	for _, on := range others {
		small = append(small, w.smallBetween(id, on)...)
	}
	return small
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
	return slices.ContainsFunc(w.ends[id], func(j *Joint) bool { return slices.Contains(wheel.Axles, j.Other(id)) })
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
		for _, j := range w.ends[riders[i]] {
			if !j.Holds {
				continue
			}
			if other := j.Other(riders[i]); !w.off[other] && wheel.has(other) {
				for _, id := range slices.Concat([]graph.PositionID{other}, j.Fasteners, j.Between) {
					add(id)
				}
			}
		}
	}
}

// pivots takes out the shaft on which something turns that comes off: the pivot of a
// swingarm.
func (w *arranging) pivots() (more bool) {
	for _, j := range w.Joints {
		if j.Shaft == "" || w.isAxle(j.Shaft) || w.off[j.Shaft] {
			continue
		}
		if slices.ContainsFunc(w.turnsOn(j.Shaft), func(id graph.PositionID) bool { return w.off[id] }) {
			more = w.take(j.Shaft) || more
		}
	}
	return more
}

// isAxle reports whether a wheel turns on something.
func (w *arranging) isAxle(id graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool { return slices.Contains(wheel.Axles, id) })
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

// shut takes off what shuts in something that comes off, and what comes out along with it.
func (w *arranging) shut() (more bool) {
	for _, j := range w.Joints {
		if j.Inner != "" && w.off[j.Inner] && w.There[j.Inner] {
			more = w.take(j.Other(j.Inner)) || more
		}
		if j.Along && w.off[j.Other(j.Inner)] {
			more = w.take(j.Inner) || more
		}
	}
	return more
}

// hangers take off what sits on a part that is replaced, farther from the frame than
// that, so that it moves over: grips and switches on a bar. Nothing sits on a chain, a
// cable or a hose.
func (w *arranging) hangers() (more bool) {
	for _, j := range w.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			if j.Line == id && slices.Contains(w.Replaced, on) && w.There[on] {
				more = w.take(id) || more
			}
			if !j.Holds || j.Electric || j.Inner != "" || j.Nut != "" || w.isBolt[id] || w.isBolt[on] || w.Lines[id] ||
				w.isSprung(id, on) || j.Seat == id && !j.Pressed && !w.isHeldBy(id, on) ||
				w.Lines[on] || w.Bends[on] || !w.There[on] ||
				!slices.Contains(w.Replaced, on) || w.depth[on] == 0 || j.Seat != on && w.depth[id] <= w.depth[on] ||
				w.isPressedBeside(id, on) {
				continue
			}
			more = w.take(id) || more
		}
	}
	return more
}

// isSprung reports whether something that carries a wheel turns on a pivot of its own, and a spring
// only holds it up: a swingarm on its shock.
func (w *arranging) isSprung(id, by graph.PositionID) bool {
	return slices.ContainsFunc(w.Wheels, func(wheel Wheel) bool {
		return slices.Contains(wheel.Sprung, by) && slices.Contains(wheel.Carriers, id)
	})
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
		w.platesIn(wheel)
		for _, id := range lists.KeysOf(wheel.On) {
			w.wait(wheel.Hub, id)
		}
		for _, axle := range wheel.Axles {
			for _, j := range w.Joints { // it is pushed through all that it carries
				if j.Shaft == axle {
					w.wait(axle, j.Other(axle))
				}
			}
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

// platesIn has brake plates go into the drum before the wheel goes in, and what holds and works them
// follow the axle: torque rod, brake rod.
func (w *arranging) platesIn(wheel Wheel) {
	for _, plate := range wheel.Plates {
		w.wait(wheel.Hub, plate)
		for _, j := range w.Joints {
			isOn := func(id graph.PositionID) bool { return id == plate || w.onPlates[id] }
			if isOn(j.A) == isOn(j.B) || slices.Contains(wheel.Axles, j.A) || slices.Contains(wheel.Axles, j.B) {
				continue
			}
			out := slices.Clone(j.Fasteners)
			for _, rod := range j.Ends() {
				for _, k := range w.ends[rod] {
					if w.Rods[rod] && w.Small[k.Other(rod)] {
						out = append(out, k.Other(rod))
					}
				}
			}
			for _, id := range out {
				w.waitAll(id, append([]graph.PositionID{wheel.Hub}, wheel.Axles...))
			}
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
	for _, j := range w.ends[leg] {
		if id := j.Other(leg); j.Pressed && j.Seat == leg || w.liesIn(wheel, *j, id) {
			in = append(in, id)
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

// follows is the bolt, nut, washer, pin or clip that goes in next, since what it holds was
// just put on: one of the assembly at hand before another; empty where there is none.
func (w *arranging) follows(ready []graph.PositionID, at graph.AssemblyID) graph.PositionID {
	small := lists.Kept(slices.Clone(ready), func(id graph.PositionID) bool {
		return w.Small[id] && len(w.waits[id]) > 0
	})
	if len(small) == 0 {
		return ""
	}
	return slices.MinFunc(small, func(a, b graph.PositionID) int {
		return cmp.Or(lists.Order(a.Assembly() != at)-lists.Order(b.Assembly() != at), cmp.Compare(a, b))
	})
}

// follow has places wait for what they follow.
func (w *arranging) follow(turns map[graph.PositionID][]graph.PositionID) {
	for _, id := range lists.KeysOf(turns) {
		for _, before := range turns[id] {
			w.wait(id, before)
		}
	}
}
