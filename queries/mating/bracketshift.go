package mating

import (
	"math"

	"matewell/graph"
)

// ShiftCase is a bracket or a pair of shims between a caliper and its leg. The
// engine hands in one for every bracket or shim that is fitted or offered.
type ShiftCase struct {
	// Shift is what it moves the caliper by (kind shift); shims give their
	// thickness as outward and nothing sideways.
	Shift Side
	Leg   Side // the lug of the leg, kind caliper-mount
	// Caliper is the mount of the caliper, kind caliper-mount.
	Caliper Side
	Disc    Side // the disc fitted, kind disc-rim; zero takes that of the lug
	// Line is where that disc runs, as in Meeting; nil takes the offsets alone.
	Line   func() DiscLineCase
	Safety graph.Safety
}

// JudgeShift judges, in the checks "bracket height" and "bracket sideways",
// whether a bracket moves the caliper by what it must: by the value, whatever the
// bracket is called. Source: geometry; 0.25 mm of height, half of what a disc's
// diameter may be off, and 0.5 mm sideways are common practice, no source.
func JudgeShift(in ShiftCase) []Check {
	return judge(false, func(b *bench) {
		t := &mount{m: Meeting{A: in.Leg, B: in.Caliper, Disc: in.Disc, Line: in.Line}, leg: in.Leg,
			caliper: in.Caliper, sure: true}
		in.height(b, t)
		in.sideways(b, t)
	})
}

func (in ShiftCase) height(b *bench, t *mount) {
	c := b.check("bracket height")
	gives, okGives := c.length(in.Shift, "outward")
	needs, _, okNeeds := t.needs(c)
	if okGives && okNeeds {
		shiftGiven(c, in.Shift, "outward", gives, needs, discMatch/2, "further from the axle", "nearer to the axle")
	}
}

func (in ShiftCase) sideways(b *bench, t *mount) {
	c := b.check("bracket sideways")
	gives, okGives := c.length(in.Shift, "sideways")
	slot, okSlot := c.length(in.Caliper, "offset")
	lug, okLug := c.length(in.Leg, "offset")
	if !okGives || !okSlot || !okLug {
		return
	}
	needs := lug.minus(slot)
	if in.Line != nil {
		off, ok := in.Line().off(c)
		if !ok {
			c.unknown("first find where the disc runs")
			return
		}
		needs = needs.minus(off)
	}
	shiftGiven(c, in.Shift, "sideways", gives, needs, sideMatch, "further from the face it bolts to",
		"nearer to the face it bolts to")
}

// shiftGiven compares what a bracket gives with what is needed.
func shiftGiven(c *check, s Side, dim string, gives, needs span, most float64, out, in string) {
	words := func(v float64) string {
		switch {
		case math.Abs(v) < spacerStep/2:
			return "no shift"
		case v < 0:
			return mm(-v) + " " + in
		}
		return mm(v) + " " + out
	}
	miss := gives.minus(needs)
	c.sizes("gives "+words(gives.nominal), "needs "+words(needs.nominal), mm(math.Abs(miss.nominal)))
	switch where := miss.against(-most, most); {
	case where == inside || same(miss.nominal, 0):
		c.Gap = ""
		c.fits("it gives %s, as needed", words(gives.nominal))
	case where == astride:
		c.settle(askFor(s, dim))
		c.unknown("at the limits of the sizes it may give too much or too little")
	default:
		c.no("it gives %s, and %s is needed: %s out", words(gives.nominal), words(needs.nominal), c.Gap)
	}
}
