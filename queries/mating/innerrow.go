package mating

import (
	"math"

	"matewell/graph"
)

// InnerRowCase is the inside of a hub: two bearings in their seats and the tube
// between their inner rings. The engine hands in one for every hub whose seats,
// bearings or tube are known or changed, and in place of the hub's width in the
// row (StackCase.Inner).
type InnerRowCase struct {
	Hub         Side // kind hub-row: shoulder to shoulder, and end face to end face
	Left, Right Side // the bearings, kind bearing
	// SeatLeft and SeatRight are the bores they sit in, kind bearing-seat.
	SeatLeft, SeatRight Side
	Tube                Side // the distance tube between the inner rings, kind row-width
	// Row is what the hub is said to add to the wheel's row (kind row-width);
	// zero when nobody said, and what is inside then says it alone.
	Row Side
	// Spacers are the spacers of the wheel's row; nil when nobody recorded it, empty
	// when there is none to take anything off.
	Spacers []Side
	Safety  graph.Safety
}

// What an inner row may be off, in mm. Common practice, no source: the tube is
// never shorter than the room between the shoulders, or drawing up the axle
// presses the rings against their balls; a little longer is how hubs are built,
// one bearing finding its place against the tube.
const (
	tubeShort = 0.1 // read to 0.1 mm
	tubeLong  = 0.5
	hubOff    = 0.3 // three widths read to 0.1 mm
)

// JudgeInnerRow judges one inner row in the checks "inner row" (the tube against
// the shoulders), "bearing depth" (where the bearings' faces lie in the hub, when
// somebody measured it over its ends) and "hub row" (what both bearings and the tube make together,
// against what the hub is said to add to the wheel's row). Spacers touch the inner
// rings, so a bearing that is a millimetre wider, or stands a millimetre deeper
// for a shorter tube, is in that row.
func JudgeInnerRow(in InnerRowCase) []Check {
	return judge(false, func(b *bench) {
		in.tube(b)
		in.row(b)
		in.depths(b)
	})
}

func (in InnerRowCase) tube(b *bench) {
	c := b.check("inner row")
	between, okBetween := c.length(in.Hub, "between")
	tube, okTube := c.length(in.Tube, "width")
	if !okBetween || !okTube {
		return
	}
	long := tube.minus(between)
	c.sizes(mm(tube.nominal)+" tube", mm(between.nominal)+" between the shoulders", mm(math.Abs(long.nominal)))
	switch where := long.against(-tubeShort, tubeLong); {
	case where == inside || same(long.nominal, 0):
		c.Gap = ""
		c.fits("a %s tube between shoulders %s apart", mm(tube.nominal), mm(between.nominal))
	case where == astride:
		c.settle(askFor(in.Tube, "width"), askFor(in.Hub, "between"))
		c.unknown("at the limits of their tolerances the tube may be too short or too long")
	case where == below:
		c.no("the tube is %s too short: drawing up the axle presses the inner rings together and the bearings run hot", c.Gap)
		in.orderTube(c, between.nominal)
	default:
		c.no("the tube is %s too long: one bearing can't go home in its seat", c.Gap)
		in.orderTube(c, between.nominal)
	}
}

func (in InnerRowCase) orderTube(c *check, length float64) {
	bore, fits := "to suit the axle: measure it", []Field(nil)
	if ring := bearing(c, in.Left); ring.okInside {
		bore, fits = "clear of a "+mm(ring.inside.nominal)+" axle", boreOver(runsOn, ring.inside.nominal, 0)
	}
	spec := []Field{{"where", "between the wheel bearings"}, {"length", tenth(length)}, {"bore", bore},
		{"outside", "as the inner rings' faces: measure it"}, {"ends", "square and parallel"}}
	makes(c.order("spacer", "distance tube "+tenth(length)+" long", append(append(spec, fits...), tubeMetal...)...),
		in.Tube, "width", tenth(length))
}

// width is what the inner row makes between the faces that spacers touch.
func (in InnerRowCase) width(c *check) (span, bool) {
	left, right := bearing(c, in.Left), bearing(c, in.Right)
	tube, okTube := c.length(in.Tube, "width")
	okLeft, okRight := need(c, in.Left, left.okWidth, "width"), need(c, in.Right, right.okWidth, "width")
	return left.width.plus(tube).plus(right.width), okTube && okLeft && okRight
}

// row judges what the inner row makes against what the hub is said to add.
func (in InnerRowCase) row(b *bench) {
	c := b.check("hub row")
	total, okTotal := in.width(c)
	if in.Row.IsZero() {
		if okTotal {
			c.fits("bearings and tube make %s between the spacers", mm(total.nominal))
		}
		return
	}
	said, okSaid := c.length(in.Row, "width")
	if !okTotal || !okSaid {
		return
	}
	off := total.minus(said)
	c.sizes(mm(total.nominal)+" over the inner rings", mm(said.nominal), mm(math.Abs(off.nominal)))
	switch where := off.against(-hubOff, hubOff); {
	case where == inside || same(off.nominal, 0):
		c.Gap = ""
		c.fits("bearings and tube make %s between the spacers, as the hub is said to", mm(total.nominal))
	case where == astride:
		c.settle(askFor(in.Tube, "width"), askFor(in.Row, "width"))
		c.unknown("at the limits of the sizes bearings and tube may not make what the hub is said to")
	case in.Spacers != nil && len(in.Spacers) == 0:
		c.no("bearings and tube make %s where the hub is said to make %s, and no spacer stands beside it to make up for that",
			mm(total.nominal), mm(said.nominal))
	case off.nominal > 0:
		c.change(graph.EffortLatheWeld, in.spacersWords(c, "shorter", off.nominal),
			"bearings and tube make %s, %s more than the hub is said to", mm(total.nominal), c.Gap)
		c.Spacers = true
	default:
		c.change(graph.EffortLatheWeld, in.spacersWords(c, "longer", off.nominal),
			"bearings and tube make %s, %s less than the hub is said to", mm(total.nominal), c.Gap)
		c.Spacers = true
	}
}

// spacersWords say what to do to the spacers beside the hub, and how much of it on each
// side: half of it where both bearings and both seats are alike.
func (in InnerRowCase) spacersWords(c *check, how string, off float64) string {
	do := "make the spacers beside the hub " + c.Gap + " " + how + " in all, "
	left, right := bearing(c, in.Left), bearing(c, in.Right)
	depthLeft, okLeft := c.peekLength(in.SeatLeft, "depth")
	depthRight, okRight := c.peekLength(in.SeatRight, "depth")
	if same(left.width.nominal, right.width.nominal) && okLeft == okRight && same(depthLeft.nominal, depthRight.nominal) {
		return do + tenth(math.Abs(off)/2) + " each side: the rim stays where it is"
	}
	return do + "on each side by what its own bearing takes: measure from the rim to both inner rings"
}

// depths tells how deep the bearings lie inside the hub's end faces. What the
// seats, the room between them and the hub over its ends say must add up: a seat
// measured a millimetre too deep is found here.
func (in InnerRowCase) depths(b *bench) {
	if len(in.Hub.Feature.Dims["width"]) == 0 {
		return
	}
	c := b.check("bearing depth")
	over, okOver := c.length(in.Hub, "width")
	between, okBetween := c.length(in.Hub, "between")
	left, okLeft := c.length(in.SeatLeft, "depth")
	right, okRight := c.length(in.SeatRight, "depth")
	ringLeft, ringRight := bearing(c, in.Left), bearing(c, in.Right)
	okWidths := need(c, in.Left, ringLeft.okWidth, "width") && need(c, in.Right, ringRight.okWidth, "width")
	if !okOver || !okBetween || !okLeft || !okRight || !okWidths {
		return
	}
	off := left.plus(between).plus(right).minus(over)
	c.sizes(mm(left.nominal+between.nominal+right.nominal)+" by its seats", mm(over.nominal)+" over its ends",
		mm(math.Abs(off.nominal)))
	switch where := off.against(-hubOff, hubOff); {
	case where == inside || same(off.nominal, 0):
		c.Gap = ""
		c.fits("the left bearing lies %s, the right one %s", sunkWords(left.minus(ringLeft.width).nominal),
			sunkWords(right.minus(ringRight.width).nominal))
	case where == astride:
		c.settle(askFor(in.Hub, "width"))
		c.unknown("at the limits of the sizes seats and hub may not add up")
	default:
		c.settle(askFor(in.SeatLeft, "depth"), askFor(in.SeatRight, "depth"), askFor(in.Hub, "width"))
		c.unknown("both seats and the room between them are %s, the hub is %s over its ends: one is measured wrong, or a "+
			"bearing stands %s elsewhere",
			mm(left.nominal+between.nominal+right.nominal), mm(over.nominal), c.Gap)
	}
}

func sunkWords(v float64) string {
	if v < -eps {
		return mm(-v) + " proud of the hub's end"
	}
	return mm(math.Abs(v)) + " inside the hub's end"
}
