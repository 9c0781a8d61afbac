package mating

import (
	"math"

	"matewell/graph"
)

// DiscLineCase is a disc that must run in the middle of its caliper, across the
// machine: the disc goes with the wheel, the caliper with the leg or with a
// carrier on the axle.
type DiscLineCase struct {
	Stack StackCase // the row that the wheel sits in
	// Member is the place in the row, counted from 1, of what carries the disc.
	Member int
	// Holder is the place in the row of what carries the caliper; 0 when that
	// is what the row sits within.
	Holder int
	Left   bool // the caliper stands left of the wheel
	Mount  Side // of the wheel, kind bolt-pattern: inset
	Disc   Side // kind disc-rim: offset
	Lug    Side // of the leg or carrier, kind caliper-mount: slot-line
}

// JudgeDiscLine judges, in one check "disc line", where the disc runs against
// where the slot of the leg's own caliper stands, both from the face beside the
// wheel:
//
//	widths between + inset of the disc's face - offset of the disc = slot-line
//
// with the row as it will stand once its spacers are made. Whether another
// caliper brings its slot to that line is judged where it meets the leg. Source:
// geometry; the limit is common practice, no source.
func JudgeDiscLine(in DiscLineCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("disc line")
		made := rowAsMade(b, in.Stack)
		between, ok := in.between(c, made)
		inset, okInset := c.length(in.Mount, "inset")
		offset, okOffset := c.length(in.Disc, "offset")
		line, okLine := c.length(in.Lug, "slot-line")
		switch {
		case made.hopeless:
			c.unknown("the row beside it does not fill its gap and spacers can't make it: settle that first")
		case ok && okInset && okOffset && okLine:
			in.line(c, between.plus(inset).minus(offset), line)
		}
	})
}

// rowAsMade works out the row on a bench of its own, which shares the readings:
// its checks belong to the stack.
func rowAsMade(b *bench, in StackCase) *row {
	r := &row{in: in, okWidths: true}
	r.width(&bench{pick: b.pick, looked: b.looked})
	r.hopeless = r.c.closed().Verdict == graph.DoesNotFit
	r.centre(&bench{pick: b.pick, looked: b.looked})
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
		w, ok := c.length(member.Side, "width")
		total, all, spacer = total.plus(w), all && ok, spacer || member.Spacer
	}
	if made.made && in.Member == in.Stack.Centre && (spacer || in.Holder == 0) {
		c.length(in.Stack.Within, "width") // what the spacers are made by
		c.length(in.Stack.Row[in.Member-1].Side, "width")
		total = total.plus(exact(made.shift(in.Left)))
	}
	return total, all
}

// shift is how much wider one side of the row gets when its spacers are made.
func (r *row) shift(left bool) float64 {
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
	switch standing := off.against(-planeOff, planeOff); {
	case standing == inside || same(off.nominal, 0):
		c.Gap = ""
		where := "in"
		if !same(off.nominal, 0) {
			where = gap + " from"
		}
		c.fits("the disc runs %s the middle of the caliper (%s)", where, worst)
	case math.Abs(off.nominal) <= planeOff:
		c.settle(askFor(in.Lug, "slot-line"), askFor(in.Mount, "inset"))
		c.unknown("in the middle of the caliper by nominal sizes, but %s: measure it", worst)
	case off.nominal > 0:
		c.change(graph.EffortDrillShim, "put a "+tenth(off.nominal)+" ring under the disc, with bolts as much longer",
			"the disc runs %s nearer to the wheel than the middle of the caliper (%s)", gap, worst)
		c.order("ring", "disc ring "+tenth(off.nominal)+" thick", Field{"thickness", tenth(off.nominal)}, Field{"to suit", patternWords(c, in.Mount)})
	default:
		c.change(graph.EffortLatheWeld, "have "+tenth(-off.nominal)+" turned off the hub's disc face, or bring the caliper out as far; a spacer beside the hub would move the rim",
			"the disc runs %s further from the wheel than the middle of the caliper (%s)", gap, worst)
	}
}
