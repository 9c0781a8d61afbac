package mating

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// bearingInSeat judges the outer ring in its housing: kind, size and width.
func bearingInSeat(b *bench, m Meeting) {
	bearingKind(b, m)
	bearingWidth(b, m)
	bearingFit(b, m)
	bearingPlay(b, m)
	bearingSeals(b, m)
	pastSeal(b, m)
	c := b.check("bearing in seat")
	ring := bearing(c, m.A)
	seat, okSeat := c.length(m.B, "diameter")
	if !need(c, m.A, ring.okOutside, "outside") || !okSeat {
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
	wrong := okForm && ring.okForm && !strings.EqualFold(form.Text, ring.form) && !pairOf(ring.form,
		strings.ToLower(form.Text))
	inside, okInside := across(c, m, "diameter", ring.inside, ring.okInside)
	if okInside && ring.okForm && !m.asksForBearing() {
		if std, ok := findBearing(inside.nominal, seat, ring.width.nominal, ring.form); ok && !wrong {
			offerBearing(c, m, ring, std, why)
			return
		}
	}
	switch {
	case m.asksForBearing(): // another bearing is another question
		c.no("%s", why)
	case wrong:
		c.no("%s; nothing is made for a bearing of the wrong kind", why) // see bearingKind
	case !need(c, m.A, ring.okInside, "inside") || !need(c, m.A, ring.okForm, "form"):
		c.unknown("%s: a standard bearing may bridge it", why)
	case seat < ring.outside.nominal:
		c.no("%s, too small, and no standard %s bearing of %s bore has that outside", why, ring.form,
			mm(ring.inside.nominal))
	case (seat-ring.outside.nominal)/2 < leastWall-eps:
		c.no("%s: too loose to hold, too little room for a ring", why)
	case !canSleeve(c, ring.outside.nominal):
	default:
		c.change(graph.EffortLatheWeld, "turn a ring for the seat", "%s, and no standard %s bearing bridges it", why,
			ring.form)
		ringForSeat(c, ring.outside.nominal, seat, ring.width, ring.okWidth).Place = m.B.Position
	}
}

// bearingKind keeps a bearing of the right size and the wrong kind out.
func bearingKind(b *bench, m Meeting) {
	c := b.check("bearing kind")
	ring := bearing(c, m.A)
	form, okForm := c.word(m.B, "form")
	if !need(c, m.A, ring.okForm, "form") || !okForm {
		return
	}
	c.sizes(ring.form, form, "")
	if ring.form == form {
		c.fits("a %s bearing where a %s bearing belongs", ring.form, form)
		return
	}
	if pairOf(ring.form, form) {
		ownRaces(c, ring.form, form)
		return
	}
	name := "a " + ring.form + " bearing"
	if v, ok := c.peek(m.A, "designation", measure.Word); ok {
		name = v.Text + ", " + name + ","
	}
	c.no("%s where a %s bearing belongs: the size alone does not make it right", name, form)
	seat, okSeat := c.peekLength(m.B, "diameter")
	if std, ok := findBearing(ring.inside.nominal, seat.nominal, ring.width.nominal, form); ok && okSeat &&
		ring.okInside {
		orderBearing(c, std)
	}
}

// pairOf reports whether one kind of bearing may stand in for another as a whole
// with its own races: angular-contact and taper bearings both carry a head or a
// hub lengthwise, in pairs.
func pairOf(ring, seat string) bool {
	return ring == "angular" && seat == "taper" || ring == "taper" && seat == "angular"
}

// ownRaces says how such a pair is changed. Common practice, no source.
func ownRaces(c *check, ring, seat string) {
	c.change(graph.EffortHandTools,
		"fit "+ring+" bearings as a pair, by kit, each with its own races; press the old races out, and set them by the "+
			"maker's manual",
		"%s bearing where a %s one belongs: as a pair with their own races they carry the same way", ring, seat)
}

// bearingFit judges how tight the outer ring sits, where somebody measured its
// seat to the hundredth or says what it is bored to. A ring in a part that turns
// creeps when it is loose; in one that stands still it may slide. Sources: ISO
// 286-2, ISO 492; which class for which load: two fit tables.
func bearingFit(b *bench, m Meeting) {
	if len(m.B.Feature.Dims["fit"])+len(m.B.Feature.Dims["turns"]) == 0 {
		return
	}
	c := b.check("bearing fit")
	ring := bearing(c, m.A)
	turns, okTurns := c.read(m.B, "turns", measure.YesNo)
	seat, okSeat := c.length(m.B, "diameter")
	if !need(c, m.A, ring.okOutside, "outside") || !okTurns || !okSeat {
		return
	}
	if !turns.Yes && slices.Contains(turnsRound, m.B.PartKind) {
		c.settle(lookAt(m.B, "turns", "whether it turns round its axle"))
		c.unknown("it is written as standing still, and a %s turns round its axle: in what turns a loose ring creeps",
			m.B.PartKind)
		return
	}
	if class, ok := c.peek(m.B, "fit", measure.Word); ok {
		fitByClass(c, class.Text, ring.outside.nominal, turns.Yes)
		return
	}
	fitByMeasure(c, m, seat.minus(ring.outside).nominal*1000, ring.outside.nominal, turns.Yes)
}

// turnsRound are the kinds of part that turn round their axle. Common practice, no source.
var turnsRound = []graph.KindID{"front-wheel", "rear-wheel", "wheel-hub", "sprocket-carrier"}

func fitByClass(c *check, class string, outside float64, turns bool) {
	fit, err := trade.OuterRingFit(class, outside)
	if err != nil {
		c.cantTell("how tight the ring sits", err)
		return
	}
	words := fmt.Sprintf("a %s ring in %s: %s", mm(outside), class, fitWords(fit))
	switch {
	case !turns || slices.Contains(trade.HubFits(), class):
		c.fits("%s", words)
	case fit.Most <= 0:
		c.unknown("%s: tighter than the classes for a hub; the ring loses its play", words)
	default:
		c.unknown("%s: for a part that turns J7 to P7 are usual; in a looser one the ring creeps", words)
	}
}

// fitByMeasure compares a measured seat with the classes for a hub, allowing
// 10 um for the bore gauge.
func fitByMeasure(c *check, m Meeting, play, outside float64, turns bool) {
	light, errLight := trade.OuterRingFit("J7", outside)
	heavy, errHeavy := trade.OuterRingFit("P7", outside)
	if err := cmp.Or(errLight, errHeavy); err != nil {
		c.cantTell("how tight the ring sits", err)
		return
	}
	const gauge = 10
	switch {
	case play < heavy.Least-gauge:
		c.settle(askFor(m.B, "diameter"))
		c.unknown("%.0f um of interference, more than P7 gives: the ring loses its play", -play)
	case play > light.Most+gauge && turns:
		c.no("%.0f um loose in a part that turns, more than J7 gives: the ring creeps and wears its seat", play)
	default:
		c.fits("%s between ring and seat", fitWords(trade.SeatFit{Least: play, Most: play}))
	}
}

// fitWords is a fit in micrometres: "33 um of interference to 3 um of clearance".
func fitWords(f trade.SeatFit) string {
	side := func(v float64) string {
		if v < 0 {
			return fmt.Sprintf("%.0f um of interference", -v)
		}
		return fmt.Sprintf("%.0f um of clearance", v)
	}
	if f.Least == f.Most {
		return side(f.Least)
	}
	return side(f.Least) + " to " + side(f.Most)
}

// bearingSeals holds the seals that the number on a bearing tells against those of the one built in: an open one
// where a sealed one was keeps no grease in and no water out, unless a seal stands beside it. Source: see
// measure.BearingSeals.
func bearingSeals(b *bench, m Meeting) {
	built, known := asBuilt(m, "bearing")
	aside := b.aside().check("bearing seals")
	was, okWas := aside.peek(built, "designation", measure.Word)
	now, okNow := aside.peek(m.A, "designation", measure.Word)
	if !known || !okWas || !okNow || measure.BearingSeals(now.Text) >= measure.BearingSeals(was.Text) {
		return
	}
	c := b.check("bearing seals")
	c.peek(m.A, "designation", measure.Word)
	c.settle(lookAt(m.A, "designation", "whether seals stand beside it on both sides"))
	c.unknown("%s where %s was built in: less keeps its grease in and water out", now.Text, was.Text)
}

// bearingPlay tells the group of radial play where it is not the usual one: a
// note, for a group is no size and goes wherever CN goes. Source: ISO 5753-1.
func bearingPlay(b *bench, m Meeting) {
	probe := b.aside().check("bearing play")
	group := "CN"
	text, ok := probe.peek(m.A, "designation", measure.Word)
	if ok {
		group = measure.PlayGroup(text.Text)
	}
	if said, ok := probe.peek(m.A, "play", measure.Word); ok {
		group = strings.ToUpper(said.Text)
	}
	if group == "CN" {
		return
	}
	c := b.check("bearing play")
	c.peek(m.A, "designation", measure.Word)
	c.peek(m.A, "play", measure.Word)
	words := "group " + group + " is how much the ring plays, not a size: it goes where CN goes"
	if ring := bearing(c, m.A); ring.okInside {
		is, errIs := trade.RadialPlay(ring.inside.nominal, group)
		usual, errUsual := trade.RadialPlay(ring.inside.nominal, "CN")
		if cmp.Or(errIs, errUsual) == nil {
			words += fmt.Sprintf(" (%.0f to %.0f um against %.0f to %.0f)", is.Least, is.Most, usual.Least, usual.Most)
		}
	}
	c.fits("%s", words)
}

// leastHeld is how much of a ring's width its seat must hold before it is left to the
// maker's manual. Common practice, no source.
const leastHeld = 0.75

// bearingWidth says what the width does to the spacers: a ring that stands
// proud of its seat pushes the spacer out by as much.
func bearingWidth(b *bench, m Meeting) {
	c := b.check("bearing width")
	ring := bearing(c, m.A)
	depth, okDepth := c.length(m.B, "depth")
	if !need(c, m.A, ring.okWidth, "width") || !okDepth {
		return
	}
	proud := ring.width.minus(depth)
	c.sizes(mm(ring.width.nominal), mm(depth.nominal), "")
	switch where := proud.against(-noLimit, 0); {
	case where != inside && proudAsBuilt(c, m, proud):
		c.fits("%s wide in a seat %s deep, as built", mm(ring.width.nominal), mm(depth.nominal))
	case ring.form == "taper" && builtWidth(c, m).nominal == 0 && proud.nominal > 0:
		c.fits("%s over both rings, of which the outer one lies in a seat %s deep", mm(ring.width.nominal),
			mm(depth.nominal))
	case where == inside || same(proud.nominal, 0):
		narrowerThanBuilt(c, m, ring, depth)
		deeperThanBuilt(c, m, ring, depth)
		c.fits("%s wide in a seat %s deep", mm(ring.width.nominal), mm(depth.nominal))
	case where == astride:
		askTwo(c, m, "width", "depth")
		c.unknown("at the limits of their tolerances the bearing may stand proud")
	case depth.high < leastHeld*ring.width.nominal-eps:
		c.Gap = mm(proud.nominal)
		c.settle(askFor(m.B, "depth"))
		c.unknown("only %s of its %s lie in the seat: a ring held over less than three quarters can tilt",
			mm(depth.nominal), mm(ring.width.nominal))
	case m.Spacers != nil && len(m.Spacers) == 0:
		c.Gap = mm(proud.nominal)
		c.no("the bearing stands %s proud of its seat, and no spacer stands beside it to take that off", c.Gap)
	default:
		c.Gap = mm(proud.nominal)
		c.change(graph.EffortLatheWeld, "make the spacer on that side "+c.Gap+" shorter",
			"the bearing stands %s proud of its seat", c.Gap)
		c.Spacers = true
	}
	if proud.nominal > eps && !proudAsBuilt(c, m, proud) {
		sealRoom(c, m, proud)
	}
}

// pastSeal judges whether a bearing goes past the seat of the seal outside it, on its way
// into its own: hub and bearing may agree with each other and not with the bore in front.
// It makes no check where no such seat is described. Source: geometry.
func pastSeal(b *bench, m Meeting) {
	if len(m.SealSeat.Feature.Dims["diameter"]) == 0 {
		return
	}
	c := b.check("bearing past seal")
	ring := bearing(c, m.A)
	opening, ok := c.length(m.SealSeat, "diameter")
	if !need(c, m.A, ring.okOutside, "outside") || !ok {
		return
	}
	less := ring.outside.minus(opening)
	c.sizes(mm(ring.outside.nominal), mm(opening.nominal), mm(math.Abs(less.nominal)))
	if less.low > sealMatch+eps {
		c.no("a %s bearing does not go past the seat of the seal outside it, %s", mm(ring.outside.nominal),
			mm(opening.nominal))
		return
	}
	c.Gap = ""
	c.fits("it goes past the seat of the seal outside it")
}

// sealRoom judges a bearing that stands out of its seat where a seal sits outside it: it
// takes of the seal's room what it stands out. Source: geometry.
func sealRoom(c *check, m Meeting, proud span) {
	depth, okDepth := c.peekLength(m.SealSeat, "depth")
	width, okWidth := c.peekLength(m.Seal, "width")
	if !okDepth || !okWidth {
		return
	}
	if room := depth.minus(proud); room.nominal < width.nominal-sealMatch-eps {
		c.no("it stands %s into the seat of the seal beside it, which leaves %s for a seal %s wide", mm(proud.nominal),
			mm(max(0, room.nominal)), mm(width.nominal))
	}
}

// proudAsBuilt reports whether the bearing that was built in stood as far out of its
// seat: what stands beside it is made for that, as it is for a pair of tapers, whose
// inner rings always stand out of their outer ones. A seat of another depth moves it
// as a bearing of another width does.
func proudAsBuilt(c *check, m Meeting, proud span) bool {
	was, ok := builtProud(c, m)
	return ok && math.Abs(was.nominal-proud.nominal) <= tubeShort+eps
}

// builtProud is how far the bearing that was built in stood out of its seat, less
// than zero where it lay below its edge; false when nobody knows.
func builtProud(c *check, m Meeting) (span, bool) {
	width := builtWidth(c, m)
	if m.Built == nil || width.nominal == 0 {
		return span{}, false
	}
	for _, s := range []Side{m.Built.A, m.Built.B} {
		if s.Feature.Kind == "bearing-seat" {
			depth, ok := c.peekLength(s, "depth")
			return width.minus(depth), ok
		}
	}
	return span{}, false
}

// builtWidth is how wide the bearing is that was built in; zero when nobody knows.
func builtWidth(c *check, m Meeting) span {
	if m.Built == nil {
		return span{}
	}
	for _, s := range []Side{m.Built.A, m.Built.B} {
		if s.Feature.Kind == "bearing" {
			return bearing(c, s).width
		}
	}
	return span{}
}

// narrowerThanBuilt tells when a bearing that goes into its seat is narrower than
// the one built in: what touches it then stands as much deeper, less what its seat is
// shallower than the one built in. How deep a seat is beyond that, the row and the inside
// of the hub tell.
func narrowerThanBuilt(c *check, m Meeting, ring bearingSize, depth span) {
	less := builtWidth(c, m).minus(ring.width)
	if was, ok := builtProud(c, m); ok {
		seat := builtWidth(c, m).minus(was)
		less = less.minus(exact(max(0, seat.nominal-depth.nominal)))
	}
	if less.low > tubeShort+eps {
		c.Gap = mm(less.nominal)
		c.change(graph.EffortLatheWeld, "make the spacer on that side "+c.Gap+" longer, and see what keeps the bearing "+
			"in its seat",
			"%s narrower than the bearing built in", c.Gap)
		c.Spacers = true
	}
}

// seatDeeper is how much deeper than the one built in a seat may take its bearing before
// somebody must look what keeps it there, in mm: the width of a circlip. Common practice,
// no source.
const seatDeeper = 1.0

// deeperThanBuilt tells when a bearing lies deeper below the edge of its seat than the
// one built in: what kept that in its place may not reach this one.
func deeperThanBuilt(c *check, m Meeting, ring bearingSize, depth span) {
	was, ok := builtProud(c, m)
	if !ok {
		return
	}
	sunk := depth.minus(ring.width).nominal
	before := max(0, -was.nominal)
	seat := depth.minus(builtWidth(c, m).minus(was)).nominal // how much deeper the seat itself is
	deeper := min(sunk-before, seat)
	if deeper <= seatDeeper+eps {
		return
	}
	c.Gap = mm(deeper)
	c.settle(lookAt(m.B, "depth", "what keeps the bearing in its place: shoulder, circlip, spacer"))
	c.unknown("a seat %s deep for a bearing %s wide, %s deeper than built: see what keeps it in its place",
		mm(depth.nominal), mm(ring.width.nominal), c.Gap)
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
	if std, ok := findBearing(shaft.nominal, seat.nominal, depth.nominal, form); ok {
		width := ""
		if std.Width > depth.nominal+eps {
			width = widthWords(std.Width - depth.nominal)
		}
		c.change(bridgeEffort(width), "fit a "+std.Designation+width, "%s: %s bearing %s bridges them", why, form,
			std.Designation)
		orderBearing(c, std)
		return
	}
	bridgeWithSleeve(c, seat.nominal, shaft.nominal, form, why)
}

// bridgeWithSleeve takes the bearing that fills the seat and sleeves the shaft,
// or else the biggest on the shaft and sleeves the seat.
func bridgeWithSleeve(c *check, seat, shaft float64, form, why string) {
	var onShaft, inSeat measure.Bearing
	for s := range measure.Bearings() {
		wallIn, wallOut := (s.Inside-shaft)/2, (seat-s.Outside)/2
		if s.Form != form {
			continue
		}
		if math.Abs(s.Outside-seat) <= slideFit && wallIn >= leastWall-eps && (inSeat.Inside == 0 ||
			s.Inside < inSeat.Inside) {
			inSeat = s
		}
		if math.Abs(s.Inside-shaft) <= slideFit && wallOut >= leastWall-eps && s.Outside > onShaft.Outside {
			onShaft = s
		}
	}
	switch {
	case inSeat.Inside > 0:
		c.change(graph.EffortLatheWeld, "turn a stepped sleeve for the shaft", "%s: no standard %s bearing has both",
			why, form)
		orderBearing(c, inSeat)
		steppedSleeve(c, shaft, inSeat.Inside, exact(inSeat.Width), true)
	case onShaft.Inside > 0:
		c.change(graph.EffortLatheWeld, "turn a ring for the seat", "%s: no standard %s bearing has both", why, form)
		orderBearing(c, onShaft)
		ringForSeat(c, onShaft.Outside, seat, exact(onShaft.Width), true)
	default:
		c.no("%s: no standard %s bearing bridges them, with or without a sleeve", why, form)
	}
}
