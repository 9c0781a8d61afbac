package mating

import "math"

// AxleCase is a shaft with all that its plain length carries and passes: legs or arm,
// spacers, hub.
type AxleCase struct {
	Shaft Side // of kind shaft
	// Thread is the thread that is cut on it (kind male-thread), whose plain length under
	// the head is what really carries where that is less; zero where it has none.
	Thread Side
	// Gap is what the row along the shaft fills (kind gap).
	Gap Side
	// Bores are what holds the shaft beside that gap (kind bore), each as long as it
	// holds.
	Bores []Side
	// Built is the same shaft as the machine left its works; nil when not known, or
	// when this is it.
	Built *AxleCase
}

// What the plain length of an axle may be off what it carries, in mm: lengths are read
// to half a millimetre. Common practice, no source.
const axleRead = 1.0

// JudgeAxle judges, in one check "axle length", whether the plain length of a shaft
// suits the width of what it carries: it must carry the whole row, and reach as far
// into what holds it as it did when built. Source: geometry.
func JudgeAxle(in AxleCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("axle length")
		over, bores, ok := in.over(c)
		if !ok {
			return
		}
		held := over.plus(bores)
		long, _ := in.plain(c)
		built, known := in.built(b)
		more := over.minus(built)
		c.sizes(mm(long.nominal), mm(long.nominal-more.nominal), mm(math.Abs(more.nominal)))
		switch {
		case held.high < -axleRead-eps:
			c.sizes(mm(long.nominal), mm(long.nominal-held.nominal), mm(-held.nominal))
			c.no("its plain part is %s too short for the row it carries: a spacer or bearing would sit on the thread", c.Gap)
		case !known:
			c.sizes("", "", "")
			c.fits("its plain part, %s, carries the whole row", mm(long.nominal))
		case math.Abs(more.nominal) <= axleRead+eps:
			c.Gap = ""
			c.fits("its plain part goes with the width of what it carries as it did when built")
		case more.nominal < 0:
			c.settle(askFor(in.Shaft, "length"), askFor(in.Gap, "width"))
			c.unknown("its plain part reaches %s less far into what holds it than the one built in", c.Gap)
		default:
			c.settle(askFor(in.Shaft, "length"), askFor(in.Gap, "width"))
			c.unknown("its plain part reaches %s further than the one built in: what clamps it may end on it", c.Gap)
		}
	})
}

// JudgePlainLength judges, in one check "plain length", a shaft of whose row nobody
// recorded how wide it is: its thread must begin no sooner than on the one built in. It
// makes no check where the plain length of that is not known. Source: geometry.
func JudgePlainLength(in AxleCase) []Check {
	return judge(false, func(b *bench) {
		if in.Built == nil {
			return
		}
		was, ok := in.Built.plain(b.aside().check("plain length"))
		if !ok {
			return
		}
		c := b.check("plain length")
		long, ok := in.plain(c)
		if !ok {
			return
		}
		less := was.minus(long)
		c.sizes(mm(long.nominal), mm(was.nominal), mm(math.Abs(less.nominal)))
		if less.nominal <= axleRead+eps {
			c.Gap = ""
			c.fits("its plain part reaches as far as that of the one built in")
			return
		}
		c.settle(askFor(in.Shaft, "length"))
		c.unknown("its thread begins %s sooner than that of the one built in: a spacer, bearing or sleeve may sit on it",
			c.Gap)
	})
}

// over is how far the plain length reaches beyond the last thing that holds it, and how
// long those things are together; false when not all of it is known.
func (in AxleCase) over(c *check) (over, bores span, ok bool) {
	over, ok = in.plain(c)
	gap, okGap := c.length(in.Gap, "width")
	for _, bore := range in.Bores {
		long, okLong := c.length(bore, "length")
		bores, ok = bores.plus(long), ok && okLong
	}
	return over.minus(gap).minus(bores), bores, ok && okGap
}

// plain is the length that carries, in mm: that of the shaft, no more than what its
// thread leaves plain.
func (in AxleCase) plain(c *check) (span, bool) {
	grip, okGrip := c.peekLength(in.Thread, "grip")
	length, ok := c.peekLength(in.Shaft, "length")
	switch {
	case !ok && !okGrip:
		return c.length(in.Shaft, "length")
	case !ok || okGrip && grip.nominal < length.nominal-axleRead-eps:
		return grip, true
	}
	return length, true
}

func (in AxleCase) built(b *bench) (span, bool) {
	if in.Built == nil {
		return span{}, false
	}
	over, _, ok := in.Built.over(b.aside().check("axle length"))
	return over, ok
}
