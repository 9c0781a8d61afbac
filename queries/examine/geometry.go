package examine

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/queries/trade"
)

// stance is how the machine stands: what decides rake and trail.
type stance struct {
	g                          *gauge
	rake, wheelbase, offset    float64
	front, rear                float64 // radii of the tyres, mm
	leg, shock, link           float64 // lengths in mm; wheel over shock movement
	okFrame, okOffset, okFront bool
	okRear, okLeg, okShock     bool
	okLink                     bool
}

func readStance(x *Examiner, s *machine.Setup, l *machine.Landmarks) stance {
	in := stance{g: &gauge{s: s}}
	if l.Frame != "" {
		frame := in.g.feature(l.Frame, "frame-geometry")
		var okRake, okBase bool
		in.rake, okRake = in.g.number(frame, "head-angle")
		in.wheelbase, okBase = in.g.number(frame, "wheelbase")
		in.okFrame = okRake && okBase
	}
	in.offset, in.okOffset = axleOffset(x, in.g, l)
	in.front, in.okFront = tyreRadius(in.g, l.Tyre["front"])
	in.rear, in.okRear = tyreRadius(in.g, l.Tyre["rear"])
	in.leg, in.okLeg = lengthAt(x, in.g, l.Legs)
	in.shock, in.okShock = lengthAt(x, in.g, l.Shocks)
	in.link, in.okLink = 1, len(l.Shocks) > 0 && l.Rocker == "" // without a link the shock moves with the wheel
	if l.Rocker != "" {
		in.link, in.okLink = in.g.number(in.g.feature(l.Rocker, "link-ratio"), "ratio")
	}
	return in
}

// tyreRadius is the radius of the tyre at a position, in mm; false when there is
// none or its size is not known.
func tyreRadius(g *gauge, id graph.PositionID) (float64, bool) {
	if id == "" {
		return 0, false
	}
	around, err := circumference(g, id)
	return around / (2 * math.Pi), err == nil
}

// axleOffset is how far the axle stands in front of the steering axis: by the yoke that was
// changed, else the first, by tubes that it holds at an angle, and by the lead of the leg
// where anybody recorded one, as mating.JudgeTrail has it.
func axleOffset(x *Examiner, g *gauge, l *machine.Landmarks) (float64, bool) {
	if len(l.Yokes) == 0 {
		return 0, false
	}
	yoke := g.feature(changedFirst(x, l.Yokes), "yoke-offset")
	offset, ok := g.number(yoke, "offset")
	if angle, tilted := g.peek(yoke, "angle"); tilted && angle.Quantity.Nominal != 0 {
		length, okLength := lengthAt(x, g, l.Legs)
		offset, ok = offset+length*math.Sin(angle.Quantity.Nominal*math.Pi/180), ok && okLength
	}
	if len(l.Legs) == 0 {
		return offset, ok
	}
	leg := changedFirst(x, l.Legs)
	if !slices.ContainsFunc([]*machine.Setup{x.Built, x.Before, x.After}, func(s *machine.Setup) bool {
		return len(s.KindAt(leg, "axle-lead").Feature.Dims["lead"]) > 0
	}) {
		return offset, ok
	}
	lead, okLead := g.number(g.feature(leg, "axle-lead"), "lead")
	return offset + lead, ok && okLead
}

func lengthAt(x *Examiner, g *gauge, at []graph.PositionID) (float64, bool) {
	if len(at) == 0 {
		return 0, false
	}
	return g.number(g.feature(changedFirst(x, at), "fork-length"), "length")
}

// changedFirst is the place that was changed of several, else the first.
func changedFirst(x *Examiner, at []graph.PositionID) graph.PositionID {
	if i := slices.IndexFunc(at, x.isChanged); i >= 0 {
		return at[i]
	}
	return at[0]
}

// steering is the geometry of a stance: that of the variant as built, for which the
// built frame's figures hold, in the frame that is there, and what was changed.
func (in stance) steering(built stance) (trade.Steering, error) {
	if !in.okFrame || !built.okFrame || !built.okOffset || !built.okFront || !in.okOffset || !in.okFront {
		return trade.Steering{}, errMissing
	}
	s := trade.Steering{Radius: built.front, Rake: in.rake, Offset: built.offset, Wheelbase: in.wheelbase}
	c := trade.Change{FrontRadius: in.front - built.front, Offset: in.offset - built.offset}
	if in.okRear && built.okRear {
		c.RearRadius = in.rear - built.rear
	}
	if in.leg != built.leg {
		if !in.okLeg || !built.okLeg {
			return trade.Steering{}, errMissing
		}
		c.ForkLength = in.leg - built.leg
	}
	rise, err := in.rearRise(built)
	if err != nil {
		return trade.Steering{}, err
	}
	c.RearHeight = rise
	return s.After(c)
}

// rearRise is how far shock and link lift the rear against the variant as
// built, in mm at the axle.
func (in stance) rearRise(built stance) (float64, error) {
	if in.shock == built.shock && in.okShock == built.okShock {
		return 0, nil
	}
	if !in.okShock || !built.okShock || !in.okLink {
		return 0, errMissing
	}
	return trade.RideHeightChange(in.shock-built.shock, in.link)
}

// trailWords says what less or more trail does to the steering.
func trailWords(built stance) func(before, after stance) string {
	return func(before, after stance) string {
		b, errB := before.steering(built)
		a, errA := after.steering(built)
		if errors.Join(errB, errA) != nil {
			return ""
		}
		was, _ := b.Trail()
		is, _ := a.Trail()
		switch diff := is - was; {
		case diff <= -1:
			return fmt.Sprintf("%s less trail: it steers quicker and is less steady",
				measure.Format(roundTo(-diff, 1), measure.Length))
		case diff >= 1:
			return fmt.Sprintf("%s more trail: it steers slower and is steadier",
				measure.Format(roundTo(diff, 1), measure.Length))
		}
		return hardlyChanged
	}
}

// hardlyChanged is said of less than a millimetre of trail, which nobody feels:
// common practice, no source.
const hardlyChanged = "hardly changed"

// riseWords says what hangs on the height of the rear besides the steering.
// Common practice, no source.
func riseWords(stance, stance) string {
	return "look at what hangs on it: side stand, chain slack and run, room for the tyre, aim of the headlamp"
}

func judgeTrail(_ stance, trail float64) (graph.Verdict, string) {
	if trail <= 0 {
		return graph.DoesNotFit, "no trail at all: not rideable"
	}
	return graph.NoVerdict, ""
}

// roundTo rounds to a number of decimals.
func roundTo(v float64, decimals int) float64 {
	scale := math.Pow(10, float64(decimals))
	return math.Round(v*scale) / scale
}
