package mating

import (
	"fmt"
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// What readings of one signal may differ, as fractions. Common practice, no
// source: senders are graded to 10 percent.
const (
	pulsesNear     = 0.01
	resistanceNear = 0.10
)

// signalRead judges a sensor, sender or drive against what reads it: what it
// tells, how, and in what measure. The plug may fit and the needle read nonsense.
func signalRead(b *bench, m Meeting) {
	c := b.check("signal")
	tellsOf(c, m)
	form, ok := alike(c, m, "form", "signal", "it fits and reads nonsense")
	pulsed := ok && (form == "hall" || form == "inductive" || form == "reed" || form == "cable")
	if pulsed && (len(m.B.Feature.Dims["per-turn"]) > 0 || !shownByWay(m.B)) {
		near(c, m, "per-turn", measure.Ratio, pulsesNear, "a turn", "the clocks read wrong by as much")
	}
	if ok && form == "resistance" {
		near(c, m, "resistance", measure.Resistance, resistanceNear, "at 20 °C", "the gauge reads wrong")
	}
	if ok && form == "cable" && either(m, "end") {
		alike(c, m, "end", "cable end", "it does not drive the clocks")
	}
	if ok && form != "cable" && either(m, "voltage") {
		volts(c, m.A, m.B, "it does not work or burns")
	}
}

// shownByWay reports that clocks show road speed by what they take for a
// kilometre: JudgeSpeedometer judges those. Of a rev counter that says nothing.
func shownByWay(clocks Side) bool {
	tells := clocks.Feature.Dims["tells"]
	return len(clocks.Feature.Dims["per-km"]) > 0 && len(tells) > 0 && sameWords(tells[0].Text, "speed")
}

// tellsOf judges that both sides are about one thing.
func tellsOf(c *check, m Meeting) {
	a, okA := c.phrase(m.A, "tells")
	b, okB := c.phrase(m.B, "tells")
	switch {
	case !okA || !okB:
	case sameWords(a, b):
		c.fits("%s", strings.ToLower(a))
	default:
		c.sizes(a, b, "")
		c.no("one tells %s, the other reads %s", a, b)
	}
}

// near judges a measure that both sides must share within a fraction of it.
func near(c *check, m Meeting, dim string, t measure.Type, within float64, per, otherwise string) {
	a, okA := amount(c, m.A, dim, t)
	b, okB := amount(c, m.B, dim, t)
	if !okA || !okB {
		return
	}
	limit := within * b.nominal
	textA, textB := unitText(a, t), unitText(b, t)
	switch a.minus(b).against(-limit, limit) {
	case inside:
		c.fits("%s %s", textA, per)
	case astride:
		askTwo(c, m, dim, dim)
		c.unknown("%s against %s %s may be alike or not", textA, textB, per)
	default:
		gap(c, a, b)
		c.Had, c.Wanted, c.Gap = textA, textB, ""
		c.no("%s against %s %s: %s", textA, textB, per, otherwise)
	}
}

// SpeedCase is what road speed is taken from, and the clocks that show it.
type SpeedCase struct {
	Source Side // kind signal-out: per-turn
	Clocks Side // kind signal-in: per-km
	Tyre   Side // of the wheel that is sensed or driven, kind tyre
	// Front and Rear are the sprockets (kind sprocket) when speed is sensed at
	// the gearbox; zero when it is sensed at the wheel itself.
	Front, Rear Side
	// Was is the same of the machine as built; nil when nobody said. Clocks that
	// show what they showed as built are right.
	Was    *SpeedCase
	Safety graph.Safety
}

// tyreNoise is how far a rolling tyre differs from its size, as a fraction. Common
// practice, no source: wear and pressure alone make 1 to 2 percent.
const tyreNoise = 0.02

// shownAt are the speeds the reading is tried at, in km/h. From memory of UN R39,
// which tries 40, 80 and 120; the rule itself is as excerpted.
var shownAt = [...]float64{40, 80, 120}

// JudgeSpeedometer judges, in one check "speed shown", what the clocks show
// against true speed: from the pulses or cable turns they are given and made for,
// the tyre's circumference, and the sprockets where the gearbox is sensed. Within
// what a tyre varies the answer is unknown, never a fit. Source: turns of the
// wheel; UN R39, 5.3; whether that rule binds this machine is for local rules.
func JudgeSpeedometer(in SpeedCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("speed shown")
		factor, ok := in.factor(c)
		if !ok {
			return
		}
		if in.Was != nil {
			if was, ok := in.Was.factor(&check{bench: b}); ok && math.Abs(factor/was-1) <= pulsesNear+eps {
				c.fits("shows what it showed as built, %.1f km/h at a true 100 by its sizes", 100*factor)
				return
			}
		}
		in.shown(c, factor)
	})
}

// factor is what the clocks show over what is true.
func (in SpeedCase) factor(c *check) (float64, bool) {
	perTurn, okTurn := amount(c, in.Source, "per-turn", measure.Ratio)
	perKm, okKm := amount(c, in.Clocks, "per-km", measure.Ratio)
	was := in.Tyre
	if in.Was != nil {
		was = in.Was.Tyre
	}
	around, okTyre := tyreAroundAs(c, in.Tyre, was)
	gearing, okGearing := in.gearing(c)
	if !okTurn || !okKm || !okTyre || !okGearing {
		return 0, false
	}
	factor, err := trade.ReadingFactor(perTurn.nominal, gearing, around, perKm.nominal)
	if err != nil {
		c.settle(askFor(in.Source, "per-turn"), askFor(in.Clocks, "per-km"))
		c.cantTell("what the clocks show", err)
	}
	return factor, err == nil
}

func (in SpeedCase) gearing(c *check) (float64, bool) {
	if in.Front.IsZero() && in.Rear.IsZero() {
		return 1, true
	}
	front, okFront := c.count(in.Front, "teeth")
	rear, okRear := c.count(in.Rear, "teeth")
	if !okFront || !okRear {
		return 0, false
	}
	ratio, err := trade.SprocketRatio(front, rear)
	if err != nil {
		c.settle(askFor(in.Front, "teeth"), askFor(in.Rear, "teeth"))
		c.cantTell("the gearing", err)
	}
	return ratio, err == nil
}

// tyreAround is the circumference of a tyre by its size, in mm. A size without an
// aspect ratio says nothing of it: then its radius tells, where that was measured.
func tyreAround(c *check, tyre Side) (float64, bool) {
	size, ok := c.phrase(tyre, "size")
	if !ok {
		return 0, false
	}
	read, err := trade.ParseTyre(size)
	if err == nil {
		var around float64
		if around, err = read.Circumference(); err == nil {
			return around, true
		}
	}
	if radius, measured := c.peekLength(tyre, "radius"); measured {
		return 2 * math.Pi * radius.nominal, true
	}
	c.settle(askOf(tyre, "rolling", "way of one turn of the wheel, rider on", "steel tape", "5 mm"))
	c.cantTell("how far the tyre rolls", err)
	return 0, false
}

// tyreAroundAs is tyreAround of a tyre that took the place of another: of two of one size of
// which both radii were measured, as much larger as that radius is.
func tyreAroundAs(c *check, tyre, was Side) (float64, bool) {
	around, ok := tyreAround(c, tyre)
	if !ok || tyre.isSame(was) {
		return around, ok
	}
	size, okSize := c.peek(tyre, "size", measure.Word)
	before, okBefore := c.peek(was, "size", measure.Word)
	radius, okRadius := c.peekLength(tyre, "radius")
	other, okOther := c.peekLength(was, "radius")
	if okSize && okBefore && okRadius && okOther && other.nominal > 0 && strings.EqualFold(size.Text, before.Text) {
		around *= radius.nominal / other.nominal
	}
	return around, true
}

// shown judges a reading factor: over the band of the rule at every speed tried,
// with what a tyre varies to either side.
func (in SpeedCase) shown(c *check, factor float64) {
	off := fmt.Sprintf("shows %.1f km/h at a true 100", 100*factor)
	c.sizes(off, "100 km/h, or somewhat more", fmt.Sprintf("%.1f %%", math.Abs(100*(factor-1))))
	surely, perhaps := "", ""
	for _, speed := range shownAt {
		for _, tyre := range []float64{-tyreNoise, 0, tyreNoise} {
			fault, err := trade.SpeedometerFault(speed*factor*(1+tyre), speed)
			if err == nil && fault != "" && perhaps == "" {
				perhaps = fault
			}
		}
		best := speed * factor * (1 + tyreNoise)
		if factor > 1 {
			best = speed * factor * (1 - tyreNoise)
		}
		if fault, err := trade.SpeedometerFault(best, speed); err == nil && fault != "" && surely == "" {
			surely = fault
		}
	}
	switch {
	case surely != "":
		c.no("%s", surely)
	case perhaps != "":
		c.settle(askOf(in.Tyre, "rolling", "way of one turn of the wheel, rider on", "steel tape", "5 mm"))
		c.unknown("%s by its sizes: what the tyre really rolls decides", off)
	default:
		c.Gap = ""
		c.fits("%s", off)
	}
}
