package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// LeverCase is a hand lever in place of another on the same perch or master.
type LeverCase struct {
	Was, Now Side // kind lever-throw
	// Master is the master cylinder that it sits in (kind master-bore) where that is
	// another one too; zero where it is the one built in, or there is none.
	Master Side
	Safety graph.Safety
}

// spanNear is how far the span of a lever may differ from that as built, in mm.
// Common practice, no source: both are read to 1 mm, and adjusters step by 2 to 4.
const spanNear = 5.0

// JudgeLever judges, in one check "lever", a hand lever against the one the
// machine was built with: by its leverage, by its arms where they are written, by what it pushes with, by how far it
// moves that, by its span to the grip, and by what is left to the grip once all is open or released. Less than 13 mm
// is a no (a rider-training guide, read in an excerpt). Another leverage at a brake is
// unknown until a licensed workshop has tried it; another span is unknown until
// the rider's hand has. With another master cylinder too it is held against what that
// says of its lever, and the two together are judged by JudgeLeverage. Source: levers.
func JudgeLever(in LeverCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("lever")
		now, okNow := amount(c, in.Now, "ratio", measure.Ratio)
		was, okWas := amount(c, in.Was, "ratio", measure.Ratio)
		switch own, ok := in.ownMaster(c); {
		case !okNow:
		case ok && math.Abs(now.nominal/own-1) <= pedalNear+eps:
			c.fits("%.2f:1, as the master cylinder that comes with it asks: the two together are judged by the leverage of "+
				"the whole", now.nominal)
		case okWas:
			in.leverage(c, now.nominal, was.nominal)
		}
		in.arms(c)
		in.rod(c)
		if okNow && okWas {
			in.moves(c, now.nominal, was.nominal)
		}
		toGrip(c, in.Now, in.Was)
		in.reserve(c)
	})
}

func (in LeverCase) leverage(c *check, now, was float64) {
	change := now/was - 1
	words := fmt.Sprintf("%.2f:1 against %.2f:1 as built", now, was)
	switch {
	case math.Abs(change) <= pedalNear+eps:
		c.fits("%s", words)
	case in.Safety == graph.SafetyBrake:
		c.sizes(fmt.Sprintf("%.2f:1", now), fmt.Sprintf("%.2f:1", was), "")
		c.settle(askOf(in.Now, "trial", "how the brake works on a careful trial, by a licensed workshop", "a trial",
			"as it brakes"))
		c.unknown("%s: the same hand pulls %s, and the lever moves as much the other way", words, moreOrLess(change))
	default:
		c.sizes(fmt.Sprintf("%.2f:1", now), fmt.Sprintf("%.2f:1", was), "")
		c.settle(askOf(in.Now, "trial", "whether the clutch releases and grips all the way", "a trial", "as it works"))
		c.unknown("%s: the same hand pulls %s, and the cable moves as much the other way", words, moreOrLess(change))
	}
}

// arms holds how far from its pivot the lever pushes against the one built in, or against what its own master
// cylinder asks for.
func (in LeverCase) arms(c *check) {
	now, _ := c.peek(in.Now, "ratio", measure.Ratio)
	was, _ := c.peek(in.Was, "ratio", measure.Ratio)
	if own, ok := in.ownMaster(c); ok && math.Abs(now.Quantity.Nominal/own-1) <= pedalNear+eps {
		was, _ = c.peek(in.Master, "lever-ratio", measure.Ratio)
	}
	arms(c, in.Now, "ratio", rodArm(now), rodArm(was), now.String(), was.String())
}

// ownMaster is the leverage that another master cylinder says its lever has.
func (in LeverCase) ownMaster(c *check) (float64, bool) {
	if in.Master.IsZero() {
		return 0, false
	}
	v, ok := c.peek(in.Master, "lever-ratio", measure.Ratio)
	return v.Quantity.Nominal, ok && v.Quantity.Nominal > 0
}

// rod judges what the lever pushes with, where somebody said it of one of them.
func (in LeverCase) rod(c *check) {
	if m := (Meeting{A: in.Now, B: in.Was}); either(m, "rod") {
		alike(c, m, "rod", "pushes with a", "it does not push what it should")
	}
}

// toGrip judges how far a lever stands from its grip at rest against that as built, where either says.
func toGrip(c *check, now, was Side) {
	if !either(Meeting{A: now, B: was}, "reach") {
		return
	}
	is, okNow := c.length(now, "reach")
	before, okWas := c.length(was, "reach")
	if !okNow || !okWas {
		return
	}
	switch is.minus(before).against(-spanNear, spanNear) {
	case inside:
		c.fits("%s from the grip, %s as built", mm(is.nominal), mm(before.nominal))
	default:
		gap(c, is, before)
		c.settle(lookAt(now, "reach", "whether the rider's hand reaches it, and it clears the fingers on the grip"))
		c.unknown("%s from the grip, %s as built", mm(is.nominal), mm(before.nominal))
	}
}

// moves judges how far the lever moves what it works, all of its way, against the one built in, where both
// say: travel over leverage. Source: levers.
func (in LeverCase) moves(c *check, now, was float64) {
	travel, ok := c.peekLength(in.Now, "travel")
	built, okBuilt := c.peekLength(in.Was, "travel")
	if !ok || !okBuilt || now <= 0 || was <= 0 {
		return
	}
	is, before := travel.times(1/now), built.times(1/was)
	if is.nominal >= before.nominal*(1-pedalNear)-eps {
		c.fits("it moves what it works by %s, %s as built", mm(is.nominal), mm(before.nominal))
		return
	}
	gap(c, is, before)
	c.settle(askFor(in.Now, "travel"))
	c.unknown("it moves what it works by %s, %s as built: too little to %s all the way", mm(is.nominal),
		mm(before.nominal), map[bool]string{true: "brake", false: "open or release it"}[in.Safety == graph.SafetyBrake])
}

// reserve judges what is left to the grip. A way that nobody measured is asked
// for only when it is known of the lever as built.
func (in LeverCase) reserve(c *check) {
	if len(in.Now.Feature.Dims["travel"])+len(in.Was.Feature.Dims["travel"]) == 0 {
		return
	}
	reach, okReach := c.length(in.Now, "reach")
	travel, okTravel := c.length(in.Now, "travel")
	if !okReach || !okTravel {
		return
	}
	left, err := trade.ReserveToGrip(reach.nominal, travel.nominal)
	switch {
	case err != nil:
		c.settle(askFor(in.Now, "reach"), askFor(in.Now, "travel"))
		c.cantTell("what is left to the grip", err)
	case left.Enough:
		c.fits("%s left to the grip", mm(left.Gap))
	default:
		gap(c, exact(left.Gap), exact(trade.LeastReserve))
		c.no("only %s left to the grip, %s at least", mm(max(0, left.Gap)), mm(trade.LeastReserve))
	}
}
