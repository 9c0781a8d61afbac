package mating

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"matewell/graph"
	"matewell/graph/measure"
)

// DiscLineCase is a disc that must run in the middle of its caliper, across the
// machine: the disc goes with the wheel, the caliper with the leg or with a
// carrier on the axle.
type DiscLineCase struct {
	Brief bool      // as in Meeting
	Stack StackCase // the row that the wheel sits in
	// Member is the place in the row, counted from 1, of what carries the disc.
	Member int
	// Holder is the place in the row of what carries the caliper; 0 when that
	// is what the row sits within.
	Holder int
	Left   bool // the caliper stands left of the wheel
	Mount  Side // of the wheel, kind bolt-pattern: inset
	// Hub are the end faces of what carries the disc, from which inset counts.
	Hub  HubEnds
	Disc Side // kind disc-rim: offset
	// Under is what lies between the hub's face and the disc: rings and adapters
	// (kind plate), whose thickness brings the disc that much further out.
	Under []Side
	Lug   Side // of the leg or carrier, kind caliper-mount: slot-line, offset
	// Caliper is the mount of the caliper, kind caliper-mount: offset. Zero when
	// another caliper than the leg's own is judged where it meets the leg.
	Caliper Side
	// Own is true when the caliper is the one its leg was built with: then its
	// slot stands at slot-line.
	Own bool
	// Pistons are those of the caliper, kind pistons: a sliding one follows its disc.
	Pistons Side
	// Packed is how thick what lies between caliper and lugs is, in mm: it brings
	// the slot of an axial caliper that much further out.
	Packed float64
	// Bracketed is true where a bracket holds the caliper: where it carries its slot
	// is judged by the bracket.
	Bracketed bool

	hung func() bool // onBracket, worked out once in each trial
}

// JudgeDiscLine judges, in one check "disc line", where the disc runs against
// where the slot of its caliper stands, both from the face beside the wheel:
//
//	widths between - what the hub's end face stands out of its row
//	+ inset of the disc's face - offset of the disc
//	= slot-line + offset of the lug - offset of the caliper
//
// with the row as it will stand once its spacers are made. Disc and caliper that
// stand aside by as much, the same way, are in line. A caliper on holes of its
// own hangs on a bracket, which is made to bring its slot to slot-line. Source:
// geometry; the limit is common practice, no source.
func JudgeDiscLine(in DiscLineCase) []Check {
	return judge(false, func(b *bench) {
		b.brief = in.Brief
		c := b.check("disc line")
		in := in
		in.hung = sync.OnceValue(func() bool { return in.onBracket(b) })
		made := rowAsMade(b, in.Stack)
		runs, line, ok := in.lines(c, made)
		shift, okShift := in.shift(c)
		switch {
		case made.hopeless:
			c.unknown("the row beside it does not fill its gap and spacers can't make it: settle that first")
		case ok && okShift:
			in.line(c, runs, line.plus(shift))
		}
	})
}

// lines are where the disc runs and where the slot of the leg's own caliper
// stands, in mm inward from the face beside the wheel.
func (in DiscLineCase) lines(c *check, made *row) (runs, line span, ok bool) {
	between, ok := in.between(c, made)
	between = between.minus(in.Hub.beyond(c, in.Stack.widthOf(c, in.Member), in.Left))
	inset, okInset := c.length(in.Mount, "inset")
	offset, okOffset := c.length(in.Disc, "offset")
	line, okLine := c.length(in.Lug, "slot-line")
	for _, plate := range in.Under {
		thick, okPlate := c.length(plate, "thickness")
		offset, okOffset = offset.plus(thick), okOffset && okPlate
	}
	return between.plus(inset).minus(offset), line, ok && okInset && okOffset && okLine
}

// off is how far the disc runs nearer to the wheel than the slot of the leg's
// own caliper stands; false when that is not known.
func (in DiscLineCase) off(c *check) (span, bool) {
	made := rowAsMade(c.bench, in.Stack)
	runs, line, ok := in.lines(c, made)
	return runs.minus(line), ok && !made.hopeless
}

// shift is how far the slot stands nearer to the wheel than that of the leg's
// own caliper would.
func (in DiscLineCase) shift(c *check) (span, bool) {
	packed := span{}
	if in.Packed != 0 {
		if style, ok := c.peek(in.Lug, "style", measure.Word); ok && strings.EqualFold(style.Text, "axial") {
			packed = exact(in.Packed)
		}
	}
	if in.Caliper.IsZero() || in.Own || in.hung() {
		return span{}.minus(packed), true
	}
	lug, okLug := c.length(in.Lug, "offset")
	caliper, okCaliper := c.length(in.Caliper, "offset")
	return lug.minus(caliper).minus(packed), okLug && okCaliper
}

// onBracket reports whether the caliper can't be bolted to the lugs as it is:
// where its slot comes to stand is then up to what is made.
func (in DiscLineCase) onBracket(b *bench) bool {
	if in.Bracketed {
		return true
	}
	if in.Own || in.Caliper.IsZero() {
		return false
	}
	t, ok := newMount(b.aside(), Meeting{A: in.Lug, B: in.Caliper})
	return !ok || t.bracket || t.open || t.noBracket || t.tooFar
}

// rowAsMade works out the row on a bench of its own, which shares the readings:
// its checks belong to the stack.
func rowAsMade(b *bench, in StackCase) *row {
	r := &row{in: in, okWidths: true}
	quiet := b.aside()
	quiet.quiet = true
	r.width(quiet)
	r.hopeless = r.c.verdict() == graph.DoesNotFit
	r.centre(quiet)
	return r
}

// between is what stands between the face that holds the caliper and the hub's
// face on that side.
func (in DiscLineCase) between(c *check, made *row) (span, bool) {
	from, to := 0, in.Member-1 // places in Row, the last one not taken in
	if !in.Left {
		from, to = in.Member, len(in.Stack.Row)
	}
	if in.Holder > 0 && in.Left {
		from = in.Holder
	} else if in.Holder > 0 {
		to = in.Holder - 1
	}
	var total span
	all, spacer := true, false
	for _, member := range in.Stack.Row[from:to] {
		w, ok := in.Stack.wide(c, member)
		total, all, spacer = total.plus(w), all && ok, spacer || member.Spacer
	}
	if made.made && in.Member == in.Stack.Centre && (spacer || in.Holder == 0) {
		c.length(in.Stack.Within, "width") // what the spacers are made by
		in.Stack.wide(c, in.Stack.Row[in.Member-1])
		total = total.plus(exact(shift(made, in.Left)))
	}
	return total, all
}

// shift is how much wider one side of the row gets when its spacers are made.
func shift(r *row, left bool) float64 {
	if left {
		return r.leftNew - r.leftNow
	}
	return r.rightNew - r.rightNow
}

func (in DiscLineCase) line(c *check, runs, line span) {
	off := runs.minus(line)
	gap := mm(math.Abs(off.nominal))
	c.sizes(mm(runs.nominal)+" from the face", mm(line.nominal), gap)
	worst := "worst case " + mm(max(math.Abs(off.low), math.Abs(off.high)))
	if !off.toleranced() {
		worst = "no tolerances given"
	}
	switch lies := off.against(-planeOff, planeOff); {
	case lies == inside || same(off.nominal, 0):
		c.Gap = ""
		where := "in"
		if !same(off.nominal, 0) {
			where = gap + " from"
		}
		if in.hung() {
			worst = "once its bracket is made as ordered; " + worst
		}
		c.fits("the disc runs %s the middle of the caliper (%s)", where, worst)
	case math.Abs(off.nominal) <= planeOff:
		c.settle(askFor(in.Lug, "slot-line"), askFor(in.Mount, "inset"))
		c.unknown("in the middle of the caliper by nominal sizes, but %s: measure it", worst)
	case in.Bracketed:
		c.Gap = ""
		c.fits("the disc runs %s %s the wheel than where the leg's own caliper stands: its bracket is judged by that", gap,
			nearer(off.nominal))
	case in.hung():
		c.change(graph.EffortLatheWeld, "make the caliper's bracket to the disc as it runs: its order allows for it",
			"the disc runs %s %s the wheel than where the leg's own caliper stands (%s)", gap, nearer(off.nominal),
			worst)
	case in.follows(c, off):
	case off.nominal > 0 && pastPacking(c, in.Disc, off.nominal, mostPacking,
		fmt.Sprintf("the disc runs %s nearer to the wheel than the middle of the caliper (%s)", gap, worst)):
	case off.nominal > 0:
		c.change(graph.EffortDrillShim, "put a "+tenth(off.nominal)+" ring under the disc, with bolts as much longer",
			"the disc runs %s nearer to the wheel than the middle of the caliper (%s)", gap, worst)
		o := c.order("ring", "disc ring "+tenth(off.nominal)+" thick", append([]Field{{"thickness", tenth(off.nominal)},
			{"to suit", packingWords(c, in.Mount)}}, append(ringFields(c, in.Mount), clampedMetal...)...)...)
		o.Thicker, o.Under = off.nominal, in.Disc.Position
	default:
		in.bringOut(c, -off.nominal,
			fmt.Sprintf("the disc runs %s further from the wheel than the middle of the caliper (%s)", gap, worst))
	}
}

// mayFollow is how far aside a disc may run in a caliper that slides on its pins, of which
// nobody knows how far it slides, before something is made for it, in mm: it slides by the
// wear of a whole lining anyhow, which is some 4 mm. Common practice, no source.
const mayFollow = 1.5

// follows reports whether a caliper slides on its pins to where the disc runs, or may do so,
// and says it.
func (in DiscLineCase) follows(c *check, off span) bool {
	if layout, ok := c.peek(in.Pistons, "layout", measure.Word); !ok || !strings.EqualFold(layout.Text, "sliding") {
		return false
	}
	far, worst := math.Abs(off.nominal), max(math.Abs(off.low), math.Abs(off.high))
	slide, known := c.peekLength(in.Pistons, "slide")
	switch {
	case known && worst <= slide.low+eps:
		c.fits("the disc runs %s %s the wheel than as built, and the caliper slides on its pins by %s either way",
			mm(far), nearer(off.nominal), mm(slide.nominal))
	case !known && far <= mayFollow+eps:
		c.settle(askFor(in.Pistons, "slide"))
		c.unknown("the disc runs %s %s the wheel than the middle of the caliper: it slides on its pins, and follows if it "+
			"goes so far beyond what worn pads take", mm(far), nearer(off.nominal))
	default:
		return false
	}
	return true
}

func nearer(by float64) string {
	if by > 0 {
		return "nearer to"
	}
	return "further from"
}

// bringOut says how the caliper comes to a disc that runs t mm further out than
// its slot. An axial one that bolts straight to its lugs takes spacers.
func (in DiscLineCase) bringOut(c *check, by float64, why string) {
	style, _ := c.peek(in.Lug, "style", measure.Word)
	if t := (&mount{leg: in.Lug, caliper: in.Caliper}); !in.Caliper.IsZero() && strings.EqualFold(style.Text,
		"axial") {
		t.spaceOut(c, by, why)
		return
	}
	why += ", and a spacer beside the hub would move the rim"
	if !in.Own && !in.Caliper.IsZero() && (len(in.Caliper.Feature.Dims["spacing"]) == 0 ||
		len(in.Lug.Feature.Dims["spacing"]) == 0) {
		c.settle(askFor(in.Caliper, "spacing"), askFor(in.Lug, "spacing"))
		c.unknown("%s; its bolt centres tell whether it needs a bracket", why)
		return
	}
	c.no("%s; %s", why, unturnedWords("the hub's disc face"))
}
