package mating

import (
	"fmt"
	"math"

	"matewell/graph/measure"
)

// boltInThread is rule 1: a bolt, stud or threaded end in a tapped hole or nut.
func boltInThread(b *bench, m Meeting) {
	c := b.check("thread")
	male, okMale := c.thread(m.A, "thread")
	female, okFemale := c.thread(m.B, "thread")
	if okMale && okFemale && !meetThreads(c, m.A, male, m.B, female) {
		return
	}
	engagement(b, m, male, female, okMale && okFemale)
	boltClass(b, m)
}

func twoMales(b *bench, m Meeting) {
	c := b.check("thread")
	c.no("two outside threads: a nut or sleeve with an inside thread must join them")
}

func twoFemales(b *bench, m Meeting) {
	c := b.check("thread")
	c.no("two inside threads: a bolt or stud must join them")
}

// meetThreads states how a male thread goes into a female one and reports
// whether it does.
func meetThreads(c *check, a Side, male measure.ThreadSize, b Side, female measure.ThreadSize) bool {
	c.sizes(male.String(), female.String(), "")
	if male.Same(female) {
		c.fits("%s in %s", male, female)
		return true
	}
	fault := threadFault(male, female)
	guessed := assumedPitch(male, female)
	switch {
	case guessed == "":
		c.no("%s", fault)
	case male.CoarseAssumed:
		c.settle(askFor(a, "thread"))
		c.unknown("%s", guessed)
	default:
		c.settle(askFor(b, "thread"))
		c.unknown("%s", guessed)
	}
	return false
}

// assumedPitch says that only a pitch nobody wrote stands between two threads.
// "M10" means the coarse pitch of ISO 261, but people also write it for short.
func assumedPitch(male, female measure.ThreadSize) string {
	if male.CoarseAssumed == female.CoarseAssumed || male.LeftHand != female.LeftHand ||
		male.Standard != female.Standard || !same(male.Nominal, female.Nominal) {
		return ""
	}
	short, full := male, female
	if female.CoarseAssumed {
		short, full = female, male
	}
	return fmt.Sprintf("%s without a pitch means %s mm (ISO 261), which would bind in %s: measure the pitch",
		short, plain(short.Pitch), full)
}

// Two threads of different standards that close together are taken for one
// another. Common practice, no source: 3/8-24 UNF against M10x1.0 is 0.475 mm
// and 0.058 mm apart, 5/16-24 UNF against M8x1.0 0.063 mm and 0.058 mm.
const (
	alikeDiameter = 0.6  // mm
	alikePitch    = 0.25 // mm
)

// threadFault says what happens when a male thread is turned into a female one
// that is not the same.
func threadFault(male, female measure.ThreadSize) string {
	pair := fmt.Sprintf("%s in %s", male, female)
	crest := male.Nominal - female.Nominal
	step := math.Abs(male.Pitch - female.Pitch)
	switch {
	case male.LeftHand != female.LeftHand:
		return pair + ": one is left-hand, the other right-hand; it does not start"
	case male.Standard != female.Standard && math.Abs(crest) <= alikeDiameter && step <= alikePitch:
		return lookalike(male, female)
	case crest > eps:
		return pair + ": the bolt is too thick to enter"
	case male.Nominal <= minor(female)+eps:
		return pair + ": the bolt drops through without touching the thread"
	case crest < -eps:
		return pair + ": the bolt is too thin; it catches only the crests and strips"
	}
	return fmt.Sprintf("%s starts, then binds: %s mm of pitch against %s mm, %s mm further out with every turn",
		pair, plain(male.Pitch), plain(female.Pitch), plain(step))
}

// lookalike names the trap of two standards that are taken for one another.
func lookalike(male, female measure.ThreadSize) string {
	sizes := fmt.Sprintf("%s is %s x %s mm, %s is %s x %s mm", male, plain(male.Nominal), plain(male.Pitch),
		female, plain(female.Nominal), plain(female.Pitch))
	switch {
	case taper(male) != taper(female):
		return "trap: " + sizes + "; one is a taper pipe thread, it jams before it seats"
	case same(male.Nominal, female.Nominal) && same(male.Pitch, female.Pitch):
		return "trap: " + sizes + "; the flanks have another angle, they touch on their edges and strip"
	case male.Nominal > female.Nominal+eps:
		return "trap: they look alike, but " + sizes + "; it jams in the first turn"
	}
	return "trap: they look alike, but " + sizes + "; it starts, then strips"
}

func taper(t measure.ThreadSize) bool { return t.Standard == "BSPT" || t.Standard == "NPT" }

// minor is the least diameter of the inside thread in mm: D - 1.082532 P for
// the 60 degree flanks of metric and unified threads (ISO 724), D - 1.280654 P
// for the 55 degrees of Whitworth and pipe threads (ISO 228-1).
func minor(t measure.ThreadSize) float64 {
	switch t.Standard {
	case "BSW", "BSF", "BSP", "BSPT":
		return t.Nominal - 1.280654*t.Pitch
	}
	return t.Nominal - 1.082532*t.Pitch
}

// plain prints a bare number with at most three decimals.
func plain(v float64) string { return measure.Format(v, measure.Ratio) }
