package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// rodPlay is what a pushrod wants in its bore, in mm: least and most, in all.
// Common practice, no source.
const rodPlayLeast, rodPlayMost = 0.02, 1.0

// pushrodInSeat judges a pushrod where it works: its length must leave the free
// play that the adjuster can set. Too long, and the brake holds or the clutch
// slips.
func pushrodInSeat(b *bench, m Meeting) {
	c := b.check("pushrod")
	alike(c, m, "end", "end", "it does not sit in what it pushes")
	inOver{"diameter", "bore", rodPlayLeast, rodPlayMost, "it slides in its bore", "it binds in its bore",
		"it is loose in its bore"}.judge(c, m)
	length, okLength := c.length(m.A, "length")
	wanted, okWanted := c.length(m.B, "length")
	if !okLength || !okWanted {
		return
	}
	switch within(length, wanted, 0) {
	case inside:
		c.fits("%s long, the adjuster allows %s", mm(length.nominal), mmRange(wanted.low, wanted.high))
	case astride:
		askTwo(c, m, "length", "length")
		c.unknown("%s long, the adjuster allows %s: at the limits it may be outside", mm(length.nominal),
			mmRange(wanted.low, wanted.high))
	case below:
		gap(c, length, exact(wanted.low))
		c.no("it is %s too short: not all of the way is used", mm(wanted.low-length.nominal))
	default:
		gap(c, length, exact(wanted.high))
		c.no("it is %s too long: no free play is left, a brake holds and a clutch slips", mm(length.nominal-wanted.high))
	}
}

// rodEndOnRod judges a ball joint on a rod: one of the rod's two threads must be
// its own, by size and hand.
func rodEndOnRod(b *bench, m Meeting) {
	c := b.check("rod end")
	end, okEnd := c.thread(m.A, "thread")
	one, okOne := c.thread(m.B, "thread-1")
	two, okTwo := c.thread(m.B, "thread-2")
	c.length(m.A, "depth")
	if !okEnd || !okOne || !okTwo {
		return
	}
	c.sizes(end.String(), one.String()+" and "+two.String(), "")
	switch {
	case end.Same(one) || end.Same(two):
		c.fits("%s on the rod's end of that thread", end)
	case assumedPitch(one, end) != "":
		c.settle(askFor(m.A, "thread"), askFor(m.B, "thread-1"))
		c.unknown("%s", assumedPitch(one, end))
	case assumedPitch(two, end) != "":
		c.settle(askFor(m.A, "thread"), askFor(m.B, "thread-2"))
		c.unknown("%s", assumedPitch(two, end))
	default:
		c.no("%s goes on neither end of the rod, %s and %s", end, one, two)
	}
}

// RodCase is a threaded rod with what screws on both its ends, as of a gear
// pedal.
type RodCase struct {
	Rod  Side    // kind link-rod
	Ends [2]Side // kind rod-end, either way round
	// Between is the distance between the middles of the two eyes that the
	// controls want, as a range; empty when nobody measured it.
	Between []graph.Reading
	Safety  graph.Safety
}

// JudgeRod judges a rod with both its ends: "rod threads", that each end has a
// thread of its own hand, so that turning the rod sets its length, and "rod
// length", that the distance the controls want leaves at least one diameter of
// thread in both ends. Source: geometry; one diameter as for a bolt in steel.
func JudgeRod(in RodCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("rod threads")
		one, okOne := c.thread(in.Rod, "thread-1")
		two, okTwo := c.thread(in.Rod, "thread-2")
		left, okLeft := c.thread(in.Ends[0], "thread")
		right, okRight := c.thread(in.Ends[1], "thread")
		if okOne && okTwo && okLeft && okRight {
			rodThreads(c, in.Rod, [2]measure.ThreadSize{one, two}, [2]measure.ThreadSize{left, right})
		}
		in.length(b, one, okOne)
	})
}

func rodThreads(c *check, rod Side, has, wants [2]measure.ThreadSize) {
	c.sizes(has[0].String()+" and "+has[1].String(), wants[0].String()+" and "+wants[1].String(), "")
	straight := has[0].Same(wants[0]) && has[1].Same(wants[1])
	turned := has[0].Same(wants[1]) && has[1].Same(wants[0])
	switch {
	case !straight && !turned:
		c.no("the rod has %s and %s, its ends want %s and %s", has[0], has[1], wants[0], wants[1])
	case has[0].LeftHand == has[1].LeftHand:
		c.fits("both ends screw on; with both threads of one hand it is set with an end taken off")
	default:
		c.fits("both ends screw on, and turning the rod sets its length")
	}
}

func (in RodCase) length(b *bench, thread measure.ThreadSize, okThread bool) {
	c := b.check("rod length")
	rod, okRod := c.length(in.Rod, "length")
	between, okBetween := given(c, in.Rod, in.Between,
		askOf(in.Rod, "between", "middle to middle of the two eyes, pedal where it belongs", "steel tape", "1 mm"),
		measure.Length)
	var reach, depth span
	all := true
	for _, end := range in.Ends {
		r, okReach := c.length(end, "reach")
		d, okDepth := c.length(end, "depth")
		reach, depth, all = reach.plus(r), depth.plus(d), all && okReach && okDepth
	}
	if !okRod || !okBetween || !all || !okThread {
		return
	}
	// What of the rod is inside the two ends at the distance wanted.
	inEnds := rod.plus(reach).minus(exact(between.nominal))
	least := 2 * thread.Nominal
	c.sizes(mm(rod.nominal), mmRange(between.low-reach.nominal+least, between.high-reach.nominal+depth.nominal), "")
	switch {
	case inEnds.high < least-eps:
		c.Gap = mm(math.Ceil(least - inEnds.nominal))
		c.no("the rod is %s too short: less than one diameter of thread holds in each end", c.Gap)
	case inEnds.low > depth.high+eps:
		c.Gap = mm(math.Ceil(inEnds.nominal - depth.nominal))
		c.no("the rod is %s too long: its ends bottom before the distance is reached", c.Gap)
	case inEnds.low < least-eps || inEnds.high > depth.low+eps:
		c.settle(askFor(in.Rod, "length"))
		c.unknown("at the limits of their tolerances too little thread may hold, or the ends may bottom")
	default:
		c.fits("%s of thread in the two ends together", mm(inEnds.nominal))
	}
}

// PedalCase is a pedal in place of another on the same rod and cylinder.
type PedalCase struct {
	Was, Now Side // kind pedal
	Safety   graph.Safety
}

// pedalNear is how far a lever's or pedal's leverage may differ and pass for the same,
// as a share: what reading both arms to 1 mm in some 40 leaves, which is arithmetic.
// The reading is common practice, no source.
const pedalNear = 0.05

// JudgePedal judges, in one check "pedal leverage", a pedal against the one the
// machine was built with: another leverage changes the force on a master cylinder,
// cam or gear shaft, and its way. Source: levers. How much a brake stands was
// found in no source: another leverage at a brake is unknown until a licensed
// workshop has tried it; at any other place it needs setting. Whatever the leverage, a rod's eye that stands further
// from the pivot, or nearer, is left open.
func JudgePedal(in PedalCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("pedal leverage")
		now, okNow := leverage(c, in.Now)
		was, okWas := leverage(c, in.Was)
		if !okNow || !okWas {
			return
		}
		change := now/was - 1
		c.sizes(fmt.Sprintf("%.2f:1", now), fmt.Sprintf("%.2f:1", was), fmt.Sprintf("%.0f %%", math.Abs(100*change)))
		words := fmt.Sprintf("%.2f:1 against %.2f:1 as built", now, was)
		in.arms(c)
		switch {
		case math.Abs(change) <= pedalNear+eps:
			if c.verdict() != graph.Unknown || len(c.said) == 0 {
				c.Gap = ""
			}
			c.fits("%s", words)
		case in.Safety == graph.SafetyBrake:
			c.settle(askOf(in.Now, "trial", "how the brake works on a careful trial, by a licensed workshop", "a trial",
				"as it brakes"))
			c.unknown("%s: the same foot presses %s, and the pedal moves as much the other way", words, moreOrLess(change))
		default:
			c.routine(graph.EffortHandTools, "set its height and free play anew", "%s: the same foot presses %s", words,
				moreOrLess(change))
		}
	})
}

// arms holds the arm of a pedal's rod against that as built: two arms in one proportion are not the same pedal.
func (in PedalCase) arms(c *check) {
	words := func(s Side) (float64, string) {
		foot, _ := c.peekLength(s, "foot")
		rod, _ := c.peekLength(s, "rod")
		return rod.nominal, mm(foot.nominal) + " and " + mm(rod.nominal)
	}
	rod, now := words(in.Now)
	rodWas, was := words(in.Was)
	arms(c, in.Now, "rod", rod, rodWas, now, was)
}

func leverage(c *check, s Side) (float64, bool) {
	foot, okFoot := c.length(s, "foot")
	rod, okRod := c.length(s, "rod")
	if !okFoot || !okRod {
		return 0, false
	}
	ratio, err := trade.PedalRatio(foot.nominal, rod.nominal)
	if err != nil {
		c.settle(askFor(s, "foot"), askFor(s, "rod"))
		c.unknown("%s: %s", label(s), err)
	}
	return ratio, err == nil
}

func moreOrLess(change float64) string {
	if change > 0 {
		return fmt.Sprintf("%.0f %% harder", 100*change)
	}
	return fmt.Sprintf("%.0f %% less", -100*change)
}
