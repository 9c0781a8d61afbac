package mating

import (
	"matewell/graph"
	"matewell/graph/measure"
)

// The functions here give, for a picture, the very numbers that the rules judge by.

// Overlay is one part's mounting points laid over another's as the rule for panels
// lays them.
type Overlay struct {
	A, B []measure.Point // those that are placed decide; mm, each from its own origin
	// Dx and Dy are where the origin of B lies as seen from A, mm.
	Dx, Dy float64
	// Of is the point of B that each point of A meets, -1 for none.
	Of []int
	// Off says of each point of A in words how it misses the one it meets; empty
	// where it does not.
	Off []string
	// Right and Up are the directions of the machine in which the numbers grow, and
	// their opposites; empty when nobody said how the points are seen.
	Right, Left, Up, Down string
}

// OverlayOf lays the points of two features over one another. False when the points of
// one of them are not recorded, or not seen from the same side.
func OverlayOf(a, b Side) (o Overlay, ok bool) {
	look(func(bench *bench) {
		c := bench.check("mounting points")
		ofA, okA := c.peek(a, "points", measure.Points)
		ofB, okB := c.peek(b, "points", measure.Points)
		if !okA || !okB {
			return
		}
		p := pairing{c: c, m: Meeting{A: a, B: b}, a: ofA.Points, b: ofB.Points}
		if !view(&p) {
			return
		}
		p.match()
		o = Overlay{A: p.a, B: p.b, Dx: p.dx, Dy: p.dy, Right: p.axes.xPlus, Left: p.axes.xMinus, Up: p.axes.yPlus,
			Down: p.axes.yMinus}
		for i, point := range p.a {
			j, off := p.at(i), ""
			if j >= 0 {
				off = p.fault(point, p.b[j])
			}
			o.Of, o.Off = append(o.Of, j), append(o.Off, off)
		}
		ok = placed(p.a) && placed(p.b)
	})
	return o, ok
}

// PathNeed is what a line needs in one attitude, mm.
type PathNeed struct {
	Lock, Fork string
	Built      float64 // with the parts as built
	// Low and High are the limits of it with the parts that are on now: the ends may
	// have moved nearer or further.
	Low, High float64
}

// RunLengths are a line and its path, mm.
type RunLengths struct {
	Line      float64
	Needs     []PathNeed // in the order left, centre, right
	LeastMore float64    // spare that is wanted beyond the longest need
	MostMore  float64
}

// LengthsOf are the numbers that a run is judged by. False when the line or its path
// is not recorded, or nobody knows how far an end moved.
func LengthsOf(in RunCase) (l RunLengths, ok bool) {
	look(func(b *bench) {
		r := run{in: in, c: b.check("run length")}
		if ok = r.readNeeds() && r.knownMove; !ok {
			return
		}
		l = RunLengths{Line: r.line.nominal, LeastMore: r.spare.low, MostMore: r.spare.high}
		for _, need := range in.Needs {
			at := place{position: in.Line.Position, part: in.Line.Part, feature: "run",
				dim: "need " + need.Lock + "-" + need.Fork}
			if v, read := r.c.value(at, need.Length, func() Ask { return Ask{} }, measure.Length); read {
				built := spanOf(v.Quantity)
				l.Needs = append(l.Needs, PathNeed{Lock: need.Lock, Fork: need.Fork, Built: built.nominal,
					Low: built.nominal + r.moved.low, High: built.nominal + r.moved.high})
			}
		}
		ok = len(l.Needs) > 0
	})
	return l, ok
}

// RowWidth is one member of a row, mm.
type RowWidth struct {
	Position graph.PositionID
	Part     graph.PartID
	Width    float64
	Centre   bool // its middle must be that of the gap
	// Offset is how far its plane lies left of the middle of its width.
	Offset float64
}

// WidthsOf are the members of a row, left to right, and the gap that they fill. False
// when a width or the gap is not recorded.
func WidthsOf(in StackCase) (row []RowWidth, gap float64, ok bool) {
	look(func(b *bench) {
		c := b.check("row width")
		within, known := c.length(in.Within, "width")
		gap, ok = within.nominal, known
		for i, m := range in.Row {
			wide, read := in.wide(c, m)
			ok = ok && read
			one := RowWidth{Position: m.Position, Part: m.Part, Width: wide.nominal, Centre: i+1 == in.Centre}
			if off, has := c.peekLength(m.Side, "offset"); has {
				one.Offset = off.nominal
			}
			row = append(row, one)
		}
	})
	return row, gap, ok && len(row) > 0
}

// RowFills reports whether a row of so many mm fills its gap, by what a row may be off, whatever the gap is in.
func RowFills(sum, gap float64) bool { return sum-gap <= rigidPlay+eps && gap-sum <= rowPlay+eps }

// look reads with the best reading of each dimension, and judges nothing.
func look(at func(*bench)) { at(&bench{looked: &sights{}}) }
