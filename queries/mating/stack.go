package mating

import (
	"math"

	"matewell/graph"
)

// Member is one part of a row along an axle or pivot.
type Member struct {
	Side        // a feature of kind row-width
	Spacer bool // a plain spacer, which can be made to another width
}

// StackCase is a row that must fill a gap.
type StackCase struct {
	Brief  bool // as in Meeting
	Stack  graph.StackID
	Within Side     // a feature of kind gap
	Row    []Member // left to right
	// Centre is the place in Row, counted from 1, of the member whose centre
	// plane must lie in the middle of the gap; 0 when none must.
	Centre int
	// Shaft is what runs through the row (kind shaft), for the bore of a
	// spacer that has to be made; zero when not known.
	Shaft Side
	// Seals are those that run on a spacer (kind seal), by its position: they
	// say how thick one that has to be made is.
	Seals map[graph.PositionID]Side
	// Inner is what a hub is made up of between the faces that touch, by the
	// hub's position: where its bearings and tube are known, its width is theirs.
	Inner map[graph.PositionID]InnerRowCase
	// Held are members that are held by what the row lies in, besides the axle: no
	// spacer moves them further than that lets them.
	Held map[graph.PositionID]Hold
	// Keep, when there is one, must stay where it was as built.
	Keep *Keep
	// Head is true for the row of a steering head: what lacks there moves the upper yoke
	// and all that stands on it.
	Head   bool
	Safety graph.Safety
}

// Hold is what keeps a member of a row in its place, besides the axle: its bolts, as those
// of a final drive box to its arm; or its anchor, as that of a brake plate on its leg or
// stay.
type Hold struct {
	Anchor bool
	Pairs  []EyePair // on the way from the member to what the row lies in, of an anchor
}

// EyePair is an eye (kind eye) between the cheeks of a clevis (kind clevis).
type EyePair struct{ Eye, Clevis Side }

// words says how the hold keeps its member.
func (h Hold) words() string {
	if h.Anchor {
		return "which its anchor holds sideways"
	}
	return "which is bolted in its place"
}

// play is how far the hold lets its member move sideways: what the eyes are narrower than
// their cheeks, nothing where it is bolted; false where nobody measured that.
func (h Hold) play(c *check) (float64, bool) {
	play, known := 0.0, true
	for _, p := range h.Pairs {
		width, okWidth := c.peekLength(p.Eye, "width")
		gap, okGap := c.peekLength(p.Clevis, "gap")
		if known = known && okWidth && okGap; known {
			play += max(0, gap.minus(width).high)
		}
	}
	return play, known
}

// wide is how much a member adds to its row.
func (in StackCase) wide(c *check, m Member) (span, bool) {
	if inner, ok := in.Inner[m.Position]; ok {
		return inner.width(c)
	}
	return c.length(m.Side, "width")
}

// widthOf is how much a member, counted from 1, adds to its row, once somebody asks.
func (in StackCase) widthOf(c *check, member int) func() (span, bool) {
	return func() (span, bool) { return in.wide(c, in.Row[member-1]) }
}

// What a row may be off, in mm. Common practice, no source.
const (
	rowPlay    = 0.5 // all of it against its gap
	rigidPlay  = 0.2 // how much too wide it may be for a gap that does not give, all of it read to 0.1
	centreOff  = 1.0 // the middle of a rim from the middle of the machine
	planeOff   = 0.5 // a disc from the middle of its slot
	spacerStep = 0.1 // what a turner works to
)

// row is a stack as measured; all in mm.
type row struct {
	c               *check
	in              StackCase
	gap             span
	widths          []span
	offset          span // of the centre member's plane, left positive
	okGap, okOffset bool
	okWidths        bool
	made            bool // spacers are ordered
	hopeless        bool // no spacers make it fill its gap
	// What stands left and right of the centre member in all, now and once
	// the spacers are made.
	leftNow, leftNew, rightNow, rightNew float64
}

// JudgeStack judges whether a row fills its gap, sits central, and lines up. It
// gives a check "row width", one "row centre" when a member must be central, and
// one "sprocket line" when a member must stay where it was.
func JudgeStack(in StackCase) []Check {
	return judge(false, func(b *bench) {
		b.brief = in.Brief
		r := row{in: in, okWidths: true}
		r.width(b)
		r.hopeless = r.c.verdict() == graph.DoesNotFit
		r.centre(b)
		if in.Keep != nil && !r.hopeless {
			keeps(&r, b, *in.Keep)
		}
	})
}

// rowInGap judges a single member in its gap.
func rowInGap(b *bench, m Meeting) {
	r := row{in: StackCase{Within: m.B, Row: []Member{{Side: m.A}}, Head: m.Steers}, okWidths: true}
	r.width(b)
}

func (r *row) sum() span {
	var total span
	for _, w := range r.widths {
		total = total.plus(w)
	}
	return total
}

// width judges the sum of the widths against the gap.
func (r *row) width(b *bench) {
	r.c = b.check("row width")
	r.gap, r.okGap = r.c.length(r.in.Within, "width")
	for _, member := range r.in.Row {
		w, ok := r.in.wide(r.c, member)
		r.widths, r.okWidths = append(r.widths, w), r.okWidths && ok
	}
	if r.in.Centre > 0 && r.in.Centre <= len(r.in.Row) {
		offset, ok := r.c.peekLength(r.in.Row[r.in.Centre-1].Side, "offset")
		r.offset, r.okOffset = offset, ok
	}
	if !r.okGap {
		return
	}
	room := r.gap.minus(r.sum())
	if !r.okWidths {
		if fixed := r.fixed(); fixed.low > r.gap.high+rowPlay+eps {
			r.c.no("already %s too wide without what nobody measured", r.c.mm(fixed.low-r.gap.high))
		}
		return
	}
	r.c.sizes(r.c.mm(r.sum().nominal), r.c.mm(r.gap.nominal), r.c.mm(math.Abs(room.nominal)))
	r.judgeRoom(room)
}

// fixed is the width of all that can't be made to another width.
func (r *row) fixed() span {
	var total span
	for i, w := range r.widths {
		if !r.in.Row[i].Spacer {
			total = total.plus(w)
		}
	}
	return total
}

func (r *row) judgeRoom(room span) {
	worst := "no tolerances given"
	if room.toleranced() && !r.c.bench.quiet {
		worst = "worst case " + roomWords(room)
	}
	least := -r.in.gives()
	switch where := room.against(least, rowPlay); {
	case where == inside || same(room.nominal, 0):
		r.c.Gap = ""
		r.c.fits("%s in a gap of %s (%s)", r.c.mm(r.sum().nominal), r.c.mm(r.gap.nominal), worst)
	case room.nominal >= least-eps && room.nominal <= rowPlay+eps:
		r.askWidths()
		r.c.unknown("%s in a gap of %s by nominal sizes, but %s: measure the row", r.c.mm(r.sum().nominal),
			r.c.mm(r.gap.nominal), worst)
	case r.in.Head && room.nominal > 0:
		r.c.settle(askOf(r.in.Within, "adjuster", "how much the adjuster of the head takes up", "the maker's word",
			"in writing"))
		r.c.unknown("the row is %s short (%s): beyond the play of the adjuster the upper yoke, the bars and every line to "+
			"them sit as much higher, which no spacer makes right", r.c.Gap, worst)
	default:
		side := "short"
		if room.nominal < 0 {
			side = "too wide"
		}
		remake(r, "the row is "+r.c.Gap+" "+side+" ("+worst+")")
	}
}

// gives is how much too wide a row may be and still go in: legs and arms are sprung apart by so much, the
// lugs of a frame or an engine are not. Common practice, no source.
func (in StackCase) gives() float64 {
	if kind := in.Within.PartKind; kind == "frame" || kind == "engine" {
		return rigidPlay
	}
	return rowPlay
}

// roomWords is a room with its limits: "3.6-4.4 mm short", "0.2 mm too wide to
// 0.4 mm short".
func roomWords(room span) string {
	switch {
	case room.low >= -eps:
		return mmRange(max(0, room.low), room.high) + " short"
	case room.high <= eps:
		return mmRange(max(0, -room.high), -room.low) + " too wide"
	}
	return mm(-room.low) + " too wide to " + mm(room.high) + " short"
}

func (r *row) askWidths() {
	for i, w := range r.widths {
		if w.toleranced() {
			r.c.settle(askFor(r.in.Row[i].Side, "width"))
		}
	}
	if r.gap.toleranced() {
		r.c.settle(askFor(r.in.Within, "width"))
	}
}

// centre judges whether the centre member sits in the middle: what stands on
// the left less what stands on the right must be twice its offset. Source:
// geometry.
func (r *row) centre(b *bench) {
	if r.in.Centre < 1 || r.in.Centre > len(r.in.Row) {
		return
	}
	r.c = b.check("row centre")
	at := r.in.Row[r.in.Centre-1]
	offset, ok := r.c.length(at.Side, "offset")
	gap, okGap := r.c.length(r.in.Within, "width")
	widths := make([]span, len(r.in.Row))
	for i, member := range r.in.Row {
		w, okWidth := r.in.wide(r.c, member)
		widths[i], ok = w, ok && okWidth
	}
	if !ok || !okGap {
		return
	}
	var left span
	for _, w := range widths[:r.in.Centre-1] {
		left = left.plus(w)
	}
	// Where the plane lies from the middle of the gap, left positive.
	off := gap.times(0.5).minus(left).minus(widths[r.in.Centre-1].times(0.5)).plus(offset)
	side := ""
	if !r.c.bench.quiet {
		side = leftOrRight(off.nominal)
	}
	r.c.sizes(side+" of the middle", "within "+r.c.mm(centreOff), r.c.mm(math.Abs(off.nominal)))
	switch where := off.against(-centreOff, centreOff); {
	case where == inside || same(off.nominal, 0):
		r.c.Gap = ""
		r.c.fits("central within %s, worst case %s", r.c.mm(math.Abs(off.nominal)), r.c.mm(max(math.Abs(off.low),
			math.Abs(off.high))))
	case math.Abs(off.nominal) <= centreOff:
		r.askWidths()
		r.c.settle(askFor(at.Side, "offset"))
		r.c.unknown("central by nominal sizes, but the tolerances add up to %s: measure it", r.c.mm(max(math.Abs(off.low),
			math.Abs(off.high))))
	default:
		why := "the centre sits " + side + " of the middle"
		if r.made {
			r.c.change(graph.EffortLatheWeld, "make the spacers as ordered: they bring it to the middle", "%s", why)
			return
		}
		remake(r, why)
	}
}

// leftOrRight is "2 mm left" for a distance counted left positive.
func leftOrRight(v float64) string {
	if v < -eps {
		return mm(-v) + " right"
	}
	return mm(math.Abs(v)) + " left"
}
