package mating

import (
	"fmt"

	"matewell/graph/measure"
)

// How much thread must carry, in bolt diameters, and how far the tip must stay
// off a blind bottom, in pitches. From handbooks, quoted from memory, as
// check-values.md gives them. Cast iron has no figure there: it takes the
// stricter one. A steel insert sits in aluminium, whose thread around it is
// what may tear, so it takes the one for aluminium too.
const (
	engageSteel = 1.0
	engageSoft  = 1.5
	tipPitches  = 2.0
)

// nutHeight is the least height of a nut, in bolt diameters, that carries a
// bolt of its own class. Source: ISO 898-2 (style 1, m >= 0.8 D).
const nutHeight = 0.8

// engagement judges whether enough of the bolt carries, and whether it bottoms.
func engagement(b *bench, m Meeting, male, female measure.ThreadSize, threaded bool) {
	c := b.check("thread engagement")
	length, okLength := c.length(m.A, "length")
	depth, okDepth := c.length(m.B, "depth")
	hole, okHole := c.word(m.B, "hole")
	material, okMaterial := c.word(m.B, "material")
	clamped, okClamped := clampedThickness(c, m)
	if !threaded {
		c.unknown("the threads decide first")
	}
	if !okLength || !okDepth || !okHole || !threaded {
		return
	}
	e := engaged{d: male.Nominal, pitch: female.Pitch, depth: depth, thread: male, clamped: clamped}
	e.reach = length.minus(clamped)
	if !okClamped {
		e.reach.low = 0 // anything up to its whole length may be clamped
	}
	e.need, e.needWords = needOf(material, okMaterial)
	shankRoom(c, m, length, clamped, okClamped)
	switch {
	case hole == "blind":
		e.blind(c)
	case material == "steel" && isNut(c, m.B):
		e.nut(c)
	default:
		e.through(c, m.B)
	}
}

// engaged is a bolt in its thread; all lengths in mm.
type engaged struct {
	d, pitch  float64
	reach     span // how far the bolt reaches beyond what is clamped
	depth     span // of full thread
	clamped   span
	need      float64 // in d
	needWords string
	thread    measure.ThreadSize
}

func needOf(material string, known bool) (float64, string) {
	switch {
	case !known:
		return engageSteel, "at least 1 d"
	case material == "steel":
		return engageSteel, "1 d in steel"
	case material == "steel insert":
		return engageSoft, "1.5 d for an insert in aluminium"
	}
	return engageSoft, "1.5 d in " + material
}

// clampedThickness is what lies between head and thread: the thickness clamped
// and the washers.
func clampedThickness(c *check, m Meeting) (span, bool) {
	total, ok := c.length(m.B, "grip")
	for _, w := range m.Washers {
		t, known := c.length(w, "thickness")
		total, ok = total.plus(t), ok && known
	}
	return total, ok
}

// blind judges a hole with a bottom.
func (e engaged) blind(c *check) {
	least, most := e.need*e.d, e.depth.minus(exact(tipPitches*e.pitch))
	e.sizes(c, mm(e.reach.nominal)+" engaged", mmRange(least, max(least, most.nominal))+" engaged")
	if most.high < least-eps {
		c.no("only %s of thread: too shallow for %s and a tip 2 pitches off the bottom", mm(e.depth.nominal), e.needWords)
		return
	}
	if len(c.missing) > 0 {
		e.hopeless(c, least, most.high)
		return
	}
	e.verdict(c, least, most)
}

// sizes notes the sizes once nothing that makes them up is missing.
func (e engaged) sizes(c *check, had, wanted string) {
	if len(c.missing) == 0 {
		c.sizes(had, wanted, "")
	}
}

// verdict states where the reach lies between the least and the most.
func (e engaged) verdict(c *check, least float64, most span) {
	switch {
	case e.reach.against(least, most.low) == inside:
		c.fits("%s of %s engaged, %s wanted", mm(e.reach.nominal), e.thread, e.needWords)
	case e.reach.against(least, most.high) == below:
		c.Gap = mm(least - e.reach.nominal)
		c.no("too short by %s: %s engaged, %s is %s", c.Gap, mm(max(0, e.reach.nominal)), e.needWords, mm(least))
		e.orderBolt(c, least, most.low)
	case e.reach.against(least, most.high) == above:
		c.Gap = mm(e.reach.nominal - most.nominal)
		c.no("too long by %s: the tip comes within 2 pitches of the bottom, it may bottom before it clamps", c.Gap)
		e.orderBolt(c, least, most.low)
	default:
		c.unknown("at the limits of its tolerances it may be too short or bottom: measure length and depth")
	}
}

// hopeless says no when even the best value of what is missing can't help.
func (e engaged) hopeless(c *check, least, most float64) {
	if e.reach.high < least-eps {
		c.Gap = mm(least - e.reach.high)
		c.no("too short by at least %s: even with nothing clamped only %s would engage", c.Gap, mm(e.reach.high))
	}
	if e.reach.low > most+eps {
		c.no("too long by at least %s: it bottoms", mm(e.reach.low-most))
	}
}

// nut judges a nut: the bolt must come through all of it.
func (e engaged) nut(c *check) {
	e.sizes(c, mm(e.reach.nominal)+" beyond the seat", mm(e.depth.nominal)+" of nut")
	if e.depth.high < nutHeight*e.d-eps {
		c.no("a thin nut, %s: less than the 0.8 d of ISO 898-2, it does not carry the bolt", mm(e.depth.nominal))
	}
	if len(c.missing) > 0 {
		e.hopeless(c, e.depth.low, 1e9)
		return
	}
	switch {
	case e.reach.low >= e.depth.high-eps:
		c.fits("%s comes through the whole nut", e.thread)
	case e.reach.high < e.depth.low-eps:
		c.Gap = mm(e.depth.nominal - e.reach.nominal)
		c.no("too short by %s: the bolt does not come through the nut", c.Gap)
		e.orderBolt(c, e.depth.high, 1e9)
	default:
		c.unknown("at the limits of its tolerances it may not come through the nut: measure it")
	}
}

// through judges a tapped hole without a bottom.
func (e engaged) through(c *check, s Side) {
	least := e.need * e.d
	full := min(e.reach.nominal, e.depth.nominal)
	e.sizes(c, mm(full)+" engaged", "at least "+mm(least))
	if e.depth.high < least-eps {
		if e.need == engageSteel && e.depth.high >= nutHeight*e.d-eps {
			c.settle(askFor(s, "class"))
			c.unknown("%s of thread is enough for a nut, not for a tapped hole: is it a nut?", mm(e.depth.nominal))
			return
		}
		c.no("only %s of thread, %s is %s", mm(e.depth.nominal), e.needWords, mm(least))
		return
	}
	if len(c.missing) > 0 {
		e.hopeless(c, least, 1e9)
		return
	}
	e.reach = span{full, min(e.reach.low, e.depth.low), min(e.reach.high, e.depth.high)}
	e.verdict(c, least, exact(1e9))
}

// orderBolt writes the order for a bolt of the right length under its head.
func (e engaged) orderBolt(c *check, least, most float64) {
	from, to := least+e.clamped.high, most+e.clamped.low
	length := fmt.Sprintf("at least %s under the head", mm(from))
	if to < 1e8 {
		if to < from-eps {
			return
		}
		length = mmRange(from, to) + " under the head"
	}
	spec := []Field{{"thread", e.thread.String()}, {"length", length}}
	if heads, ok := spannerField(e.thread); ok {
		spec = append(spec, heads)
	}
	c.order("bolt", fmt.Sprintf("bolt %s, %s", e.thread, length), spec...)
}
