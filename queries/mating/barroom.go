package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// What fittings may be off the bar they sit on, in mm. Common practice, no
// source: a clamp closes on 0.1 to 0.3 mm, a throttle tube runs on 0.1 to 1 mm.
const (
	fittingTight = -0.1
	fittingLoose = 0.3
	turningFree  = 0.05
	turningLoose = 1.2
	// gripFree is the gap that a turning grip wants to its neighbour, in mm.
	gripFree = 1.0
	// boreNoise is what a caliper misreads in a bore.
	boreNoise = 0.05
)

// fittingOnBar judges a grip, switch, perch or clamp on the bar: bore, length
// and peg. Whether all that sits there has room is for JudgeBarRoom.
func fittingOnBar(b *bench, m Meeting) {
	c := b.check("fitting on bar")
	turns, known := c.read(m.A, "turns", measure.YesNo)
	turnsAsBuilt(c, m, turns.Yes, known)
	switch {
	case !known:
		eitherWay(c, m)
	case turns.Yes && m.A.PartKind == "grip":
		gripOnTube(c, m)
	case turns.Yes:
		inOver{"bore", "diameter", -turningLoose, -turningFree, "it turns on the bar", "it wobbles on the bar",
			"it binds on the bar"}.judge(c, m)
	default:
		inOver{"bore", "diameter", -fittingLoose, -fittingTight, "it sits on the bar",
			"it is too loose on the bar to be held",
			"it is too narrow for the bar"}.judge(c, m)
	}
	width, okWidth := c.length(m.A, "width")
	straight, okStraight := c.length(m.B, "straight")
	if okWidth && okStraight && width.low > straight.high+eps {
		gap(c, width, straight)
		c.no("it takes %s of the bar, only %s are straight", mm(width.nominal), mm(straight.nominal))
	}
	pegInBar(b, m)
}

// gripOnTube judges the grip of the throttle, which is pulled over the tube of the twist
// grip and does not touch the bar: by the bore of the one built in. Common practice, no
// source.
func gripOnTube(c *check, m Meeting) {
	bore, okBore := c.length(m.A, "bore")
	built, okBuilt := asBuilt(m, "bar-fitting")
	was, okWas := span{}, false
	if okBuilt {
		was, okWas = c.peekLength(built, "bore")
	}
	switch {
	case !okBore:
	case okWas && bore.minus(was).against(fittingTight, -fittingTight) == inside:
		c.fits("%s inside, as the grip built in, on the tube of the twist grip", mm(bore.nominal))
	case okWas:
		c.settle(askFor(m.A, "bore"))
		c.sizes(mm(bore.nominal), mm(was.nominal)+" as built", mm(math.Abs(bore.minus(was).nominal)))
		c.unknown("it sits on the tube of the twist grip, where the one built in has %s inside: measure that tube",
			mm(was.nominal))
	default:
		c.settle(askFor(m.A, "bore"))
		c.unknown("it sits on the tube of the twist grip, which nobody measured")
	}
}

// turnsAsBuilt keeps a grip of the fixed side off the throttle, and one that turns off
// the fixed side: whatever it measures, it must do what the one built in does.
func turnsAsBuilt(c *check, m Meeting, turns, known bool) {
	if m.Built == nil || !known {
		return
	}
	for _, s := range []Side{m.Built.A, m.Built.B} {
		if s.Feature.Kind != "bar-fitting" {
			continue
		}
		switch was, ok := c.peek(s, "turns", measure.YesNo); {
		case !ok || was.Yes == turns:
		case was.Yes:
			c.no("it sits fast, where the one built in turns on the bar with the throttle")
		default:
			c.no("it turns on the bar, where the one built in sits fast")
		}
	}
}

// eitherWay judges a fitting of which nobody said whether it turns: what suits
// neither is a no.
func eitherWay(c *check, m Meeting) {
	bore, okBore := c.length(m.A, "bore")
	bar, okBar := c.length(m.B, "diameter")
	if !okBore || !okBar {
		return
	}
	switch play := bore.minus(bar); play.against(fittingTight, turningLoose) {
	case below:
		gap(c, bore, bar)
		c.no("it is too narrow for the bar: %s on %s", mm(bore.nominal), mm(bar.nominal))
	case above:
		gap(c, bore, bar)
		c.no("it is too loose on the bar: %s on %s", mm(bore.nominal), mm(bar.nominal))
	}
}

// pegInBar judges the peg that keeps a switch from turning. Who has none needs
// no hole.
func pegInBar(b *bench, m Meeting) {
	peg, ok := peekYes(b, m.A, "peg")
	if ok && !peg || !ok && !either(m, "peg") && !either(m, "peg-hole") {
		return
	}
	c := b.check("peg of the switch")
	if yes, ok := c.read(m.A, "peg", measure.YesNo); !ok || !yes.Yes {
		return
	}
	hole, ok := c.read(m.B, "peg-hole", measure.YesNo)
	switch {
	case !ok:
	case hole.Yes:
		c.fits("the bar has a hole for it; see that it lies where the switch must sit")
	default:
		c.change(graph.EffortDrillShim, "take the peg off, if its maker allows it; a hole in the bar weakens it",
			"the switch has a peg, the bar no hole for it")
	}
}

// peekYes reads a yes or no on a bench without a check of its own.
func peekYes(b *bench, s Side, dim string) (yes, known bool) {
	v, ok := (&check{bench: b}).peek(s, dim, measure.YesNo)
	return v.Yes, ok
}

// weightInBar judges the weight in the end of a bar.
func weightInBar(b *bench, m Meeting) {
	c := b.check("bar weight")
	plug, okPlug := c.length(m.A, "plug")
	bore, okBore := c.length(m.B, "inside")
	if !okPlug || !okBore {
		return
	}
	c.sizes(mmRange(plug.low, plug.high), mm(bore.nominal), "")
	switch within(bore, plug, boreNoise) {
	case inside:
		c.fits("holds in bores of %s, the bar has %s", mmRange(plug.low, plug.high), mm(bore.nominal))
	case below:
		c.no("it does not go into a bore of %s", mm(bore.nominal))
	case above:
		c.no("it does not hold in a bore of %s: it flies out or turns", mm(bore.nominal))
	default:
		askTwo(c, m, "plug", "inside")
		c.unknown("at the limits of its tolerance the bore may not hold it")
	}
}

// BarRoomCase is one side of a handlebar with all that sits on it.
type BarRoomCase struct {
	Bar Side // kind bar-end: straight
	// Fittings are all that sit on that side's straight, each of kind
	// bar-fitting: grip, switch, lever perch, master cylinder, mirror clamp.
	Fittings []Side
	// Clamps are what else is clamped on it, of kind clamp: a choke lever, as far as
	// somebody recorded how long its grip is.
	Clamps []Side
	// Open are the places on it of which nobody recorded what sits there.
	Open   []graph.PositionID
	Safety graph.Safety
}

// JudgeBarRoom judges, in one check "room on the bar", whether all that sits on
// one side of a handlebar has room along its straight: the sum of what each takes,
// and a gap beside a grip that turns. Each bore on the bar is a Meeting for Judge.
// Source: arithmetic; the gap is common practice.
func JudgeBarRoom(in BarRoomCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("room on the bar")
		straight, ok := c.length(in.Bar, "straight")
		if len(in.Fittings) == 0 {
			c.settle(lookAt(in.Bar, "fittings", "what sits on this side of the bar"))
			c.unknown("nobody said what sits on it")
			return
		}
		var sum span
		known := true
		for _, f := range in.Fittings {
			width, ok := c.length(f, "width")
			sum, known = sum.plus(width), known && ok
			if turns, ok := c.peek(f, "turns", measure.YesNo); ok && turns.Yes {
				sum = sum.plus(exact(gripFree))
			}
		}
		for _, s := range in.Clamps {
			if long, ok := c.peekLength(s, "length"); ok {
				sum = sum.plus(long)
			}
		}
		if !ok {
			return
		}
		on := things(len(in.Fittings) + len(in.Clamps))
		room := straight.minus(sum)
		switch {
		case room.high < -eps:
			c.sizes(mm(sum.nominal), mm(straight.nominal), mm(math.Abs(room.nominal)))
			c.no("%s need %s, %s are straight: %s too little", on, mm(sum.nominal),
				mm(straight.nominal), mm(-room.nominal))
		case !known:
		case room.low < -eps:
			c.settle(askFor(in.Bar, "straight"))
			c.unknown("%s need %s of %s straight: at the limits of their tolerances they may not go on",
				on, mm(sum.nominal), mm(straight.nominal))
		case len(in.Open) > 0:
			c.settle(lookAt(in.Bar, "fittings", "how wide what sits at "+in.Open[0].Local()+" is"))
			c.unknown("%s need %s of %s straight, and nobody recorded what sits at %s", on, mm(sum.nominal),
				mm(straight.nominal), in.Open[0].Local())
		default:
			c.fits("%s need %s of %s straight", on, mm(sum.nominal), mm(straight.nominal))
		}
	})
}

func things(n int) string {
	if n == 1 {
		return "1 fitting"
	}
	return fmt.Sprintf("%d fittings", n)
}
