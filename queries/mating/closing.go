package mating

// closing is how a part with a thread closes a hole instead of holding parts
// together. What it is follows from the kind of part, whatever its thread is said
// to do: no bolt can be ordered in its place.
type closing int

const (
	closesNothing closing = iota
	closesHead            // a plug that seals under its head: how far it goes in counts
	closesReach           // a spark plug: its nose must stand where the head wants it
	closesTip             // a bleed screw: its tip must reach the seat in the hole
)

// closingOf is how the part of a side closes its hole.
func closingOf(s Side) closing {
	switch s.PartKind {
	case "drain-plug", "filler-plug", "thermo-switch":
		return closesHead
	case "spark-plug":
		return closesReach
	case "bleed-screw":
		return closesTip
	}
	return closesNothing
}

// judge judges such a part by how far it goes in: against the part as built, else
// against the hole. Nothing asks for 1 d of its thread, and nothing made to length
// takes its place. Source: common practice.
func (k closing) judge(e engaged, c *check, t threading, hole string) {
	in := min(e.reach.nominal, e.depth.nominal)
	e.sizes(c, mm(e.reach.nominal)+" in", mm(e.depth.nominal)+" of thread")
	if len(c.missing) > 0 {
		return
	}
	switch {
	case in < e.pitch-eps:
		c.no("%s of %s engaged: it does not hold by a full turn", mm(max(0, in)), e.thread)
	case e.bottoms(c, t, hole):
	case e.built:
		k.asBuilt(e, c, t)
	case k == closesTip:
		c.settle(lookAt(t.bolt, "length", "from its tip to its hexagon, beside the one that was there"))
		c.unknown("whether its tip reaches the seat in the hole, nobody can tell without the one that was there")
	case k == closesReach:
		k.inHead(e, c, t)
	default:
		e.turned(c, in)
	}
}

// asBuilt holds it against the part that was built in.
func (k closing) asBuilt(e engaged, c *check, t threading) {
	more := e.reach.nominal - e.was.nominal
	side := sideBySideOf(t.bolt)
	if depth, ok := c.bench.aside().check(c.Rule).peekLength(t.oldInto, tappedBy(t.oldInto).depth); ok {
		in, was := min(e.reach.nominal, e.depth.nominal), min(e.was.nominal, depth.nominal)
		if e.depth.nominal < depth.nominal-lengthRead-eps && in < was-lengthRead-eps {
			c.Gap = mm(was - in)
			c.settle(askFor(t.into, tappedBy(t.into).depth))
			c.unknown("%s of its thread are engaged, %s as built: it may strip when it is drawn up", mm(in), mm(was))
			return
		}
	}
	switch {
	case k == closesReach && k.leavesBare(e, c, t):
	case more < lengthRead+eps && more > -lengthRead-eps:
		c.fits("it goes in %s, as the one built in", mm(e.reach.nominal))
	case k == closesReach && more > 0:
		c.Gap = mm(more)
		c.no("its nose stands %s further in than that of the one built in: it may meet what moves there", c.Gap)
	case k == closesReach:
		c.Gap = mm(-more)
		c.no("its nose stands %s less far in than that of the one built in, and the thread of the head lies bare there",
			c.Gap)
	case k == closesTip && more < 0:
		c.Gap = mm(-more)
		c.settle(side)
		c.unknown("%s shorter than the one built in: its tip may not reach the seat, and then it never closes", c.Gap)
	case k == closesTip:
		c.Gap = mm(more)
		c.settle(side)
		c.unknown("%s longer than the one built in: it closes with as much less of its thread in", c.Gap)
	case more > 0:
		c.Gap = mm(more)
		c.settle(side)
		c.unknown("%s longer than the one built in: see what it could meet inside", c.Gap)
	case min(e.reach.nominal, e.depth.nominal) < min(e.was.nominal, e.depth.nominal)-lengthRead-eps:
		c.Gap = mm(-more)
		c.settle(side)
		c.unknown("%s shorter than the one built in: it holds by as much less thread", c.Gap)
	default:
		e.turned(c, min(e.reach.nominal, e.depth.nominal))
	}
}

// fillsHead is how far the reach of a spark plug and the thread of its head may differ, in
// mm. Common practice, no source.
const fillsHead = 1.0

// leavesBare leaves open whether a plug does in another head of which it fills less than it
// did of the one built in: thread that lies bare fills with carbon, and the spark is shrouded.
func (closing) leavesBare(e engaged, c *check, t threading) bool {
	depth, ok := c.bench.aside().check(c.Rule).peekLength(t.oldInto, tappedBy(t.oldInto).depth)
	bare, was := e.depth.nominal-e.reach.nominal, depth.nominal-e.was.nominal
	if !ok || e.depth.nominal <= depth.nominal+lengthRead || bare <= fillsHead || bare <= was+lengthRead {
		return false
	}
	c.Gap = mm(bare)
	c.settle(askFor(t.into, tappedBy(t.into).depth))
	c.unknown("%s of the thread of the head lie bare in front of it: a plug reaches as far as the thread of its head",
		c.Gap)
	return true
}

func sideBySideOf(s Side) Ask {
	return lookAt(s, "length", "how far it goes in, beside the one that was there")
}

// inHead holds a spark plug against the thread of its head, when nobody says which
// was built in: it fills the thread, and nothing of it stands bare.
func (k closing) inHead(e engaged, c *check, t threading) {
	switch out := e.reach.minus(e.depth); out.against(-fillsHead, fillsHead) {
	case inside:
		c.fits("it fills the %s of thread in the head", mm(e.depth.nominal))
	case above:
		c.Gap = mm(out.nominal)
		c.no("it stands %s out of the thread of the head: it may meet what moves there", c.Gap)
	case below:
		c.Gap = mm(-out.nominal)
		c.no("%s of the thread of the head lie bare in front of it", c.Gap)
	default:
		c.settle(askFor(t.bolt, "length"), askFor(t.into, tappedBy(t.into).depth))
		c.unknown("at the limits of its tolerances it may not fill the thread of the head")
	}
}
