package mating

import (
	"fmt"
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// bearingInSeat judges the outer ring in its housing: kind, size and width.
func bearingInSeat(b *bench, m Meeting) {
	bearingKind(b, m)
	bearingWidth(b, m)
	c := b.check("bearing in seat")
	ring := c.bearing(m.A)
	seat, okSeat := c.length(m.B, "diameter")
	if !c.need(m.A, ring.okOutside, "outside") || !okSeat {
		return
	}
	play := seat.minus(ring.outside)
	c.sizes(mm(ring.outside.nominal), mm(seat.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(-pressFit, slideFit); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s bearing in a %s seat", mm(ring.outside.nominal), mm(seat.nominal))
	case where == astride:
		askTwo(c, m, "outside", "diameter")
		c.unknown("at the limits of their tolerances the ring may not hold in the seat")
	default:
		seatOther(c, m, ring, seat.nominal)
	}
}

// seatOther looks for a bearing of the same bore and kind for another seat.
func seatOther(c *check, m Meeting, ring bearingSize, seat float64) {
	why := fmt.Sprintf("the bearing is %s outside, its seat %s", mm(ring.outside.nominal), mm(seat))
	form, okForm := c.peek(m.B, "form", measure.Word)
	wrong := okForm && ring.okForm && !strings.EqualFold(form.Text, ring.form)
	if ring.okInside && ring.okForm {
		if std, ok := findBearing(ring.inside.nominal, seat, ring.form); ok && !wrong {
			c.change(graph.EffortHandTools, "fit a "+std.Designation+" in its place", "%s", why)
			orderBearing(c, std)
			return
		}
	}
	switch {
	case wrong:
		c.no("%s; nothing is made for a bearing of the wrong kind", why) // see bearingKind
	case !c.need(m.A, ring.okInside, "inside") || !c.need(m.A, ring.okForm, "form"):
		c.unknown("%s: a standard bearing may bridge it", why)
	case seat < ring.outside.nominal:
		c.no("%s, too small, and no standard %s bearing of %s bore has that outside", why, ring.form, mm(ring.inside.nominal))
	case (seat-ring.outside.nominal)/2 < leastWall-eps:
		c.no("%s: too loose to hold, too little room for a ring", why)
	default:
		c.change(graph.EffortLatheWeld, "turn a ring for the seat", "%s, and no standard %s bearing bridges it", why, ring.form)
		steppedSleeve(c, ring.outside.nominal, seat, ring.width, ring.okWidth)
	}
}

// bearingKind keeps a bearing of the right size and the wrong kind out.
func bearingKind(b *bench, m Meeting) {
	c := b.check("bearing kind")
	ring := c.bearing(m.A)
	form, okForm := c.word(m.B, "form")
	if !c.need(m.A, ring.okForm, "form") || !okForm {
		return
	}
	c.sizes(ring.form, form, "")
	if ring.form == form {
		c.fits("a %s bearing where a %s bearing belongs", ring.form, form)
		return
	}
	name := "a " + ring.form + " bearing"
	if v, ok := c.peek(m.A, "designation", measure.Word); ok {
		name = v.Text + ", " + name + ","
	}
	c.no("%s where a %s bearing belongs: the size alone does not make it right", name, form)
	seat, okSeat := c.peekLength(m.B, "diameter")
	if std, ok := findBearing(ring.inside.nominal, seat.nominal, form); ok && okSeat && ring.okInside {
		orderBearing(c, std)
	}
}

// bearingWidth says what the width does to the spacers: a ring that stands
// proud of its seat pushes the spacer out by as much.
func bearingWidth(b *bench, m Meeting) {
	c := b.check("bearing width")
	ring := c.bearing(m.A)
	depth, okDepth := c.length(m.B, "depth")
	if !c.need(m.A, ring.okWidth, "width") || !okDepth {
		return
	}
	proud := ring.width.minus(depth)
	c.sizes(mm(ring.width.nominal), mm(depth.nominal), "")
	switch where := proud.against(-1e9, 0); {
	case where == inside || same(proud.nominal, 0):
		c.fits("%s wide in a seat %s deep", mm(ring.width.nominal), mm(depth.nominal))
	case where == astride:
		askTwo(c, m, "width", "depth")
		c.unknown("at the limits of their tolerances the bearing may stand proud")
	default:
		c.Gap = mm(proud.nominal)
		c.change(graph.EffortLatheWeld, "take "+c.Gap+" off the spacer on that side",
			"the bearing stands %s proud of its seat", c.Gap)
	}
}

// bridgeSeatToShaft looks for what joins a hub to an axle it was not made for.
func bridgeSeatToShaft(b *bench, m Meeting) {
	c := b.check("bearing between seat and shaft")
	seat, okSeat := c.length(m.A, "diameter")
	depth, okDepth := c.length(m.A, "depth")
	form, okForm := c.word(m.A, "form")
	shaft, okShaft := c.length(m.B, "diameter")
	if !okSeat || !okForm || !okShaft || !okDepth {
		return
	}
	c.sizes(mm(seat.nominal)+" seat", mm(shaft.nominal)+" shaft", "")
	why := fmt.Sprintf("%s seat, %s shaft", mm(seat.nominal), mm(shaft.nominal))
	if std, ok := findBearing(shaft.nominal, seat.nominal, form); ok {
		width := ""
		if std.Width > depth.nominal+eps {
			width = widthWords(std.Width - depth.nominal)
		}
		c.change(bridgeEffort(width), "fit a "+std.Designation+width, "%s: %s bearing %s bridges them", why, form, std.Designation)
		orderBearing(c, std)
		return
	}
	bridgeWithSleeve(c, seat.nominal, shaft.nominal, form, why)
}

// bridgeWithSleeve takes the bearing that fills the seat and sleeves the shaft,
// or else the biggest on the shaft and sleeves the seat.
func bridgeWithSleeve(c *check, seat, shaft float64, form, why string) {
	var onShaft, inSeat measure.Bearing
	for _, s := range measure.Bearings() {
		wallIn, wallOut := (s.Inside-shaft)/2, (seat-s.Outside)/2
		if s.Form != form {
			continue
		}
		if math.Abs(s.Outside-seat) <= slideFit && wallIn >= leastWall-eps && (inSeat.Inside == 0 || s.Inside < inSeat.Inside) {
			inSeat = s
		}
		if math.Abs(s.Inside-shaft) <= slideFit && wallOut >= leastWall-eps && s.Outside > onShaft.Outside {
			onShaft = s
		}
	}
	switch {
	case inSeat.Inside > 0:
		c.change(graph.EffortLatheWeld, "turn a stepped sleeve for the shaft", "%s: no standard %s bearing has both", why, form)
		orderBearing(c, inSeat)
		steppedSleeve(c, shaft, inSeat.Inside, exact(inSeat.Width), true)
	case onShaft.Inside > 0:
		c.change(graph.EffortLatheWeld, "turn a ring for the seat", "%s: no standard %s bearing has both", why, form)
		orderBearing(c, onShaft)
		steppedSleeve(c, onShaft.Outside, seat, exact(onShaft.Width), true)
	default:
		c.no("%s: no standard %s bearing bridges them, with or without a sleeve", why, form)
	}
}
