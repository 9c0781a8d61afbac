package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// boltReach judges, in one check "bolt reach", the one bolt of a joint whose thread
// nobody described a joint for: what it passes may be thicker or thinner than as built,
// and the bolt another, and it must still reach as far beyond as the one built in. It
// makes no check where neither is another, or the length of the bolt built in is not
// known. Source: geometry.
func boltReach(b *bench, m Meeting) {
	if m.Built == nil || m.BoltsJudged || len(m.Bolts) != 1 || len(m.Built.Bolts) != 1 {
		return
	}
	r := reach{m: m, bolt: m.Bolts[0], was: m.Built.Bolts[0]}
	aside := b.aside().check("bolt reach")
	built, ok := aside.peekLength(r.was, "length")
	if !ok || r.isAsBuilt(aside) {
		return
	}
	r.c = b.check("bolt reach")
	length, okLength := r.c.length(r.bolt, "length")
	more, okMore := r.thicker()
	if okLength && okMore && r.judge(built, more, length) {
		r.plain(more)
	}
}

// reach is the bolt of a joint, now and as built.
type reach struct {
	c         *check
	m         Meeting
	bolt, was Side
}

// isAsBuilt reports whether bolt and all that it passes are those built in.
func (r reach) isAsBuilt(c *check) bool {
	if !r.bolt.isSame(r.was) || r.m.Packed != r.m.Built.Packed || len(r.m.Washers) != len(r.m.Built.Washers) {
		return false
	}
	for _, s := range []Side{r.m.A, r.m.B} {
		was, ok := r.builtOf(s)
		now, okNow := passed(c, s)
		before, okBefore := passed(c, was)
		if ok && !s.isSame(was) && (okNow || okBefore) && (okNow != okBefore || !same(now.nominal, before.nominal)) {
			return false
		}
	}
	return true
}

// builtOf is a side of the joint as it was built.
func (r reach) builtOf(s Side) (Side, bool) {
	for _, was := range []Side{r.m.Built.A, r.m.Built.B} {
		if was.Position == s.Position && was.Feature.Name == s.Feature.Name {
			return was, true
		}
	}
	return Side{}, false
}

// passed is how much of a side lies along a bolt, in mm: both cheeks and the gap of a
// clevis, the width of an eye, the metal of a pattern or lug that has no thread.
func passed(c *check, s Side) (span, bool) {
	switch s.Feature.Kind {
	case "clevis":
		gap, ok := c.peekLength(s, "gap")
		if cheek, known := c.peekLength(s, "cheek"); known {
			gap = gap.plus(cheek).plus(cheek)
		}
		return gap, ok
	case "bolt-pattern", "caliper-mount":
		if len(s.Feature.Dims["thread"]) == 0 {
			return c.peekLength(s, "thickness")
		}
	}
	return span{}, false
}

// thicker is how much more the bolt passes than as built, in mm: packing and washers
// too. The eye in a clevis lies between its cheeks, and adds nothing. False where a
// part is another and its thickness was not measured, which it then asks for.
func (r reach) thicker() (span, bool) {
	total, ok := exact(r.m.Packed-r.m.Built.Packed), true
	for _, s := range []Side{r.m.A, r.m.B} {
		was, known := r.builtOf(s)
		before, okBefore := passed(r.c, was)
		if !known || !okBefore || s.isSame(was) {
			continue
		}
		now, okNow := passed(r.c, s)
		if !okNow {
			r.c.ask(askFor(s, thickDim(s)))
		}
		total, ok = total.plus(now).minus(before), ok && okNow
	}
	for _, w := range r.m.Washers {
		thick, known := r.c.length(w, "thickness")
		total, ok = total.plus(thick), ok && known
	}
	for _, w := range r.m.Built.Washers {
		thick, known := r.c.length(w, "thickness")
		total, ok = total.minus(thick), ok && known
	}
	return total, ok
}

func thickDim(s Side) string {
	if s.Feature.Kind == "clevis" {
		return "gap"
	}
	return thickDims[s.Feature.Kind]
}

// reachOff is how far a bolt may reach less or more than the one built in, in mm: it and
// what it passes are read to half a millimetre each. Common practice, no source.
const reachOff = 1.0

// judge holds how far the bolt reaches beyond what it passes against the one built in;
// false where it is too short, and another with its own plain shank is ordered.
func (r reach) judge(built, more, length span) bool {
	wanted := built.plus(more)
	off := length.minus(wanted)
	r.c.sizes(mm(length.nominal), mm(wanted.nominal), mm(math.Abs(off.nominal)))
	switch {
	case math.Abs(off.nominal) <= reachOff+eps:
		r.c.Gap = ""
		r.c.fits("it reaches as far beyond what it holds as the one built in")
	case off.nominal < 0:
		r.c.change(graph.EffortHandTools, "take a bolt of "+mm(wanted.nominal)+" under the head", "the bolt reaches %s less "+
			"far than the one built in", mm(-off.nominal))
		r.order(wanted, more)
		return false
	case off.nominal <= moreOut+eps:
		r.c.fits("it stands %s further out than the one built in", mm(off.nominal))
	default:
		r.c.settle(roomBeyond(r.bolt))
		r.c.unknown("it stands %s further out than the one built in and may touch what is beside it: measure there, or take "+
			"one of %s", mm(off.nominal), mmRange(wanted.nominal, wanted.nominal+moreOut))
	}
	return true
}

// order orders a bolt that reaches as far as the one built in.
func (r reach) order(wanted, more span) {
	spec := []Field{}
	name := "bolt"
	if thread, ok := r.c.thread(r.was, "thread"); ok {
		name += " " + thread.String()
		spec = append(spec, Field{"thread", thread.String()})
	}
	length := mmRange(wanted.nominal, wanted.nominal+moreOut)
	spec = append(spec, Field{"length", length + " under the head"})
	class := "as marked on the head of the one built in, never lower"
	if v, ok := r.c.peek(r.was, "class", measure.Word); ok {
		class = v.Text + ", as the one built in, never lower"
	}
	spec = append(spec, Field{"class", class})
	o := r.c.order("bolt", name+", "+length+" under the head", spec...)
	makes(o, r.bolt, "length", mm(wanted.nominal))
	if grip, ok := r.c.peekLength(r.was, "grip"); ok {
		plain := grip.plus(more).nominal
		o.Spec = append(o.Spec, Field{"plain shank", mm(plain)})
		makes(o, r.bolt, "grip", mm(plain))
	}
	o.Place = r.bolt.Position
}

// plain holds the plain shank against that of the bolt built in: where its thread
// begins sooner it may lie in what turns or slides on it, where later its nut may run
// out of thread before it clamps.
func (r reach) plain(more span) {
	was, ok := r.c.peekLength(r.was, "grip")
	if !ok {
		return
	}
	grip, ok := r.c.length(r.bolt, "grip")
	if !ok {
		return
	}
	off := grip.minus(was).minus(more)
	switch {
	case off.nominal < -reachOff-eps:
		r.c.settle(askFor(r.bolt, "grip"))
		r.c.unknown("its thread begins %s sooner than that of the one built in: it may lie in what it holds",
			mm(-off.nominal))
	case off.nominal > reachOff+eps:
		r.c.settle(askFor(r.bolt, "grip"))
		r.c.unknown("its plain shank is %s longer than that of the one built in: the nut may run out of thread before it "+
			"clamps", mm(off.nominal))
	}
}

// boltFills judges, in the check "bolt through", the one bolt of a joint whose thread
// nobody described a joint for: eye and fork may agree with each other and not with what
// goes through them. It makes no check where neither they nor the bolt are others than
// built.
func boltFills(b *bench, m Meeting) {
	if m.Built == nil || m.BoltsJudged || len(m.Bolts) != 1 {
		return
	}
	r := reach{m: m, bolt: m.Bolts[0]}
	isOther := len(m.Built.Bolts) != 1 || !m.Built.Bolts[0].isSame(r.bolt)
	in := BoltCase{Bolt: r.bolt, Uncut: m.Uncut}
	for _, s := range []Side{m.A, m.B} {
		hole, hasHole := boltHoles[s.Feature.Kind]
		if !hasHole || len(s.Feature.Dims[hole.dim]) == 0 {
			continue // where they meet it is asked for
		}
		was, known := r.builtOf(s)
		isOther = isOther || !known || !was.isSame(s)
		in.Through = append(in.Through, Layer{Side: s})
	}
	if isOther {
		in.through(b)
	}
}

// roomBeyond asks for what a bolt's end may meet.
func roomBeyond(bolt Side) Ask {
	return askOf(bolt, "room", "room beyond its end, with all beside it moved as far as it goes", "vernier caliper",
		"0.5 mm")
}
