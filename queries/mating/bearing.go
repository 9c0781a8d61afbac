package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// bearingSize is a bearing as measured, or as its designation says where nobody
// measured.
type bearingSize struct {
	inside, outside, width       span
	okInside, okOutside, okWidth bool
	form                         string
	okForm                       bool
}

// bearing reads what is known of a bearing without asking for anything.
func bearing(c *check, s Side) bearingSize {
	var b bearingSize
	b.inside, b.okInside = c.peekLength(s, "inside")
	b.outside, b.okOutside = c.peekLength(s, "outside")
	b.width, b.okWidth = c.peekLength(s, "width")
	form, okForm := c.peek(s, "form", measure.Word)
	b.form, b.okForm = form.Text, okForm
	text, ok := c.peek(s, "designation", measure.Word)
	if !ok {
		return b
	}
	byNumber(c, s, text.Text, &b)
	std, ok := measure.DesignatedBearing(text.Text)
	if !ok {
		return b
	}
	b.inside, b.okInside = orStandard(c, s, std, "inside", b.inside, b.okInside, std.Inside)
	b.outside, b.okOutside = orStandard(c, s, std, "outside", b.outside, b.okOutside, std.Outside)
	b.width, b.okWidth = orStandard(c, s, std, "width", b.width, b.okWidth, std.Width)
	return b
}

// byNumber takes the sort that the number on the ring stands for where nobody said it,
// and says so when the two contradict each other: bearings of many sorts have the same
// three sizes.
func byNumber(c *check, s Side, number string, b *bearingSize) {
	form, ok := measure.BearingForm(number)
	switch {
	case !ok:
	case !b.okForm:
		b.form, b.okForm = form, true
	case b.form != form:
		c.settle(askFor(s, "form"))
		c.unknown("marked %s, which is a %s bearing, but said to be %s", number, form, b.form)
	}
}

// designationMatch is how far a measured ring may be off its designation, in
// mm; ISO 492 allows hundredths on the diameters and 0.12 mm on the width.
const designationMatch = 0.15

// orStandard takes the standard's size where nobody measured, and says so when
// ring and measurement contradict each other.
func orStandard(c *check, s Side, std measure.Bearing, dim string, v span, ok bool, size float64) (span, bool) {
	if !ok {
		return exact(size), true
	}
	if v.low > size+designationMatch || v.high < size-designationMatch {
		c.settle(askFor(s, dim))
		c.unknown("marked %s, whose %s is %s, but measured %s", std.Designation, askFor(s, dim).What, mm(size), mm(v.nominal))
	}
	return v, true
}

// need asks for what a bearing lacks.
func need(c *check, s Side, ok bool, dim string) bool {
	if !ok {
		c.ask(askFor(s, dim))
	}
	return ok
}

// How far ring and seat may differ, in mm: a ring pressed on or in is tight by
// up to 0.06, one that slides loose by up to 0.05. Common practice, no source;
// ISO 286 fits for 15 to 60 mm (j6 to n6, H7 to P7) lie within.
const (
	pressFit = 0.06
	slideFit = 0.05
)

// bearingOnShaft judges the inner ring on its axle. When they do not match it
// looks for a standard bearing of the same outside and kind that does.
func bearingOnShaft(b *bench, m Meeting) {
	c := b.check("bearing on shaft")
	ring := bearing(c, m.A)
	shaft, okShaft := c.length(m.B, "diameter")
	if !need(c, m.A, ring.okInside, "inside") || !okShaft {
		return
	}
	play := ring.inside.minus(shaft)
	c.sizes(mm(ring.inside.nominal), mm(shaft.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(-pressFit, slideFit); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s bearing on a %s shaft", mm(ring.inside.nominal), mm(shaft.nominal))
	case where == astride:
		askTwo(c, m, "inside", "diameter")
		c.unknown("at the limits of their tolerances the ring may not hold on the shaft")
	default:
		otherBearing(c, m, ring, shaft.nominal)
	}
}

// otherBearing bridges a bearing's seat to another shaft.
func otherBearing(c *check, m Meeting, ring bearingSize, shaft float64) {
	why := fmt.Sprintf("the bearing's bore is %s, the shaft %s", mm(ring.inside.nominal), mm(shaft))
	outside, okOutside := across(c, m, "diameter", ring.outside, ring.okOutside)
	if okOutside && ring.okForm && !m.asksForBearing() {
		if std, ok := findBearing(shaft, outside.nominal, ring.width.nominal, ring.form); ok {
			offerBearing(c, m, ring, std, why)
			return
		}
	}
	thin := shaft > ring.inside.nominal
	switch {
	case m.asksForBearing(): // another bearing is another question
		c.no("%s", why)
	case !need(c, m.A, ring.okOutside, "outside") || !need(c, m.A, ring.okForm, "form"):
		c.unknown("%s: a standard bearing may bridge it", why)
	case thin:
		c.no("%s, too thick, and no standard %s bearing has that bore in %s", why, ring.form, mm(ring.outside.nominal))
	case (ring.inside.nominal-shaft)/2 < leastWall-eps:
		c.no("%s: too loose to run, too little room for a sleeve", why)
	case !canSleeve(c, shaft):
	default:
		c.change(graph.EffortLatheWeld, "turn a stepped sleeve for the bearing's bore",
			"%s, and no standard %s bearing bridges it", why, ring.form)
		steppedSleeve(c, shaft, ring.inside.nominal, ring.width, ring.okWidth).Place = m.A.Position
	}
}

// across is the size that another bearing must have on its other ring: that of what
// the ring meets, where it is known, else the ring's own.
func across(c *check, m Meeting, dim string, own span, okOwn bool) (span, bool) {
	if m.Across.IsZero() {
		return own, okOwn
	}
	return c.peekLength(m.Across, dim)
}

// offerBearing offers a standard bearing that suits both the shaft and the seat. One
// of another width asks for a spacer to take it off or add it to.
func offerBearing(c *check, m Meeting, ring bearingSize, std measure.Bearing, why string) {
	width := ""
	if ring.okWidth {
		width = widthWords(std.Width - ring.width.nominal)
	}
	if width != "" && m.Spacers != nil && len(m.Spacers) == 0 {
		c.no("%s, and a %s, which has both sizes, is of another width where no spacer stands to make up for it", why,
			std.Designation)
		return
	}
	c.change(bridgeEffort(width), "fit a "+std.Designation+" in its place"+width, "%s", why)
	orderBearing(c, std)
}

// widthWords says what a bearing of another width does to the spacers.
func widthWords(diff float64) string {
	switch {
	case same(diff, 0):
		return ""
	case diff > 0:
		return ", " + mm(diff) + " wider on its side: take that off the spacer"
	}
	return ", " + mm(-diff) + " narrower on its side: add that to the spacer"
}

func bridgeEffort(width string) graph.Effort {
	if width == "" {
		return graph.EffortHandTools
	}
	return graph.EffortLatheWeld // a spacer has to be turned
}

// findBearing finds a standard bearing by bore, outside and kind, for a place
// of a width; 0 when nobody knows it. Of several the one that is nearest in
// width, then the first confirmed one.
func findBearing(d, outside, width float64, form string) (measure.Bearing, bool) {
	var found measure.Bearing
	better := func(b measure.Bearing) bool {
		off, was := math.Abs(b.Width-width), math.Abs(found.Width-width)
		switch {
		case found.Designation == "":
			return true
		case width > 0 && !same(off, was):
			return off < was
		}
		return found.FromMemory && !b.FromMemory
	}
	for b := range measure.Bearings() {
		if b.Form == form && math.Abs(b.Inside-d) <= slideFit && math.Abs(b.Outside-outside) <= slideFit && better(b) {
			found = b
		}
	}
	return found, found.Designation != ""
}

func orderBearing(c *check, b measure.Bearing) {
	size := fmt.Sprintf("%s x %s x %s mm", plain(b.Inside), plain(b.Outside), plain(b.Width))
	spec := []Field{{"designation", b.Designation}, {"size", size}, {"kind", b.Form}, {"source", "ISO 15"}}
	if b.Form == "taper" {
		spec[3].Value = "ISO 355"
	}
	if b.FromMemory {
		spec[3].Value += " from memory: check the size before you buy"
	}
	spec = append(spec, Field{"behind the number", "seals and group of play as the one there has, by its suffixes"})
	c.order("bearing", fmt.Sprintf("%s bearing %s, %s", b.Form, b.Designation, size), spec...)
}

// Into what a ring is pressed, and what a bearing sits in that turns with its outer ring: a hub.
// Which class is common practice, no source; its values are those of ISO 286.
const pressedIn, holdsRing = "p6", "N7"

// ringForSeat orders the ring between a bearing and a seat that is too wide for it: both press.
func ringForSeat(c *check, inside, outside float64, width span, okWidth bool) *Order {
	spec := []Field{}
	if in, err := trade.FitLimits(holdsRing, inside); err == nil {
		spec = append(spec, Field{"bore, by ISO 286", limitText(inside+in.Lower/1000, inside+in.Upper/1000, holdsRing,
			"bearing")})
	}
	if out, err := trade.FitLimits(pressedIn, outside); err == nil {
		spec = append(spec, Field{"outside, by ISO 286", limitText(outside+out.Lower/1000, outside+out.Upper/1000, pressedIn,
			"seat")})
	}
	return stepped(c, inside, outside, width, okWidth, spec)
}

// steppedSleeve orders the sleeve between a shaft and a bearing that is too wide for it.
func steppedSleeve(c *check, inside, outside float64, width span, okWidth bool) *Order {
	return stepped(c, inside, outside, width, okWidth, append(boreOver(sitsOn, inside, 0), outsideFor(outside)...))
}

func stepped(c *check, inside, outside float64, width span, okWidth bool, fits []Field) *Order {
	length := "width of the bearing: measure it"
	if okWidth {
		length = mm(width.nominal)
	}
	return c.order("sleeve", fmt.Sprintf("stepped sleeve %s inside, %s outside, %s long, with a collar", mm(inside),
		mm(outside), length),
		append(append([]Field{{"inside", mm(inside)}, {"outside", mm(outside)}, {"length", length},
			{"collar", "thinner than the ring it lies against is high"}}, fits...), sleeveFields(inside, outside)...)...)
}
