package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

const (
	// discMatch is how far a disc may be off the size a caliper is made for,
	// in mm: what reading its diameter to 0.5 mm leaves. The reading is common
	// practice, no source.
	discMatch = 0.5
	// sideMatch is how far the disc may run off the middle of the slot, in mm.
	// Common practice, no source.
	sideMatch = 0.5
	// mostCarried is how far a bracket that is offered may carry a caliper further out or
	// in, in mm: by a disc 40 mm larger. Beyond it the lugs are turned and pulled by a
	// force they were not made for. Common practice, no source: brackets for discs 10 to
	// 30 mm larger are usual.
	mostCarried = 20.0
)

// mount is a caliper against the lugs of a leg.
type mount struct {
	m            Meeting
	leg, caliper Side
	sure         bool // which side is which
	style        string
	measured     bool // both bolt centres are known
	bracket      bool // the holes do not meet: a bracket takes up height and side as well
	noBracket    bool // none in line with the lugs can be made
	open         bool // one can't be drawn before more is measured
	tooFar       bool // one would carry the caliper further than anybody here can vouch for
}

// caliperOnLeg is rule 3 for calipers: style, bolt centres, disc size, and the
// slot over the disc.
func caliperOnLeg(b *bench, m Meeting) {
	t, ok := newMount(b, m)
	if !ok {
		return
	}
	fastenersInHoles(b, m, t.bracket)
	boltClasses(b, m)
	if !t.bracket {
		boltReach(b, m)
	}
	t.height(b)
	if m.Line == nil {
		t.side(b)
	}
}

// newMount judges style and bolt centres. It is false when the bolts point
// different ways, which no bracket mends.
func newMount(b *bench, m Meeting) (*mount, bool) {
	c := b.check("caliper mount")
	t := &mount{m: m}
	t.leg, t.caliper, t.sure = whichIsLeg(c, m)
	styleA, okA := c.word(m.A, "style")
	styleB, okB := c.word(m.B, "style")
	t.style = styleA
	if okA && okB && styleA != styleB {
		c.sizes(styleA, styleB, "")
		c.no("a caliper and a leg, one %s, the other %s: their bolts point different ways", styleA, styleB)
		return t, false
	}
	spacingA, okSpacingA := c.length(m.A, "spacing")
	spacingB, okSpacingB := c.length(m.B, "spacing")
	t.measured = okSpacingA && okSpacingB
	if t.measured {
		s := spacing{c: c, m: m, dim: "spacing", count: 2}
		s.order = func() bool { return t.orderBracket(c) }
		s.meet(spacingA, spacingB)
		t.bracket = len(c.Orders) > 0
	}
	return t, true
}

// whichIsLeg tells the leg by its tapped lugs: the bolts go through the caliper
// into the leg. Without a thread the side with clear holes is the caliper.
func whichIsLeg(c *check, m Meeting) (leg, caliper Side, sure bool) {
	_, tappedA := c.peek(m.A, "thread", measure.Thread)
	_, tappedB := c.peek(m.B, "thread", measure.Thread)
	_, clearA := c.peekLength(m.A, "hole")
	_, clearB := c.peekLength(m.B, "hole")
	switch {
	case tappedA != tappedB && tappedA, tappedA == tappedB && clearB && !clearA:
		return m.A, m.B, true
	case tappedA != tappedB && tappedB, tappedA == tappedB && clearA && !clearB:
		return m.B, m.A, true
	}
	return m.A, m.B, false
}

// height judges how high the caliper sits over the disc. Where both heights were
// measured the sum of them decides; else the disc sizes that lug and caliper are
// made for, against the disc fitted (discHeight).
func (t *mount) height(b *bench) {
	c := b.check("caliper height")
	by, words, ok := t.needs(c)
	if !ok {
		return
	}
	switch where := by.against(-discMatch/2, discMatch/2); {
	case where == inside || same(by.nominal, 0):
		c.fits("%s", words)
	case where == astride:
		c.settle(askFor(t.caliper, "disc"))
		c.unknown("at the limits of the sizes given the caliper may sit too high or too low")
	case !t.sure && t.m.Disc.IsZero():
		c.settle(askFor(t.m.A, "thread"))
		c.settle(askFor(t.m.B, "thread"))
		c.unknown("%s, and nobody said which side is the leg: look which lugs are tapped", words)
	default:
		t.shift(c, by.nominal)
	}
}

// needs is how much further from the axle the caliper must sit, and what says
// so; false when that is not known, which it then states.
func (t *mount) needs(c *check) (span, string, bool) {
	by, words, ok := t.needsBare(c)
	if t.style == "radial" {
		by = by.minus(exact(t.m.Packed))
	}
	return by, words, ok
}

// needsBare is that without what lies under the caliper.
func (t *mount) needsBare(c *check) (span, string, bool) {
	design, okDesign := c.length(t.caliper, "disc")
	lug, okLug := c.length(t.leg, "disc")
	fitted, okFitted := lug, okLug
	if !t.m.Disc.IsZero() {
		fitted, okFitted = c.length(t.m.Disc, "diameter")
	}
	if okFitted && t.sure && t.heights() {
		// What the caliper is made for decides nothing beside its measured height; it is as good
		// as judged where it says the same.
		off := design.minus(fitted).against(-discMatch, discMatch)
		c.Taken = okDesign && off != below && off != above
		return t.measuredNeed(c, fitted)
	}
	if !okDesign || !okFitted || !okLug {
		return span{}, "", false
	}
	c.Had, c.Wanted = mm(fitted.nominal)+" disc", "made for "+mm(design.nominal)
	if t.m.Disc.IsZero() {
		return fitted.minus(design).times(0.5), "made for the " + mm(fitted.nominal) + " disc", true
	}
	return t.threeDiscs(c, lug, design, fitted)
}

// heights reports whether somebody measured how high lug and caliper stand.
func (t *mount) heights() bool {
	return len(t.leg.Feature.Dims["height"]) > 0 && len(t.caliper.Feature.Dims["height"]) > 0
}

// measuredNeed is the radius of the disc less where the outer edge of the pads
// stands. Source: geometry.
func (t *mount) measuredNeed(c *check, fitted span) (span, string, bool) {
	lug, okLug := c.length(t.leg, "height")
	caliper, okCaliper := c.length(t.caliper, "height")
	pads := lug.plus(caliper)
	c.Had, c.Wanted = "pads to "+mm(pads.nominal)+" from the axle", "disc to "+mm(fitted.nominal/2)
	return fitted.times(0.5).minus(pads), "the pads end where the " + mm(fitted.nominal) + " disc ends", okLug &&
		okCaliper
}

// threeDiscs tells from the disc the lug is made for, the one the caliper came
// with and the one fitted. Of three sizes two must agree: a caliper made for what
// its lug is made for moves by half of what the disc differs; where the odd one
// is the lug, by half of what the lug differs. When all three differ, nothing
// but the heights tells. Source: (D fitted - D design) / 2, published workshop
// notes, recomputed; geometry.
func (t *mount) threeDiscs(c *check, lug, design, fitted span) (span, string, bool) {
	alike := func(a, b span) bool {
		return a.minus(b).against(-discMatch, discMatch) != below && a.minus(b).against(-discMatch, discMatch) != above
	}
	switch {
	case alike(lug, design) || alike(lug, fitted):
		return fitted.minus(design).times(0.5), "made for the " + mm(fitted.nominal) + " disc", true
	case alike(design, fitted):
		c.Had, c.Wanted = "lug made for a "+mm(lug.nominal)+" disc", mm(fitted.nominal)+" disc"
		return fitted.minus(lug).times(0.5), "", true
	}
	c.settle(askFor(t.leg, "height"), askFor(t.caliper, "height"))
	c.unknown("lug made for a %s disc, caliper for %s, and a disc of %s: only the heights of lug and caliper tell "+
		"where the pads come to stand",
		mm(lug.nominal), mm(design.nominal), mm(fitted.nominal))
	return span{}, "", false
}

// shift says how a caliper comes to sit t mm further out, or in when negative.
func (t *mount) shift(c *check, by float64) {
	c.Gap = mm(math.Abs(by))
	where := c.Gap + " further from the axle"
	if by < 0 {
		where = c.Gap + " nearer to the axle"
	}
	switch {
	case t.tooFar, t.open:
		c.unknown("the caliper must sit %s", where)
	case t.noBracket:
		c.no("the caliper must sit %s", where)
	case t.bracket || t.style == "axial":
		if !t.bracket {
			t.orderBracket(c)
		}
		switch {
		case t.tooFar, t.open:
			return
		case t.noBracket:
			c.no("the caliper must sit %s", where)
			return
		}
		c.change(graph.EffortLatheWeld, "let the bracket carry the caliper "+where, "the caliper must sit %s", where)
	case by > 0 && pastPacking(c, t.caliper, by, mostRadialShim, "the caliper must sit "+where):
	case by > 0:
		c.change(graph.EffortDrillShim, "shim the caliper out by "+c.Gap+" under both feet, with bolts as much longer",
			"the caliper must sit %s", where)
		t.orderUnderCaliper(c, "shim", "2 radial caliper shims", by)
	default:
		t.hopeless(c, "the caliper must sit "+where+", and a shim only brings it out", "the caliper's feet")
	}
}

// hopeless says that nothing brings a caliper bolted to its lugs to where it must be, as
// far as it is known that no bracket holds it.
func (t *mount) hopeless(c *check, why, face string) {
	if !t.measured {
		c.unknown("%s; its bolt centres tell whether it needs a bracket", why)
		return
	}
	c.no("%s; %s", why, unturnedWords(face))
}

// side judges the slot's centre against the disc across the wheel. On an axial
// mount it decides; on a radial one it is judged when somebody gave it.
func (t *mount) side(b *bench) {
	given := len(t.leg.Feature.Dims["offset"]) + len(t.caliper.Feature.Dims["offset"])
	if given == 0 && t.style != "axial" {
		return
	}
	c := b.check("caliper over disc")
	slot, okSlot := c.length(t.caliper, "offset")
	disc, okDisc := c.length(t.leg, "offset")
	if !okSlot || !okDisc {
		return
	}
	if t.style == "axial" {
		slot = slot.plus(exact(t.m.Packed))
	}
	diff := disc.minus(slot)
	c.Had, c.Wanted, c.Gap = "slot "+mm(slot.nominal), "disc "+mm(disc.nominal), mm(math.Abs(diff.nominal))
	switch where := diff.against(-sideMatch, sideMatch); {
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		c.fits("the slot sits over the disc")
	case where == astride:
		c.settle(askFor(t.caliper, "offset"))
		c.settle(askFor(t.leg, "offset"))
		c.unknown("at the limits of their tolerances the disc may run off the middle of the slot")
	case t.noBracket:
		c.no("the slot is %s beside the disc", c.Gap)
	case t.open:
		c.settle(askFor(t.caliper, "offset"))
		c.unknown("the slot is %s beside the disc, and how far a bracket carries it is not known yet", c.Gap)
	case t.bracket:
		c.change(graph.EffortLatheWeld, "let the bracket take up "+c.Gap+" sideways",
			"the slot is %s beside the disc", c.Gap)
	case !t.sure:
		c.settle(askFor(t.m.A, "thread"))
		c.settle(askFor(t.m.B, "thread"))
		c.unknown("the slot is %s beside the disc, and nobody said which side is the leg", c.Gap)
	case diff.nominal > 0 && t.style == "axial":
		t.spaceOut(c, diff.nominal, "the slot is "+c.Gap+" short of the disc")
	default:
		t.hopeless(c, "the slot is "+c.Gap+" beside the disc, and no spacer brings it there", "the caliper's mounting face")
	}
}

// orderBracket writes both hole patterns and how far the bracket shifts the
// caliper, outward from the axle and away from the mounting face. It is true, and nothing
// ordered, where nobody measured what says how far: holes alone make no bracket.
func (t *mount) orderBracket(c *check) (open bool) {
	if words := t.holesOverlap(c); words != "" {
		t.noBracket = true
		c.no("%s", words)
		return false
	}
	if t.unmeasured(c) {
		t.open = true
		return true
	}
	if by, ok := t.shiftNeeded(c); ok && math.Abs(by.nominal) > mostCarried+eps {
		t.tooFar = true
		c.settle(lookAt(t.caliper, "bracket", "whether somebody qualified makes a bracket for that disc and vouches for it"))
		c.unknown("a bracket would have to carry the caliper %s: past %s nobody here can vouch for the lugs",
			mm(math.Abs(by.nominal)), mm(mostCarried))
		return false
	}
	leg, caliper := patternWords(c, t.leg), patternWords(c, t.caliper)
	spec := []Field{{"to suit " + label(t.leg), leg}, {"to suit " + label(t.caliper), caliper}}
	spec = append(append(spec, holesIn(c, t.leg)...), holesIn(c, t.caliper)...)
	if by, ok := t.shiftNeeded(c); ok && t.sure {
		spec = append(spec, shiftField("the axle", by.nominal)...)
	}
	spec = append(spec, t.sideways(c)...)
	spec = append(append(spec, metalFields(c, t.leg, t.caliper)...), plateFinish)
	if by, ok := t.shiftNeeded(c); ok && t.sure {
		spec = append(spec, holesClash(c, t.leg, t.caliper, by.nominal)...)
	}
	o := c.order("bracket", "caliper bracket between "+leg+" and "+caliper, spec...)
	o.Between = true
	if t.sure {
		o.Place = t.leg.Position
		o.Stands = t.bracketMade(c)
	}
	return false
}

// unmeasured says what must be measured before a bracket can be drawn: the disc sizes that
// lug and caliper are made for and that of the disc fitted; where those are three, both
// heights. False when how far it must carry the caliper is known.
func (t *mount) unmeasured(c *check) bool {
	if _, ok := t.shiftNeeded(c); ok {
		return false
	}
	var asks []Ask
	for _, one := range []struct {
		side Side
		dim  string
	}{{t.leg, "disc"}, {t.caliper, "disc"}, {t.m.Disc, "diameter"}} {
		if _, ok := c.peekLength(one.side, one.dim); !ok && !one.side.IsZero() {
			asks = append(asks, askFor(one.side, one.dim))
		}
	}
	if len(asks) == 0 {
		asks = []Ask{askFor(t.leg, "height"), askFor(t.caliper, "height")}
	}
	c.settle(asks...)
	c.unknown("the holes do not meet, and holes alone make no bracket: how far it must carry the caliper is not known")
	return true
}

// holesOverlap says why no bracket can be made, whichever of the two is the leg.
func (t *mount) holesOverlap(c *check) string {
	words := t.overlap(c)
	if words == "" || t.sure {
		return words
	}
	other := *t
	other.leg, other.caliper = t.caliper, t.leg
	if other.overlap(c) == "" {
		return ""
	}
	return words
}

func (t *mount) overlap(c *check) string {
	if by, ok := t.shiftNeeded(c); ok {
		return holesOverlap(c, t.leg, t.caliper, by.nominal)
	}
	by, ok := t.leastShift(c)
	if !ok {
		return ""
	}
	words := holesOverlap(c, t.leg, t.caliper, by.nominal)
	if words != "" && !same(by.nominal, 0) {
		words += "; of three discs of three sizes it may have to carry the caliper by no more than " +
			tenth(math.Abs(by.nominal))
	}
	return words
}

// leastShift is the least that a bracket may have to carry the caliper where three discs
// of three sizes leave open how much: from what the disc differs from that of the caliper
// to what it differs from that of the lug. That nobody knows more makes no room for holes.
func (t *mount) leastShift(c *check) (span, bool) {
	if t.m.Disc.IsZero() || t.heights() {
		return span{}, false
	}
	design, okDesign := c.peekLength(t.caliper, "disc")
	lug, okLug := c.peekLength(t.leg, "disc")
	fitted, okFitted := c.peekLength(t.m.Disc, "diameter")
	if !okDesign || !okLug || !okFitted {
		return span{}, false
	}
	byDesign, byLug := fitted.minus(design).times(0.5), fitted.minus(lug).times(0.5)
	switch {
	case (byDesign.nominal < 0) != (byLug.nominal < 0):
		return exact(0), true
	case math.Abs(byLug.nominal) < math.Abs(byDesign.nominal):
		return byLug, true
	}
	return byDesign, true
}

// bracketMade is a bracket as ordered: what it has for the leg, for the caliper,
// and how far it carries that. Its metal is drawn to the order.
func (t *mount) bracketMade(c *check) []graph.Feature {
	on, off := feature("leg-side", "caliper-mount"), feature("caliper-side", "caliper-mount")
	like := func(f graph.Feature, s Side, dims ...string) {
		for _, dim := range dims {
			if r := s.Feature.Dims[dim]; len(r) > 0 {
				f.Dims[dim] = r[:1]
			}
		}
	}
	like(on, t.leg, "style", "spacing", "disc", "offset")
	like(off, t.caliper, "style", "spacing", "disc", "offset")
	on.Dims["hole"] = clearFor(c, t.leg)
	off.Dims["thread"] = tapFor(c, t.caliper)
	made := []graph.Feature{on, off}
	by, ok := t.shiftNeeded(c)
	if ok {
		shift := feature("shift", "shift", "outward", mm(by.nominal))
		if side, ok := t.sidewaysNeeded(c); ok {
			shift.Dims["sideways"] = []graph.Reading{{Text: mm(side.nominal)}}
		}
		made = append(made, shift)
	}
	return made
}

// clearFor is a clear hole for the bolt that goes into a side, tapFor the thread of
// the bolt that goes through one; nil when that is not known. Source: ISO 273.
func clearFor(c *check, s Side) []graph.Reading {
	bolt, _, ok := holeOf(c, s)
	if !ok {
		return nil
	}
	return []graph.Reading{{Text: mm(bolt + finePlay(bolt))}}
}

func tapFor(c *check, s Side) []graph.Reading {
	bolt, _, ok := holeOf(c, s)
	if !ok {
		return nil
	}
	return []graph.Reading{{Text: "M" + plain(bolt)}}
}

// plateFinish is that of what joins two hole patterns. Common practice, no source.
var plateFinish = Field{"finish", "faces flat and parallel where it is bolted, edges broken, no paint on those faces"}

// holesIn are the holes that what joins two patterns has for one of them: clear where that is
// tapped, tapped where it is clear. Nothing where nobody measured a hole of it.
func holesIn(c *check, s Side) []Field {
	name, holes := "holes in it for "+label(s), holesWords(c, s)
	if t, tapped := c.peek(s, "thread", measure.Thread); tapped {
		if r := clearFor(c, s); len(r) > 0 {
			return []Field{{name, holes + ", " + r[0].Text + ", clear of " + t.Thread.String()}}
		}
		return nil
	}
	if r := tapFor(c, s); len(r) > 0 {
		return []Field{{name, holes + ", tapped " + r[0].Text + ", of the pitch of its bolts"}}
	}
	return nil
}

// shiftNeeded is needs on a bench of its own: what it states belongs to the
// height.
func (t *mount) shiftNeeded(c *check) (span, bool) {
	aside := c.bench.aside().check("caliper height")
	by, _, ok := t.needs(aside)
	if ok {
		c.also(aside.Uses)
	}
	return by, ok
}

// sideways says how far the bracket moves the caliper across the wheel, so that
// its slot stands over the disc where that really runs.
func (t *mount) sideways(c *check) []Field {
	if len(t.caliper.Feature.Dims["offset"]) == 0 || len(t.leg.Feature.Dims["offset"]) == 0 || !t.sure {
		return nil
	}
	by, ok := t.sidewaysNeeded(c)
	if !ok {
		return []Field{{"carries the caliper sideways", "first find where the disc runs"}}
	}
	return shiftField("the lugs' face", by.nominal)
}

// sidewaysNeeded is how much further from the lugs' face the caliper must sit.
func (t *mount) sidewaysNeeded(c *check) (span, bool) {
	slot, okSlot := c.peekLength(t.caliper, "offset")
	disc, okDisc := c.peekLength(t.leg, "offset")
	by := disc.minus(slot)
	if !okSlot || !okDisc || t.m.Line == nil {
		return by, okSlot && okDisc
	}
	aside := c.bench.aside().check("disc line")
	off, ok := t.m.Line().off(aside)
	if ok {
		c.also(aside.Uses)
	}
	return by.minus(off), ok
}

// spaceOut states that the slot must come t mm further out, away from the wheel,
// and orders the spacers for it.
func (t *mount) spaceOut(c *check, by float64, why string) {
	if pastPacking(c, t.caliper, by, mostPacking, why) {
		return
	}
	c.change(graph.EffortDrillShim, "put "+tenth(by)+" spacers between caliper and lugs, with bolts as much longer",
		"%s", why)
	t.orderUnderCaliper(c, "spacer", "2 caliper spacers", by)
}

// orderUnderCaliper orders what goes between a caliper and its lugs, one for each
// bolt: how thick, what it must clear, what it must not stand out beyond.
func (t *mount) orderUnderCaliper(c *check, kind, what string, thick float64) {
	spec := []Field{{"count", "2"}, {"thickness", tenth(thick)}}
	if thread, ok := c.peek(t.leg, "thread", measure.Thread); ok {
		spec = append(spec, Field{"bore", boltHole(thread.Thread.Nominal) + ", clear of an " +
			thread.Thread.String() + " bolt"})
	} else if hole, ok := c.peekLength(t.caliper, "hole"); ok {
		spec = append(spec, Field{"bore", mm(hole.nominal)})
	}
	spec = append(spec, Field{"outside", "flush with the lug: measure its width"},
		Field{"faces", "flat and parallel, both to one thickness"})
	o := c.order(kind, what+" "+tenth(thick)+" thick", append(spec, clampedMetal...)...)
	o.Thicker, o.Place, o.Under = thick, t.leg.Position, t.caliper.Position
}

// shiftField says how far a bracket moves the caliper, without a sign; nothing
// when it does not.
func shiftField(face string, by float64) []Field {
	switch {
	case math.Abs(by) < spacerStep/2:
		return nil
	case by < 0:
		return []Field{{"carries the caliper", tenth(-by) + " nearer to " + face}}
	}
	return []Field{{"carries the caliper", tenth(by) + " further from " + face}}
}
