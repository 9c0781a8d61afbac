package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// WireCase is a fuse, the wires behind it, and what they feed.
type WireCase struct {
	Fuse Side // kind fuse: rating
	// Wires are all wires that the fuse guards, kind wire: the thinnest decides.
	Wires []Side
	// Loads are what takes current through it at one time, kind consumer or
	// lamp-cap; each as often as it is there.
	Loads  []Side
	Safety graph.Safety
}

// fuseOverLoad is how much stronger than its load a fuse is taken. Source: pages
// on wiring, about 1.5 times.
const fuseOverLoad = 1.5

// fuseNear is how much stronger than its load a fuse must at least be to need no
// measuring, as a factor: watts and volts are printed rounded, and what is marked on
// a lamp is not what it takes to a tenth. Common practice, no source.
const fuseNear = 1.1

// JudgeWire judges a fused circuit: "wire", that the fuse blows before the
// thinnest wire behind it burns, and "load", that the fuse carries what runs at
// one time. A wire's own rating decides; without it two published tables that
// differ by a factor of two are asked: up to the lower the fuse guards the wire,
// above the higher it does not, and between them it is unknown. This is a safety
// class of its own: fire.
func JudgeWire(in WireCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("wire")
		fuse, ok := amount(c, in.Fuse, "rating", measure.Current)
		if len(in.Wires) == 0 {
			c.settle(lookAt(in.Fuse, "wires", "which wires this fuse guards, and the thinnest of them"))
			c.unknown("nobody said which wires it guards")
		}
		for _, wire := range in.Wires {
			wireStands(c, wire, fuse, ok)
		}
		in.load(b)
	})
}

// wireStands judges one wire behind a fuse.
func wireStands(c *check, wire Side, fuse span, okFuse bool) {
	low, high, ok := wireLimits(c, wire)
	if !ok || !okFuse {
		return
	}
	blows := unitText(fuse, measure.Current)
	switch {
	case fuse.high <= low+eps:
		c.fits("%s: a fuse of %s guards it", label(wire), blows)
	case fuse.low > high+eps:
		c.Had, c.Wanted = blows, upTo(high)
		c.no("%s burns before a fuse of %s blows: it stands %s at most", label(wire), blows, upTo(high))
	default:
		c.settle(askFor(wire, "rating"))
		c.unknown("%s: a fuse of %s, where %s; its maker's rating decides", label(wire), blows, betweenTables(low, high))
	}
}

// wireLimits is what a wire surely and at most stands, in A.
func wireLimits(c *check, wire Side) (low, high float64, ok bool) {
	if rating, ok := peekAmount(c, wire, "rating", measure.Current); ok {
		c.peek(wire, "size", measure.Word)
		return rating.low, rating.high, true
	}
	size, ok := c.phrase(wire, "size")
	if !ok {
		return 0, 0, false
	}
	area, err := trade.WireArea(size)
	if err == nil {
		low, high, err = trade.WireRating(area)
	}
	if err != nil {
		c.settle(askFor(wire, "rating"))
		c.unknown("%s: %s", label(wire), err)
	}
	return low, high, err == nil
}

func upTo(amps float64) string { return measure.Format(math.Floor(amps*10+eps)/10, measure.Current) }

func betweenTables(low, high float64) string {
	return fmt.Sprintf("one published table allows %s and another %s", upTo(low), upTo(high))
}

// load judges the current that runs at one time against the fuse.
func (in WireCase) load(b *bench) {
	c := b.check("load")
	fuse, ok := amount(c, in.Fuse, "rating", measure.Current)
	if len(in.Loads) == 0 {
		c.settle(lookAt(in.Fuse, "loads", "what this fuse feeds, with the power marked on each"))
		c.unknown("nobody said what it feeds")
		return
	}
	sum, all := 0.0, true
	for _, load := range in.Loads {
		power, okPower := amount(c, load, "power", measure.Power)
		voltage, okVoltage := amount(c, load, "voltage", measure.Voltage)
		if !okPower || !okVoltage {
			all = false
			continue
		}
		amps, err := trade.CurrentOf(power.nominal, voltage.nominal)
		if err != nil {
			c.settle(askFor(load, "power"), askFor(load, "voltage"))
			c.unknown("%s: %s", label(load), err)
			all = false
			continue
		}
		sum += amps
	}
	if !ok {
		return
	}
	takes, stands := upTo(sum), unitText(fuse, measure.Current)
	switch {
	case sum > fuse.high+eps:
		c.Had, c.Wanted = takes, stands
		c.no("%s run through a fuse of %s: it blows, and a stronger one is no cure", takes, stands)
	case !all:
	case sum > fuse.low/fuseNear:
		c.settle(askOf(in.Fuse, "current", "current with everything on", "multimeter", "0.1 A"))
		c.unknown("%s run through a fuse of %s: too near to it, about %g times the load is usual", takes, stands,
			fuseOverLoad)
	default:
		c.fits("%s run through a fuse of %s", takes, stands)
	}
}

// VoltageCase is all that hangs on one battery.
type VoltageCase struct {
	// Battery gives the voltage of the machine: kind battery, or, on a machine
	// without one, any of the kinds of Members.
	Battery Side
	// Members are what it feeds or is fed by, each with a dimension "voltage":
	// kinds lamp-cap, lamp-holder, consumer, ignition-coil, ignition-output,
	// stator, regulator, signal-in.
	Members []Side
	Safety  graph.Safety
}

// has says who has which voltage.
func (in VoltageCase) has(v span) string {
	who := "the battery"
	if in.Battery.Feature.Kind != "battery" {
		who = label(in.Battery)
	}
	return who + " has " + unitText(v, measure.Voltage)
}

// JudgeVoltage judges, in one check "voltage", that lamps, coil, regulator, stator
// and the rest are all made for the battery's voltage: a 12 V lamp glows on 6 V, a
// 6 V coil burns on 12 V. Source: what is marked on each.
func JudgeVoltage(in VoltageCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("voltage")
		if len(in.Members) == 0 {
			c.settle(lookAt(in.Battery, "members", "what hangs on this battery"))
			c.unknown("nobody said what hangs on it")
		}
		battery, ok := amount(c, in.Battery, "voltage", measure.Voltage)
		agree := 0
		for _, member := range in.Members {
			v, okMember := amount(c, member, "voltage", measure.Voltage)
			if !ok || !okMember {
				continue
			}
			if v.minus(battery).against(-1, 1) == inside {
				agree++
				continue
			}
			if c.Had == "" {
				c.sizes(unitText(v, measure.Voltage), unitText(battery, measure.Voltage), "")
			}
			c.no("%s is for %s, %s", label(member), unitText(v, measure.Voltage), in.has(battery))
		}
		if agree > 0 && agree == len(in.Members) {
			things := "1 thing"
			if agree > 1 {
				things = fmt.Sprintf("%d things", agree)
			}
			c.fits("%s on %s", things, unitText(battery, measure.Voltage))
		}
	})
}
