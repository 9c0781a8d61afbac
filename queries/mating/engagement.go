package mating

import (
	"fmt"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// tipPitches is how far the tip of a bolt must stay off a blind bottom, in
// pitches. Source: handbooks of machine elements, from memory.
const tipPitches = 2.0

// nutHeight is the least height of a nut, in bolt diameters, that carries a
// bolt of its own class. Source: ISO 898-2 (style 1, m >= 0.8 D).
const nutHeight = 0.8

// tapped names the dimensions of what a bolt goes into: a tapped hole or nut of
// its own, or the tapped holes of a pattern.
type tapped struct{ depth, bottom, material string }

func tappedBy(s Side) tapped {
	if s.Feature.Kind == "female-thread" {
		return tapped{"depth", "hole", "material"}
	}
	return tapped{"tapped-depth", "bottom", "material"}
}

// threading is a bolt, what it goes into and what lies between.
type threading struct {
	bolt, into Side
	// between adds up what lies between head and thread; false when not all known.
	between func(*check) (span, bool)
	was     span // how far it reached beyond that as built
	built   bool // was is known
	oldBolt Side // the bolt as built; zero when not known
	oldInto Side // what that went into; zero when not known
	stud    bool // it stands in a hole with its other end
	// plain is the room that the plain shank of a stud has: what its nut clamps, since it stands above its hole.
	plain   func(*check) (span, bool)
	nutted  bool // it is a stud in its hole: a joint of its own judges its nut
	isBuilt bool // this is the joint as the machine left its works
}

// engagement judges whether enough of the bolt carries, and whether it bottoms.
func engagement(b *bench, m Meeting, male, female measure.ThreadSize, threaded bool) {
	c := b.check("thread engagement")
	t := threading{bolt: m.A, into: m.B, between: func(c *check) (span, bool) { return clampedThickness(c, m) }}
	t.was, t.built = engagedAsBuilt(b, m)
	t.isBuilt, t.nutted = m.WasBuilt == nil, m.Nutted
	if into, known := asBuilt(m, m.B.Feature.Kind); known {
		t.oldInto = into
	}
	t.judge(c, male, female, threaded)
}

func (t threading) judge(c *check, male, female measure.ThreadSize, threaded bool) {
	dims := tappedBy(t.into)
	length, okLength := c.length(t.bolt, "length")
	depth, okDepth := c.length(t.into, dims.depth)
	hole, okHole := c.word(t.into, dims.bottom)
	material, okMaterial := c.word(t.into, dims.material)
	clamped, okClamped := t.between(c)
	if !threaded {
		c.unknown("the threads decide first")
	}
	if !okLength || !okDepth || !okHole || !threaded {
		return
	}
	e := t.engaged(c, male, female, length, depth, clamped)
	e.asBuilt, e.other = okClamped && t.asDeep(c, e), t.isOtherMetal(c)
	if !okClamped {
		e.reach.low = 0 // anything up to its whole length may be clamped
	}
	class, _ := c.peek(t.bolt, "class", measure.Word)
	e.needs(material, okMaterial, class.Text)
	if e.other && material == "brass" {
		c.settle(lookAt(t.into, "material", "that brass belongs here, as it does on an exhaust"))
		c.unknown("brass where another metal was: it is weaker, and keeps studs from seizing where they get hot")
	}
	if how := closingOf(t.bolt); how != closesNothing {
		how.judge(e, c, t, hole)
		return
	}
	if t.bolt.PartKind == "mirror" || t.bolt.PartKind == "mirror-adapter" {
		e.locked(c)
		if hole != "blind" {
			e.standsOut(c, t)
		}
		return
	}
	if ringDuty(c, t.bolt, t.into, male) {
		ring(e, c, t, length, hole)
		return
	}
	if !t.nutted { // what is plain of a stud lies outside of its hole
		room, okRoom := clamped, okClamped
		if t.stud {
			room, okRoom = t.plain(c)
		}
		shankRoom(c, t.bolt, length, room, okRoom)
	}
	switch {
	case hole == "blind":
		e.blind(c)
	case material == "steel" && isNut(c, t.into):
		e.nut(c, t)
		e.standsOut(c, t)
	default:
		e.through(c, t.into)
		e.standsOut(c, t)
	}
}

// engaged is what of the thread carries, by its nominal sizes.
func (t threading) engaged(c *check, male, female measure.ThreadSize, length, depth, clamped span) engaged {
	e := engaged{d: male.Nominal, pitch: female.Pitch, depth: depth, thread: male, clamped: clamped, was: t.was,
		built: t.built}
	e.bolt, e.class = t.bolt, t.classWanted(c)
	e.reach, e.stud, e.nutted = length.minus(clamped), t.stud, t.nutted
	if most := t.was.nominal; t.nutted && t.built && e.reach.nominal > most {
		e.reach = exact(most) // it is set as deep as the one built in; its nut tells how far it stands out
	}
	if t.nutted && e.reach.nominal > depth.nominal+lengthRead {
		e.reach = exact(depth.nominal - tipPitches*e.pitch) // as deep as its hole has thread, off the bottom
		e.was = exact(min(e.was.nominal, e.reach.nominal))
	}
	return e
}

// asDeep reports whether as much thread carries as the machine was built with, in a hole or
// nut of the same sort: what is less than any rule asks was enough for its maker there.
func (t threading) asDeep(c *check, e engaged) bool {
	dims := tappedBy(t.into)
	if !t.built || t.oldInto.Feature.Kind != t.into.Feature.Kind {
		return false
	}
	c = c.bench.aside().check(c.Rule)
	depth, okDepth := c.peekLength(t.oldInto, dims.depth)
	thread, okThread := c.peek(t.oldInto, "thread", measure.Thread)
	for _, dim := range []string{dims.bottom, dims.material, "class"} {
		is, okIs := c.peek(t.into, dim, measure.Word)
		was, okWas := c.peek(t.oldInto, dim, measure.Word)
		if okIs != okWas || !sameWords(is.Text, was.Text) {
			return false
		}
	}
	carried := min(t.was.nominal, depth.nominal)
	return okDepth && okThread && thread.Thread.Same(e.thread) &&
		min(e.reach.nominal, e.depth.nominal) >= carried-lengthRead-eps && e.depth.nominal >= depth.nominal-lengthRead-eps
}

// isOtherMetal reports whether the thread is cut in another metal than the one built in: what was enough there
// says nothing of it.
func (t threading) isOtherMetal(c *check) bool {
	c = c.bench.aside().check(c.Rule)
	is, okIs := c.peek(t.into, tappedBy(t.into).material, measure.Word)
	was, okWas := c.peek(t.oldInto, tappedBy(t.oldInto).material, measure.Word)
	return okIs && okWas && !sameWords(is.Text, was.Text)
}

// classWanted is the property class that a bolt of the joint must have: what
// belongs in the thread, else that of the bolt as built, else of the one there.
func (t threading) classWanted(c *check) string {
	c = c.bench.aside().check("bolt class") // an order's word judges nothing
	if listed, ok := listedClass(t.into, t.oldBolt); ok {
		if v, ok := c.peek(listed.side, listed.dim, measure.Word); ok {
			return v.Text + ", as listed"
		}
	}
	if class, ok := c.peek(t.bolt, "class", measure.Word); ok {
		return class.Text + ", as the one there, never lower"
	}
	return "as marked on the head of the one there, never lower"
}

// outAsBuilt is how far the bolt of the joint as built stood out, in mm, less than zero
// where it ended within; false when not known.
func (t threading) outAsBuilt(c *check) (float64, bool) {
	c = c.bench.aside().check(c.Rule)
	depth, ok := c.peekLength(t.oldInto, tappedBy(t.oldInto).depth)
	return t.was.nominal - depth.nominal, t.built && ok
}

// engaged is a bolt in its thread; all lengths in mm.
type engaged struct {
	bolt     Side
	class    string // of a bolt to order
	d, pitch float64
	reach    span // how far the bolt reaches beyond what is clamped
	depth    span // of full thread
	clamped  span
	// need is what the strictest source asks, less what the mildest does, in d.
	// Equal but where sources disagree.
	need, less float64
	// was is how far the bolt reached as built; false when not known.
	was                  span
	built                bool
	stud, nutted         bool // as of threading
	asBuilt              bool // as much of it carries as did then
	other                bool // it is cut in another metal than as built
	needWords, lessWords string
	thread               measure.ThreadSize
}

// needs takes what the sources ask of the thread. Where nobody said what it is
// cut in, no source asks for less than 1 d.
func (e *engaged) needs(material string, known bool, class string) {
	claims, err := trade.Engagement(material, class, e.d)
	if !known || err != nil {
		e.need, e.less, e.needWords = 1, 1, "at least 1 d"
		return
	}
	most, least := claims[0], claims[len(claims)-1]
	e.need, e.less = most.Diameters, least.Diameters
	e.needWords = plain(most.Diameters) + " d in " + material
	if material == "steel insert" {
		e.needWords = plain(most.Diameters) + " d for an insert in aluminium"
	}
	if most != least {
		e.needWords += " by " + most.Name
		e.lessWords = plain(least.Diameters) + " d, the " + least.Name
	}
}

// clampedThickness is what lies between head and thread: the thickness clamped
// and the washers.
func clampedThickness(c *check, m Meeting) (span, bool) {
	total, ok := c.length(m.B, "grip")
	for _, w := range m.Washers {
		t, known := c.length(w, "thickness")
		total, ok = total.plus(t), ok && known
	}
	more, known := m.thickerSeal(c)
	return total.plus(more), ok && known
}

// blind judges a hole with a bottom.
func (e engaged) blind(c *check) {
	least, most := e.need*e.d, e.depth.minus(exact(tipPitches*e.pitch))
	e.sizes(c, mm(e.reach.nominal)+" engaged", mmRange(least, max(least, most.nominal))+" engaged")
	if most.high < e.less*e.d-eps && e.asBuilt && e.reach.nominal <= e.was.nominal+lengthRead {
		c.fits("%s of thread, less than %s, as it was built", mm(e.depth.nominal), e.needWords)
		return
	}
	if most.high < e.less*e.d-eps {
		c.no("only %s of thread: too shallow for %s and a tip 2 pitches off the bottom", mm(e.depth.nominal),
			e.needWords)
		return
	}
	if len(c.missing) > 0 {
		e.hopeless(c, e.less*e.d, most.high)
		return
	}
	e.verdict(c, least, most)
}

// locked judges the stem of a mirror: it carries no more than a mirror, is screwed in as far as
// it goes and locked by its nut, so that neither 2 d nor room at the bottom is asked of it.
// Common practice, no source: 1 d of thread.
func (e engaged) locked(c *check) {
	in := min(e.reach.nominal, e.depth.nominal)
	e.sizes(c, mm(in)+" engaged", mm(e.d)+" engaged")
	switch {
	case len(c.missing) > 0:
	case in >= e.d-lengthRead-eps:
		c.fits("%s of %s engaged, enough for the stem of a mirror, which its nut locks", mm(in), e.thread)
	case e.asBuilt:
		c.fits("%s of %s engaged, less than 1 d, and no less than it was built with", mm(in), e.thread)
	default:
		c.Gap = mm(e.d - in)
		c.no("too short by %s: %s of %s engaged, 1 d is %s", c.Gap, mm(max(0, in)), e.thread, mm(e.d))
	}
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
	case e.reach.against(least, max(least, most.low)) == inside && most.low >= least-eps:
		c.fits("%s of %s engaged, %s wanted", mm(e.reach.nominal), e.thread, e.needWords)
	case e.less < e.need && e.reach.low >= e.less*e.d-eps && e.reach.high < least-eps && e.reach.high <= most.low+eps:
		e.disputed(c, least, most.low)
	case e.reach.against(least, most.high) == below && e.asBuilt:
		c.fits("%s of %s engaged, less than %s, and no less than it was built with", mm(e.reach.nominal), e.thread,
			e.needWords)
	case e.reach.against(least, most.high) == below:
		c.Gap = mm(least - e.reach.nominal)
		c.bolt(BoltTooShort, "too short by %s: %s engaged, %s is %s", c.Gap, mm(max(0, e.reach.nominal)), e.needWords,
			mm(least))
		e.orderBolt(c, least, most.low)
	case e.reach.against(least, most.high) == above:
		c.Gap = mm(e.reach.nominal - most.nominal)
		c.bolt(BoltTooLong, "too long by %s: the tip comes within 2 pitches of the bottom, it may bottom before it clamps",
			c.Gap)
		e.orderBolt(c, least, most.low)
	default:
		c.unknown("at the limits of its tolerances it may be too short or bottom: measure length and depth")
	}
}

// disputed states what lies between two sources: what is less than it was built
// with is left to the maker's manual.
func (e engaged) disputed(c *check, least, most float64) {
	words := fmt.Sprintf("%s of %s engaged: enough for %s, %s less than %s", mm(e.reach.nominal), e.thread,
		e.lessWords, mm(least-e.reach.nominal), e.needWords)
	switch {
	case !e.built:
		c.fits("%s", words)
	case e.other:
		c.settle(Ask{Dim: "engagement", What: "engagement the maker wants in this metal", Where: "the maker's manual",
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("%s, and it was built in another metal", words)
	case e.reach.nominal >= min(e.was.nominal, e.depth.nominal)-lengthRead-eps:
		c.fits("%s; no less than it was built with", words)
	default:
		c.Gap = mm(e.was.nominal - e.reach.nominal)
		c.settle(Ask{Dim: "engagement", What: "engagement the maker wants there", Where: "the maker's manual",
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("%s, and %s less than it was built with", words, c.Gap)
		e.orderBolt(c, least, most)
	}
}

// engagedAsBuilt is how far the bolt of the joint as built reached beyond what it
// clamped.
func engagedAsBuilt(b *bench, m Meeting) (span, bool) {
	if m.Built == nil {
		return span{}, false
	}
	built := *m.Built
	if built.A.Feature.Kind != "male-thread" {
		built.A, built.B = built.B, built.A
	}
	c := b.aside().check("thread engagement")
	length, okLength := c.peekLength(built.A, "length")
	clamped, okClamped := clampedThickness(c, built)
	return length.minus(clamped), okLength && okClamped
}

// hopeless says no when even the best value of what is missing can't help.
func (e engaged) hopeless(c *check, least, most float64) {
	if e.reach.high < least-eps {
		c.Gap = mm(least - e.reach.high)
		c.bolt(BoltTooShort, "too short by at least %s: even with nothing clamped only %s would engage", c.Gap,
			mm(e.reach.high))
	}
	if e.reach.low > most+eps {
		c.bolt(BoltTooLong, "too long by at least %s: it bottoms", mm(e.reach.low-most))
	}
}

// nut judges a nut: the bolt must come through all of it.
func (e engaged) nut(c *check, t threading) {
	e.sizes(c, mm(e.reach.nominal)+" beyond the seat", mm(e.depth.nominal)+" of nut")
	if e.depth.high < nutHeight*e.d-eps && !e.asBuilt {
		c.no("a thin nut, %s: less than the 0.8 d of ISO 898-2, it does not carry the bolt", mm(e.depth.nominal))
	}
	if len(c.missing) > 0 {
		e.hopeless(c, e.depth.low, noLimit)
		return
	}
	out := e.reach.minus(e.depth)
	before, known := t.outAsBuilt(c)
	switch {
	case out.low >= -eps && out.nominal >= e.pitch-eps:
		c.fits("%s comes through the whole nut, %s out of it", e.thread, mm(out.nominal))
	case out.low >= -eps && (!known || out.nominal >= before-eps):
		c.fits("%s comes through the whole nut, %s out of it; a full thread out would be better", e.thread,
			mm(out.nominal))
	case out.low >= -eps:
		c.change(graph.EffortHandTools, "take a bolt that stands a full thread out of the nut",
			"only %s of %s stands out of the nut, less than one full thread", mm(out.nominal), e.thread)
		e.orderBolt(c, e.depth.high+e.pitch, noLimit)
	case e.reach.high < e.depth.low-eps:
		c.Gap = mm(e.depth.nominal - e.reach.nominal)
		c.bolt(BoltTooShort, "too short by %s: the bolt does not come through the nut", c.Gap)
		e.orderBolt(c, e.depth.high+e.pitch, noLimit)
	default:
		c.unknown("at the limits of its tolerances it may not come through the nut: measure it")
	}
}

// through judges a tapped hole without a bottom.
func (e engaged) through(c *check, s Side) {
	least := e.need * e.d
	full := min(e.reach.nominal, e.depth.nominal)
	e.sizes(c, mm(full)+" engaged", "at least "+mm(least))
	if e.depth.high < e.less*e.d-eps && e.asBuilt {
		c.fits("%s of thread, less than %s, as it was built", mm(full), e.needWords)
		return
	}
	if e.depth.high < e.less*e.d-eps {
		if e.need == 1 && e.depth.high >= nutHeight*e.d-eps {
			c.settle(askFor(s, "class"))
			c.unknown("%s of thread is enough for a nut, not for a tapped hole: is it a nut?", mm(e.depth.nominal))
			return
		}
		c.no("only %s of thread, %s is %s", mm(e.depth.nominal), e.needWords, mm(least))
		return
	}
	if len(c.missing) > 0 {
		e.hopeless(c, e.less*e.d, noLimit)
		return
	}
	e.reach = span{full, min(e.reach.low, e.depth.low), min(e.reach.high, e.depth.high)}
	e.verdict(c, least, exact(noLimit))
}

// orderBolt writes the order for a bolt of the right length under its head.
// Of a stud in its hole its nut says how long it must be.
func (e engaged) orderBolt(c *check, least, most float64) {
	if e.nutted {
		return
	}
	what, where := "bolt", "under the head"
	if e.stud {
		what, where = "stud", "over all"
	}
	from, to := least+e.clamped.high, most+e.clamped.low
	length := fmt.Sprintf("at least %s %s", mm(from), where)
	if to < noLimit/2 {
		if to < from-eps {
			return
		}
		length = mmRange(from, to) + " " + where
	}
	spec := []Field{{"thread", e.thread.String()}, {"length", length}}
	if heads, ok := spannerField(e.thread); ok {
		spec = append(spec, heads)
	}
	spec = append(spec, Field{"class", e.class})
	o := c.order("bolt", fmt.Sprintf("%s %s, %s", what, e.thread, length), spec...)
	if made := mm(from); to < noLimit/2 {
		makes(o, e.bolt, "length", mmRange(from, to))
	} else {
		makes(o, e.bolt, "length", made)
	}
	o.Place = e.bolt.Position
}

// bottoms reports whether the thread meets the bottom of its hole before the part
// clamps or closes, and says so.
func (e engaged) bottoms(c *check, t threading, hole string) bool {
	if hole != "blind" || closingOf(t.bolt) == closesTip { // its seat is the bottom
		return false
	}
	switch over := e.reach.minus(e.depth); over.against(-noLimit, 0) {
	case above:
		c.Gap = mm(over.nominal)
		c.bolt(BoltTooLong, "too long by %s: it meets the bottom of the hole before it is tight", c.Gap)
	case astride:
		c.settle(askFor(t.bolt, "length"), askFor(t.into, tappedBy(t.into).depth))
		c.unknown("at the limits of its tolerances it may meet the bottom of the hole before it is tight")
	default:
		return false
	}
	return true
}

// turned judges what holds by its turns alone.
func (e engaged) turned(c *check, in float64) {
	if turns := in / e.pitch; turns < ringTurns-eps {
		c.settle(Ask{Dim: "engagement", What: "turns the maker wants there", Where: "the maker's manual",
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("only %.1f turns of %s engaged: the maker's manual decides", turns, e.thread)
		return
	}
	c.fits("%s of %s engaged, %.0f turns: it closes a hole, and holds nothing", mm(in), e.thread, in/e.pitch)
}

// ringTurns judges what is engaged by how many turns it is.
func (e engaged) ringTurns(c *check, in, shorter, turns float64) {
	if turns < ringTurns-eps && !e.asBuilt {
		c.settle(Ask{Dim: "engagement", What: "turns the maker wants there", Where: "the maker's manual",
			Gauge: graph.ByEye, Accuracy: "book"})
		c.unknown("only %.1f turns of %s engaged: the maker's manual decides", turns, e.thread)
		return
	}
	all := ""
	if in >= shorter-eps {
		all = "all "
	}
	c.fits("%s%s of %s engaged, %.0f turns: a cap or ring nut, not a bolt", all, mm(in), e.thread, turns)
}

// isThinNut says no to a nut that is drawn up and is lower than the one built in, and than
// a nut that carries its bolt: by its size alone such a thread might be a cap's. A nut of
// another duty sets play, and is held to its turns.
func (e engaged) isThinNut(c *check, t threading) bool {
	aside := c.bench.aside().check(c.Rule)
	_, saidBolt := aside.peek(t.bolt, "duty", measure.Word)
	_, saidNut := aside.peek(t.into, "duty", measure.Word)
	was, known := aside.peekLength(t.oldInto, tappedBy(t.into).depth)
	if saidBolt || saidNut || !known || !isNut(aside, t.into) || e.depth.high >= nutHeight*e.d-eps ||
		e.depth.nominal >= was.nominal-lengthRead-eps {
		return false
	}
	c.sizes(mm(e.depth.nominal), mm(was.nominal), mm(was.nominal-e.depth.nominal))
	c.no("a thin nut, %s: less than the 0.8 d of ISO 898-2, and %s lower than the one built in", mm(e.depth.nominal),
		c.Gap)
	return true
}

// lessThanBuilt is how much less of the thread carries than the machine was built with, in
// mm; false when that is not known.
func (e engaged) lessThanBuilt(c *check, t threading) (float64, bool) {
	depth, ok := c.bench.aside().check(c.Rule).peekLength(t.oldInto, tappedBy(t.into).depth)
	if !ok || !t.built {
		return 0, false
	}
	return min(t.was.nominal, depth.nominal) - min(e.reach.nominal, e.depth.nominal), true
}

// usualOut is how far a bolt usually stands out of its nut or hole, in pitches, and
// moreOut how much further than the one built in it may, in mm: a washer more or less.
// Common practice, no source.
const usualOut, moreOut = 3.0, 3.0

// standsOut judges a tip that stands further out of its nut, or of a hole that goes
// through, than is usual and than it did when built: nobody recorded what is beside it,
// and what moves there may meet it. Nothing is said of the joint as built.
func (e engaged) standsOut(c *check, t threading) {
	out := e.reach.minus(e.depth)
	most := usualOut * e.pitch
	if t.isBuilt || len(c.missing) > 0 || c.verdict() == graph.DoesNotFit ||
		out.nominal <= most+lengthRead+eps {
		return
	}
	how := "one to three threads are usual"
	if before, known := t.outAsBuilt(c); known {
		if most = max(most, before+moreOut); out.nominal <= most+eps {
			return
		}
		how = mm(max(0, before)) + " as built"
	}
	c.Gap = mm(out.nominal - most)
	c.settle(roomBeyond(t.bolt))
	c.unknown("it stands %s out, %s, and may touch what is beside it: measure there, or take one of %s at most",
		tenth(out.nominal), how, tenth(e.clamped.nominal+e.depth.nominal+most))
}
