package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// panelOnCarrier is rule 12: the mounting points of a panel and of what carries
// it, matched one to one. What is left over is the making list.
func panelOnCarrier(b *bench, m Meeting) {
	c := b.check("mounting points")
	a, okA := c.read(m.A, "points", measure.Points)
	other, okB := c.read(m.B, "points", measure.Points)
	if !okA || !okB {
		return
	}
	for _, bolt := range m.Bolts {
		boltAtPoints(b.check("bolt at points"), bolt, a.Points, other.Points)
	}
	p := pairing{c: c, m: m, a: a.Points, b: other.Points}
	c.sizes(points(len(p.a)), points(len(p.b)), "")
	if !view(&p) {
		return
	}
	p.match()
	if p.mirrored() {
		c.no("its points lie mirrored: it is made for the other side")
		return
	}
	p.judge()
}

// boltAtPoints holds a bolt against the points that it goes through: one of them is tapped
// for it, or it goes through a plain hole on both sides and into a nut. Which of several it
// holds nobody says, so that one is enough.
func boltAtPoints(c *check, bolt Side, a, b []measure.Point) {
	male, ok := c.thread(bolt, "thread")
	if !ok {
		return
	}
	var tapped, plain []string
	through := [2]string{}
	for side, points := range [][]measure.Point{a, b} {
		for _, p := range points {
			d, hole := male.Nominal, p.Hole.Quantity.Nominal
			switch {
			case isPeg(p) || strings.EqualFold(p.Insert, "stud"):
			case p.Hole.Type == measure.Thread && p.Hole.Thread.Same(male):
				c.fits("%s goes into the thread at %s", male, p.Place)
				return
			case p.Hole.Type == measure.Thread:
				tapped = append(tapped, fmt.Sprintf("%s at %s", p.Hole.Thread, p.Place))
			default:
				plain = append(plain, fmt.Sprintf("%s at %s", p.Hole, p.Place))
				if hole >= d-eps && hole <= d+coarsePlay(d)+eps {
					through[side] = p.Place
				}
			}
		}
	}
	switch {
	case through[0] != "" && through[1] != "":
		c.fits("%s goes through the hole at %s on both sides", male, through[0])
	case len(tapped) > 0:
		c.no("%s goes into none of the threads there: %s", male, strings.Join(tapped, ", "))
	case len(plain) > 0:
		plain = slices.Compact(slices.Sorted(slices.Values(plain)))
		c.no("%s goes through none of the holes there as a bolt must: %s", male, strings.Join(plain, ", "))
	}
}

// leastMirrored is how many placed points tell a mirrored panel from a straight
// one: any two lie mirrored in their own middle.
const leastMirrored = 3

// mirrored reports whether a panel's points all meet when left and right are
// swapped, and not as they are. Seen from the side both hands have the same
// points, and only the hand of the panel tells.
func (p *pairing) mirrored() bool {
	if p.allMeet() || len(p.a) < leastMirrored || len(p.a) != len(p.b) {
		return false
	}
	flipped := pairing{c: p.c, m: p.m, b: p.b}
	for _, a := range p.a {
		switch {
		case !a.Placed:
			return false
		case p.axes.xPlus == furtherLeft:
			a.X = -a.X
		case p.axes.yPlus == furtherLeft:
			a.Y = -a.Y
		default:
			return false
		}
		// A mirrored point may be called after the other side.
		a.Place = ""
		flipped.a = append(flipped.a, a)
	}
	flipped.b = nil
	for _, b := range p.b {
		b.Place = ""
		flipped.b = append(flipped.b, b)
	}
	flipped.match()
	return flipped.allMeet()
}

// allMeet reports whether every point meets one opposite, and suits it.
func (p *pairing) allMeet() bool {
	if len(p.a) != len(p.b) {
		return false
	}
	for i, a := range p.a {
		if j := p.at(i); j < 0 || p.fault(a, p.b[j]) != "" {
			return false
		}
	}
	return true
}

func points(n int) string {
	if n == 1 {
		return "1 point"
	}
	return fmt.Sprintf("%d points", n)
}

func meeting(n int) string {
	if n == 1 {
		return "1 point meets"
	}
	return points(n) + " meet"
}

// pointOff is how far two points may lie apart and still be pulled together, in
// mm, beyond what their holes give. Common practice, no source.
const pointOff = 1.0

// pairing is two sets of points and how they are matched.
type pairing struct {
	c      *check
	m      Meeting
	a, b   []measure.Point
	dx, dy float64 // where the origin of b lies as seen from a
	of     []int   // the point of b that each point of a meets; -1 for none
	axes   axes    // zero when nobody said how the points are seen
}

// What a match costs: the distance in mm up to mostApart, then a little more
// for a hole that does not suit and for another name. Two points that are left
// over cost unmatched, more than the dearest match (40 + 10 at most for points of
// one name), so that a match by name always beats none. They only choose which
// points are compared; no verdict hangs on how large they are, and they are ours.
const (
	mostApart = 40.0
	otherHole = 10.0
	otherName = 1.0
	unmatched = 60.0
)

// match tries every way to lay the two sets over each other that some pair of
// points suggests and keeps the best. The parts have origins of their own, so
// positions only count once one set is laid over the other.
func (p *pairing) match() {
	best := math.Inf(1)
	tried := 0
	try := func(dx, dy float64) {
		tried++
		if of, total := p.assign(dx, dy); total < best-eps {
			best, p.dx, p.dy, p.of = total, dx, dy, of
		}
	}
	try(0, 0)
	for _, alike := range []bool{true, false} {
		for _, a := range p.a {
			for _, b := range p.b {
				if a.Placed && b.Placed && strings.EqualFold(a.Place, b.Place) == alike && tried < maxLays {
					try(a.X-b.X, a.Y-b.Y)
				}
			}
		}
	}
}

// maxLays is how many ways to lay two panels over each other are tried, those
// that points of one name suggest first. Twenty points on each side use all. It
// bounds the time an answer takes, and is ours.
const maxLays = 400

func (p *pairing) assign(dx, dy float64) ([]int, float64) {
	if len(p.a) == 0 || len(p.b) == 0 {
		return make([]int, 0), 0
	}
	cost := make([][]float64, len(p.a))
	for i, a := range p.a {
		cost[i] = make([]float64, len(p.b))
		for j, b := range p.b {
			cost[i][j] = pointCost(a, b, dx, dy)
		}
	}
	of := Assign(cost)
	total := 0.0
	for i, j := range of {
		if j < 0 || cost[i][j] >= unmatched {
			of[i] = -1
			total += unmatched
			continue
		}
		total += cost[i][j]
	}
	return of, total
}

// pointCost is how badly two points meet. Points of one name belong together
// even when they miss each other; points of different names only when they lie
// on each other.
func pointCost(a, b measure.Point, dx, dy float64) float64 {
	cost := 0.0
	apart, known := distance(a, b, dx, dy)
	if known {
		cost += min(apart, mostApart)
	}
	if !strings.EqualFold(a.Place, b.Place) {
		if !known || apart > pointOff+holePlay(a, b) {
			return unmatched
		}
		cost += otherName
	}
	if holeFault(a, b) != "" {
		cost += otherHole
	}
	return cost
}

func distance(a, b measure.Point, dx, dy float64) (float64, bool) {
	return math.Hypot(a.X-b.X-dx, a.Y-b.Y-dy), a.Placed && b.Placed
}

// holePlay is the clearance between the hole of one point and the bolt of the
// other, in mm; 0 when that is not known.
func holePlay(a, b measure.Point) float64 {
	hole, bolt := a, b
	if hole.Hole.Type == measure.Thread {
		hole, bolt = b, a
	}
	if hole.Hole.Type != measure.Length || bolt.Hole.Type != measure.Thread {
		return 0
	}
	return max(0, hole.Hole.Quantity.Nominal-bolt.Hole.Thread.Nominal)
}

// holeFault says why the holes of two points do not go together; empty when
// they do.
func holeFault(a, b measure.Point) string {
	threadA, threadB := a.Hole.Type == measure.Thread, b.Hole.Type == measure.Thread
	switch {
	case threadA && threadB:
		return fmt.Sprintf("tapped %s on both sides", a.Hole.Thread)
	case isPeg(a) || isPeg(b):
		return pegFault(a, b)
	case !threadA && !threadB:
		if math.Abs(a.Hole.Quantity.Nominal-b.Hole.Quantity.Nominal) > holeMatch+eps {
			return fmt.Sprintf("%s against %s", a.Hole, b.Hole)
		}
		return ""
	case threadA:
		a, b = b, a
	}
	d, hole := b.Hole.Thread.Nominal, a.Hole.Quantity.Nominal
	// A grommet, collar or well nut in the panel takes up a wider hole.
	if hole < d-eps || hole > d+coarsePlay(d)+eps && a.Insert == "" {
		return fmt.Sprintf("%s hole for %s", a.Hole, b.Hole.Thread)
	}
	return ""
}

// What a peg may be off what it sits in, in mm. Common practice, no source: the
// rubber of a grommet is pushed on over a peg up to 1.5 mm thicker than its bore.
const (
	pegTight = 1.5 // over a grommet's bore
	pegLoose = 1.0 // under any bore
)

// isPeg reports whether a point is a peg that is pushed in, not a hole.
func isPeg(p measure.Point) bool {
	return slices.ContainsFunc([]string{"peg", "pin", "lug", "spigot"},
		func(word string) bool { return strings.EqualFold(p.Insert, word) })
}

// pegFault says why a peg does not go with the point opposite; empty when it
// does. A peg in a grommet holds as it is, and needs nothing made.
func pegFault(a, b measure.Point) string {
	peg, hole := a, b
	if !isPeg(peg) {
		peg, hole = b, a
	}
	switch {
	case isPeg(hole):
		return fmt.Sprintf("a %s against a %s", pointWords(peg), pointWords(hole))
	case hole.Hole.Type != measure.Length || peg.Hole.Type != measure.Length:
		return fmt.Sprintf("a %s where a screw belongs", pointWords(peg))
	}
	over := peg.Hole.Quantity.Nominal - hole.Hole.Quantity.Nominal
	tight := 0.0
	if strings.EqualFold(hole.Insert, "grommet") || strings.EqualFold(hole.Insert, "bush") {
		tight = pegTight
	}
	if over > tight+eps || over < -pegLoose-eps {
		return fmt.Sprintf("a %s in a %s", pointWords(peg), pointWords(hole))
	}
	return ""
}

// judge states what meets and lists what has to be made.
func (p *pairing) judge() {
	var making []Field
	var metA, metB []measure.Point
	taken := map[int]bool{}
	for i, a := range p.a {
		j := p.at(i)
		if j < 0 {
			continue
		}
		taken[j] = true
		if fault := p.fault(a, p.b[j]); fault != "" {
			making = append(making, Field{short(p.m.A) + " " + a.Place, fault})
			continue
		}
		metA, metB = append(metA, a), append(metB, p.b[j])
	}
	for i, a := range p.a {
		if p.at(i) < 0 {
			making = append(making, Field{short(p.m.A) + " " + a.Place, p.axes.leftOver(a, metA) + fastening(a)})
		}
	}
	for j, b := range p.b {
		if !taken[j] {
			making = append(making, Field{short(p.m.B) + " " + b.Place, p.axes.leftOver(b, metB) + fastening(b)})
		}
	}
	if len(making) == 0 {
		p.c.fits("all %s meet", points(len(metA)))
		return
	}
	p.verdict(len(metA), making)
}

// fastening says what a point wants opposite that a bolt goes through: a plain hole, or one
// with a collar. Common practice, no source.
func fastening(p measure.Point) string {
	if p.Hole.Type != measure.Length || p.Insert != "" && !strings.EqualFold(p.Insert, "collar") {
		return ""
	}
	return ", for a bolt: a thread, clip nut or well nut wanted there"
}

func (p *pairing) at(i int) int {
	if i < len(p.of) {
		return p.of[i]
	}
	return -1
}

// fault says why two matched points miss each other: by their place, then by
// what they are.
func (p *pairing) fault(a, b measure.Point) string {
	var faults []string
	if apart, known := distance(a, b, p.dx, p.dy); known && apart > pointOff+holePlay(a, b)+eps {
		faults = append(faults, p.axes.away(a.X-b.X-p.dx, a.Y-b.Y-p.dy, "the "+pointWords(b)+" opposite"))
	}
	switch {
	case holeFault(a, b) != "":
		faults = append(faults, holeFault(a, b))
	case !strings.EqualFold(a.Insert, b.Insert) && a.Insert != "" && b.Insert != "" && sameSort(a, b):
		faults = append(faults, fmt.Sprintf("%s against %s", a.Insert, b.Insert))
	}
	return strings.Join(faults, ", and ")
}

// sameSort reports whether two points are both holes or both threads, so that
// their inserts should be alike; a grommet against an insert nut is how a panel
// is held.
func sameSort(a, b measure.Point) bool {
	return a.Hole.Type == b.Hole.Type && !isPeg(a) && !isPeg(b)
}

func pointWords(p measure.Point) string {
	if p.Insert == "" {
		return p.Hole.String()
	}
	return p.Hole.String() + " " + p.Insert
}

// verdict closes the making list. Points without a position may only have
// another name on the other part: that must be measured first.
func (p *pairing) verdict(met int, making []Field) {
	words := make([]string, len(making))
	for i, f := range making {
		words[i] = f.Name + ": " + f.Value
	}
	p.c.Gap = points(len(making))
	p.c.order("making list", "make or alter "+strings.Join(words, "; "), making...)
	if loose := p.unplaced(); loose {
		askTwo(p.c, p.m, "points", "points")
		p.c.unknown("%s; %s with names of their own and no position may be the same or not: measure where they lie",
			meeting(met), points(len(making)))
		return
	}
	if met == 0 {
		p.c.no("none of the points meet")
		return
	}
	p.c.change(graph.EffortLatheWeld, "make or alter "+strings.Join(words, "; "),
		"%s, %s to make or alter", meeting(met), points(len(making)))
}

// unplaced reports whether a left-over point on both parts has no position.
func (p *pairing) unplaced() bool {
	taken, looseA, looseB, placedA, placedB := map[int]bool{}, 0, 0, true, true
	for i, a := range p.a {
		if j := p.at(i); j >= 0 {
			taken[j] = true
			continue
		}
		looseA++
		placedA = placedA && a.Placed
	}
	for j, b := range p.b {
		if !taken[j] {
			looseB++
			placedB = placedB && b.Placed
		}
	}
	return looseA > 0 && looseB > 0 && !(placedA && placedB)
}
