package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

const (
	// discMatch is how far a disc may be off the size a caliper is made for,
	// in mm: its diameter is read to 0.5 mm.
	discMatch = 0.5
	// sideMatch is how far the disc may run off the middle of the slot, in mm.
	// Common practice, no source.
	sideMatch = 0.5
)

// mount is a caliper against the lugs of a leg.
type mount struct {
	m            Meeting
	leg, caliper Side
	sure         bool // which side is which
	style        string
	bracket      bool // the holes do not meet: a bracket takes up height and side as well
}

// caliperOnLeg is rule 3 for calipers: style, bolt centres, disc size, and the
// slot over the disc.
func caliperOnLeg(b *bench, m Meeting) {
	t, ok := newMount(b, m)
	if !ok {
		return
	}
	fastenersInHoles(b, m, t.bracket)
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
	if okSpacingA && okSpacingB {
		s := spacing{c: c, m: m, dim: "spacing", count: 2}
		s.order = func() { t.orderBracket(c) }
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

// height judges the disc size: radial shim = (D fitted - D design) / 2. A
// negative one means machining, never a shim. Source: practitioners' notes,
// recomputed; geometry.
func (t *mount) height(b *bench) {
	c := b.check("caliper height")
	design, okDesign := c.length(t.caliper, "disc")
	fitted, okFitted := c.length(t.leg, "disc")
	if !t.m.Disc.IsZero() {
		fitted, okFitted = c.length(t.m.Disc, "diameter")
	}
	if !okDesign || !okFitted {
		return
	}
	diff := fitted.minus(design)
	c.Had, c.Wanted = mm(fitted.nominal)+" disc", "made for "+mm(design.nominal)
	switch where := diff.against(-discMatch, discMatch); {
	case where == inside || same(diff.nominal, 0):
		c.fits("made for the %s disc", mm(fitted.nominal))
	case where == astride:
		c.settle(askFor(t.caliper, "disc"))
		c.unknown("at the limits of the sizes given the caliper may sit too high or too low")
	case !t.sure && t.m.Disc.IsZero():
		c.settle(askFor(t.m.A, "thread"))
		c.settle(askFor(t.m.B, "thread"))
		c.unknown("discs of %s and %s, and nobody said which side is the leg: look which lugs are tapped",
			mm(fitted.nominal), mm(design.nominal))
	default:
		t.shift(c, diff.nominal/2)
	}
}

// shift says how a caliper comes to sit t mm further out, or in when negative.
func (t *mount) shift(c *check, by float64) {
	c.Gap = mm(math.Abs(by))
	where := c.Gap + " further from the axle"
	if by < 0 {
		where = c.Gap + " nearer to the axle"
	}
	switch {
	case t.bracket || t.style == "axial":
		c.change(graph.EffortLatheWeld, "let the bracket carry the caliper "+where, "the caliper must sit %s", where)
		if !t.bracket {
			t.orderBracket(c)
		}
	case by > 0:
		c.change(graph.EffortDrillShim, "shim the caliper out by "+c.Gap+" under both feet, with bolts as much longer",
			"the caliper must sit %s", where)
		t.orderUnderCaliper(c, "shim", "2 radial caliper shims", by)
	default:
		c.change(graph.EffortLatheWeld, "have "+c.Gap+" machined off the feet, or find a disc of the right size; a shim can't do it",
			"the caliper must sit %s: that is machining, never a shim", where)
	}
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
	case t.bracket:
		c.change(graph.EffortLatheWeld, "let the bracket take up "+c.Gap+" sideways", "the slot is %s beside the disc", c.Gap)
	case !t.sure:
		c.settle(askFor(t.m.A, "thread"))
		c.settle(askFor(t.m.B, "thread"))
		c.unknown("the slot is %s beside the disc, and nobody said which side is the leg", c.Gap)
	case diff.nominal > 0 && t.style == "axial":
		t.spaceOut(c, diff.nominal, "the slot is "+c.Gap+" short of the disc")
	default:
		c.change(graph.EffortLatheWeld, "have "+c.Gap+" machined off the mounting face, or make a bracket",
			"the slot is %s beside the disc", c.Gap)
	}
}

// orderBracket writes both hole patterns and how far the bracket shifts the
// caliper, outward from the axle and away from the mounting face.
func (t *mount) orderBracket(c *check) {
	leg, caliper := patternWords(c, t.leg), patternWords(c, t.caliper)
	spec := []Field{{"to suit " + label(t.leg), leg}, {"to suit " + label(t.caliper), caliper}}
	design, okA := c.peekLength(t.caliper, "disc")
	fitted, okB := c.peekLength(t.leg, "disc")
	if !t.m.Disc.IsZero() {
		fitted, okB = c.peekLength(t.m.Disc, "diameter")
	}
	if okA && okB && t.sure {
		spec = append(spec, shiftField("the axle", (fitted.nominal-design.nominal)/2)...)
	}
	spec = append(spec, t.sideways(c)...)
	c.order("bracket", "caliper bracket between "+leg+" and "+caliper, spec...)
}

// sideways says how far the bracket moves the caliper across the wheel, so that
// its slot stands over the disc where that really runs.
func (t *mount) sideways(c *check) []Field {
	slot, okSlot := c.peekLength(t.caliper, "offset")
	disc, okDisc := c.peekLength(t.leg, "offset")
	if !okSlot || !okDisc || !t.sure {
		return nil
	}
	by := disc.minus(slot)
	if t.m.Line != nil {
		aside := c.bench.aside().check("disc line")
		off, ok := t.m.Line().off(aside)
		if !ok {
			return []Field{{"carries the caliper sideways", "first find where the disc runs"}}
		}
		c.also(aside.Uses)
		by = by.minus(off)
	}
	return shiftField("the lugs' face", by.nominal)
}

// spaceOut states that the slot must come t mm further out, away from the wheel,
// and orders the spacers for it.
func (t *mount) spaceOut(c *check, by float64, why string) {
	c.change(graph.EffortDrillShim, "put "+tenth(by)+" spacers between caliper and lugs, with bolts as much longer", "%s", why)
	t.orderUnderCaliper(c, "spacer", "2 caliper spacers", by)
}

// orderUnderCaliper orders what goes between a caliper and its lugs, one for each
// bolt: how thick, what it must clear, what it must not stand out beyond.
func (t *mount) orderUnderCaliper(c *check, kind, what string, thick float64) {
	spec := []Field{{"count", "2"}, {"thickness", tenth(thick)}}
	if thread, ok := c.peek(t.leg, "thread", measure.Thread); ok {
		spec = append(spec, Field{"bore", "clear of an " + thread.Thread.String() + " bolt"})
	} else if hole, ok := c.peekLength(t.caliper, "hole"); ok {
		spec = append(spec, Field{"bore", mm(hole.nominal)})
	}
	c.order(kind, what+" "+tenth(thick)+" thick", append(spec, Field{"outside", "flush with the lug: measure its width"})...)
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
