package mating

import (
	"fmt"
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// StandCase is a stand under the machine, now and as built.
type StandCase struct {
	Stand Side // kind stand
	Pivot Side // kind stand-pivot, of the frame as it is, machine upright at the height as built
	// Rise is how much higher the pivot stands than as built, in mm, from other
	// tyres, shocks or a fork; zero when nothing was changed.
	Rise float64
	// OnTyre is another tyre, kind tyre, of which nobody knows how high it has the machine
	// stand against the one as built; zero when Rise says all.
	OnTyre Side
	// WasStand and WasPivot are those as built; zero when they are the same ones.
	WasStand, WasPivot Side
	Safety             graph.Safety
}

// leanNear is how far the lean on a side stand may differ from that as built, in
// degrees, and liftNear the lift of a centre stand, in mm: what lengths read to 1 mm
// and a lean read to half a degree leave. The readings are common practice, no source.
const leanNear, liftNear = 1.5, 3.0

// JudgeStand judges, in one check "stand", how the machine stands on it: by its
// lean on a side stand, by the lift of the wheel on a centre stand. Upright or
// over the other way is a no, and so is a wheel that stays on the ground. How
// much lean is right was found in no source: what differs from the machine as
// built is unknown until it was tried on level ground. Source: geometry.
func JudgeStand(in StandCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("stand")
		form, ok := c.word(in.Stand, "form")
		if !ok {
			c.length(in.Stand, "length")
			c.length(in.Pivot, "height")
			return
		}
		was, _ := in.was()
		if len(was.Feature.Dims["form"]) > 0 {
			if built, _ := c.word(was, "form"); built != form {
				c.no("a %s stand where a %s stand goes", form, built)
				return
			}
		}
		if !in.OnTyre.IsZero() {
			c.settle(askFor(in.OnTyre, "radius"))
			c.unknown("the machine stands on another tyre, and how high is not known: its size tells no height")
			return
		}
		if form == "centre" {
			in.lift(c)
			return
		}
		in.lean(c)
	})
}

// was are stand and pivot as built.
func (in StandCase) was() (stand, pivot Side) {
	stand, pivot = in.WasStand, in.WasPivot
	if stand.IsZero() {
		stand = in.Stand
	}
	if pivot.IsZero() {
		pivot = in.Pivot
	}
	return stand, pivot
}

// lean judges a side stand.
func (in StandCase) lean(c *check) {
	now, okNow := leanOf(c, in.Stand, in.Pivot, in.Rise)
	if !okNow {
		return
	}
	if now < -leanNear {
		c.Had = degreesText(now)
		c.no("it is too long: the machine leans away from it by %s and falls", degreesText(-now))
		return
	}
	stand, pivot := in.was()
	was, okWas := leanOf(c, stand, pivot, 0)
	if !okWas {
		return
	}
	c.sizes(degreesText(now), degreesText(was), degreesText(math.Abs(now-was)))
	switch {
	case now < leanNear:
		c.no("it is too long: the machine stands upright and tips over")
	case math.Abs(now-was) <= leanNear:
		c.Gap = ""
		c.fits("leans by %s, as built", degreesText(now))
	default:
		c.settle(askOf(in.Stand, "lean", "lean on the stand on level ground, and whether it stands safely loaded",
			"protractor", "1 deg"))
		c.unknown("leans by %s, %s as built: whether it stands safely is to be tried", degreesText(now), degreesText(was))
	}
}

func leanOf(c *check, stand, pivot Side, rise float64) (float64, bool) {
	length, okLength := c.length(stand, "length")
	spread, okSpread := amount(c, stand, "spread", measure.Angle)
	height, okHeight := c.length(pivot, "height")
	side, okSide := c.length(pivot, "side")
	if !okLength || !okSpread || !okHeight || !okSide {
		return 0, false
	}
	lean, err := trade.SideStand{Height: height.nominal + rise, Side: side.nominal, Length: length.nominal,
		Spread: spread.nominal}.Lean()
	if err != nil {
		c.settle(askFor(stand, "spread"), askFor(pivot, "side"))
		c.cantTell("the lean", err)
	}
	return lean, err == nil
}

// StandBetween leaves open what would not do if the pivot went up and down with one end of
// the machine, and does with the other: it stands between the two, and nobody recorded
// where.
func StandBetween(checks []Check, in StandCase) []Check {
	checks = slices.Clone(checks)
	for i, c := range checks {
		if c.Verdict != graph.DoesNotFit {
			continue
		}
		c.Why += "; so if its hinge goes up or down as far as that end of the machine, and it stands between both: try it " +
			"on level ground"
		c.Verdict = graph.Unknown
		c.Measure = append(slices.Clone(c.Measure), askOf(in.Stand, "lean",
			"lean on the stand on level ground, and whether it stands safely loaded", "protractor", "1 deg"))
		checks[i] = c
	}
	return checks
}

// lift judges a centre stand.
func (in StandCase) lift(c *check) {
	length, okLength := c.length(in.Stand, "length")
	height, okHeight := c.length(in.Pivot, "height")
	stand, pivot := in.was()
	was, okWas := c.length(stand, "length")
	level, okLevel := c.length(pivot, "height")
	if !okLength || !okHeight || !okWas || !okLevel {
		return
	}
	now := length.minus(height).minus(exact(in.Rise))
	built := was.minus(level)
	c.sizes(mm(now.nominal)+" of lift", mm(built.nominal)+" as built", mm(math.Abs(now.nominal-built.nominal)))
	switch {
	case now.high <= eps:
		c.no("it is %s too short to lift a wheel off the ground", mm(-now.nominal))
	case math.Abs(now.nominal-built.nominal) <= liftNear && now.low > 0:
		c.Gap = ""
		c.fits("lifts by %s, as built", mm(now.nominal))
	default:
		c.settle(lookAt(in.Stand, "lift", "whether the wheel is clear and the machine can be heaved up and stands safely"))
		c.unknown("lifts by %s, %s as built", mm(now.nominal), mm(built.nominal))
	}
}

// TrailCase is the steering geometry of a machine, as built and as it will be.
type TrailCase struct {
	Frame Side // kind frame-geometry: head-angle, wheelbase
	// WasFrame is the one as built; zero when it is the same one.
	WasFrame Side
	// Lower is the lower yoke, kind yoke-offset. Both yokes must carry one offset
	// and angle, which is a Meeting of the two for Judge.
	Lower, WasLower Side
	// Fork is a leg, kind fork-length; as built and now. Zero for both when the
	// legs are as built; wanted where a yoke sets its tubes at an angle.
	Fork, WasFork Side
	// Lead and WasLead are how a leg carries the axle, kind axle-lead; where neither is
	// recorded the axle counts as in line with the tube.
	Lead, WasLead Side
	// Tyre is the front tyre, kind tyre; RearTyre the rear one.
	Tyre, WasTyre         Side
	RearTyre, WasRearTyre Side
	// Shock and Link are at the rear, kinds fork-length and link-ratio; zero
	// when the shock is as built.
	Shock, WasShock, Link Side
	Safety                graph.Safety
}

// What trail and rake may differ from the machine as built, in mm and degrees: a
// front tyre worn down by 5 mm changes a trail at 24 to 28 degrees by 2.2 to 2.7
// mm, and a protractor reads half a degree.
const trailNear, rakeNear = 3.0, 0.5

// What street machines have. Source: a published overview, read in an excerpt;
// inside it proves nothing, outside it is asked.
const (
	rakeLow, rakeHigh   = 22.0, 28.0 // degrees
	trailLow, trailHigh = 76.0, 127.0
)

// JudgeTrail judges, in one check "rake and trail", the steering geometry before
// and after a change of frame, yokes, fork, tyres or shock. As built it fits; a
// trail to the front is a no; any other change is unknown, for no published limit
// says how much one machine stands: its maker, an engineer's report or a licensed
// workshop does. Tyres by inch or letter sizes have no diameter that can be worked
// out: their radius must be measured. Source: geometry.
func JudgeTrail(in TrailCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("rake and trail")
		was, change, ok := in.geometry(c)
		start, okStart := in.reframed(c, was)
		if !ok || !okStart {
			return
		}
		now, err1 := start.After(change)
		before, err2 := was.Trail()
		after, err3 := now.Trail()
		if err1 != nil || err2 != nil || err3 != nil {
			c.settle(askFor(in.Frame, "head-angle"), askFor(in.Lower, "offset"))
			c.unknown("it can't be worked out from these: measure head angle, offset and tyre")
			return
		}
		in.compare(c, was.Rake, now.Rake, before, after)
	})
}

// reframed is the steering as built, in the frame as it will be.
func (in TrailCase) reframed(c *check, was trade.Steering) (trade.Steering, bool) {
	rake, okRake := amount(c, in.Frame, "head-angle", measure.Angle)
	base, okBase := c.length(in.Frame, "wheelbase")
	was.Rake, was.Wheelbase = rake.nominal, base.nominal
	return was, okRake && okBase
}

// geometry is the steering as built, and what is done to it but for another frame.
func (in TrailCase) geometry(c *check) (trade.Steering, trade.Change, bool) {
	frame := in.WasFrame
	if frame.IsZero() {
		frame = in.Frame
	}
	rake, okRake := amount(c, frame, "head-angle", measure.Angle)
	base, okBase := c.length(frame, "wheelbase")
	offset, okOffset := axleOffset(c, in.WasLower, in.WasFork)
	now, okNow := axleOffset(c, in.Lower, in.Fork)
	if len(in.Lead.Feature.Dims["lead"])+len(in.WasLead.Feature.Dims["lead"]) > 0 {
		was, okWas := c.length(in.WasLead, "lead")
		is, okIs := c.length(in.Lead, "lead")
		offset, okOffset, now, okNow = offset+was.nominal, okOffset && okWas, now+is.nominal, okNow && okIs
	}
	radius, okRadius := tyreAround(c, in.WasTyre)
	tyre, okTyre := tyreAroundAs(c, in.Tyre, in.WasTyre)
	ok := okRake && okBase && okOffset && okNow && okRadius && okTyre
	var change trade.Change
	change.Offset, change.FrontRadius = now-offset, (tyre-radius)/(2*math.Pi)
	if !in.RearTyre.IsZero() {
		was, okWas := tyreAround(c, in.WasRearTyre)
		is, okIs := tyreAroundAs(c, in.RearTyre, in.WasRearTyre)
		change.RearRadius, ok = (is-was)/(2*math.Pi), ok && okWas && okIs
	}
	if !in.Fork.IsZero() {
		longer, okFork := longerBy(c, in.Fork, in.WasFork)
		change.ForkLength, ok = longer, ok && okFork
	}
	if !in.Shock.IsZero() {
		rise, okShock := rearRise(c, in.Shock, in.WasShock, in.Link)
		change.RearHeight, ok = rise, ok && okShock
	}
	return trade.Steering{Radius: radius / (2 * math.Pi), Rake: rake.nominal, Offset: offset, Wheelbase: base.nominal},
		change, ok
}

// axleOffset is how far the end of the tubes lies in front of the steering axis, in mm: what
// the yoke sets off, and what tubes at an angle to the axis bring over their
// length. Yokes without an angle hold their tubes along the axis.
func axleOffset(c *check, yoke, fork Side) (float64, bool) {
	offset, ok := c.length(yoke, "offset")
	if len(yoke.Feature.Dims["angle"]) == 0 {
		return offset.nominal, ok
	}
	angle, okAngle := amount(c, yoke, "angle", measure.Angle)
	if same(angle.nominal, 0) {
		return offset.nominal, ok && okAngle
	}
	length, okLength := c.length(fork, "length")
	return offset.nominal + length.nominal*math.Sin(angle.nominal*math.Pi/180), ok && okAngle && okLength
}

func longerBy(c *check, now, was Side) (float64, bool) {
	a, okA := c.length(now, "length")
	b, okB := c.length(was, "length")
	return a.nominal - b.nominal, okA && okB
}

// rearRise is how much higher the rear stands with another shock, in mm.
func rearRise(c *check, now, was, link Side) (float64, bool) {
	longer, ok := longerBy(c, now, was)
	if ok && same(longer, 0) {
		return 0, true
	}
	ratio, okRatio := amount(c, link, "ratio", measure.Ratio)
	if !ok || !okRatio {
		return 0, false
	}
	rise, err := trade.RideHeightChange(longer, ratio.nominal)
	if err != nil {
		c.settle(askFor(now, "length"), askFor(link, "ratio"))
		c.cantTell("how high the rear stands", err)
	}
	return rise, err == nil
}

func (in TrailCase) compare(c *check, wasRake, rake, before, after float64) {
	words := fmt.Sprintf("trail %s, %s as built; rake %s, %s as built", tenth(after), tenth(before), degreesText(rake),
		degreesText(wasRake))
	c.sizes(tenth(after), tenth(before), tenth(math.Abs(after-before)))
	ask := askOf(in.Frame, "allowed",
		"whether the maker or an engineer's report allows this trail, and a trial by a licensed workshop",
		"the maker's word", "in writing")
	switch {
	case after <= 0:
		c.no("%s: the wheel does not follow", words)
	case math.Abs(after-before) <= trailNear && math.Abs(rake-wasRake) <= rakeNear:
		c.Gap = ""
		c.fits("%s", words)
	case rake < rakeLow || rake > rakeHigh || after < trailLow || after > trailHigh:
		c.settle(ask)
		c.unknown("%s: outside what street machines have, %g to %g deg and %s to %s", words, rakeLow, rakeHigh,
			mm(trailLow), mm(trailHigh))
	default:
		c.settle(ask)
		c.unknown("%s: no published limit says how much this machine stands", words)
	}
}

// ShockCase is a rear shock in place of another.
type ShockCase struct {
	Now, Was Side // kind fork-length: length, travel
	Link     Side // kind link-ratio; zero only when the length is the same
	WasLink  Side // the link as built; zero when it is the same one
	Safety   graph.Safety
}

// linkNear is how far the ratio of a link may differ, as a fraction: what lifting a
// wheel by hand and reading two ways leaves. Common practice, no source.
const linkNear = 0.05

// riseNear is how far the rear may stand off its height as built, in mm: the two
// lengths are read to 1 mm each (common practice, no source), and a link doubles or
// trebles that, which is levers.
const riseNear = 5.0

// travelNear is how far the travel of a shock may differ from that as built, in mm:
// both are read to 1 mm. Common practice, no source.
const travelNear = 2.0

// JudgeShock judges a shock and its link by what their eyes do not say: "rear
// height", by the shock's length over the link, "rear travel", by how far it lets
// the wheel come up (more than as built brings it to where nothing was meant to
// be), and "link ratio", for rockers or plates of another ratio make every spring
// another one.
// Eyes, bolts and forks are Meetings for Judge; left against right is JudgePair.
// Source: levers; limits are what the readings leave.
func JudgeShock(in ShockCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("rear height")
		if rise, ok := rearRise(c, in.Now, in.Was, in.Link); ok {
			shockHeight(c, in.Now, rise)
		}
		in.ratio(b)
		if len(in.Now.Feature.Dims["travel"])+len(in.Was.Feature.Dims["travel"]) == 0 {
			return
		}
		c = b.check("rear travel")
		now, okNow := c.length(in.Now, "travel")
		was, okWas := c.length(in.Was, "travel")
		if !okNow || !okWas {
			return
		}
		more := now.minus(was)
		c.sizes(mm(now.nominal), mm(was.nominal), mm(math.Abs(more.nominal)))
		switch more.against(-travelNear, travelNear) {
		case inside:
			c.Gap = ""
			c.fits("%s of travel, %s as built", mm(now.nominal), mm(was.nominal))
		case below:
			c.settle(lookAt(in.Now, "travel", "whether it bottoms on a careful trial, loaded"))
			c.unknown("%s less travel than as built: it bottoms sooner", mm(-more.nominal))
		default:
			c.settle(lookAt(in.Now, "travel",
				"wheel, chain and brake line against all around them with the spring off and the shock closed"))
			c.unknown("%s more travel than as built: the wheel comes up further", mm(more.nominal))
		}
	})
}

func shockHeight(c *check, now Side, rise float64) {
	switch {
	case math.Abs(rise) <= riseNear+eps:
		c.fits("the rear stands as built within %s", tenth(math.Abs(rise)))
	default:
		word := "higher"
		if rise < 0 {
			word = "lower"
		}
		c.Gap = tenth(math.Abs(rise))
		c.settle(lookAt(now, "height", "stand, chain, rake and trail with it, and what the maker allows"))
		c.unknown("the rear stands %s %s: stand, chain slack, rake and trail change with it", tenth(math.Abs(rise)), word)
	}
}

// ratio compares a link with the one as built.
func (in ShockCase) ratio(b *bench) {
	if in.WasLink.IsZero() {
		return
	}
	c := b.check("link ratio")
	now, okNow := amount(c, in.Link, "ratio", measure.Ratio)
	was, okWas := amount(c, in.WasLink, "ratio", measure.Ratio)
	if !okNow || !okWas {
		return
	}
	near := linkNear * was.nominal
	words := fmt.Sprintf("%s against %s as built", unitText(now, measure.Ratio), unitText(was, measure.Ratio))
	switch diff := now.minus(was); diff.against(-near, near) {
	case inside:
		c.fits("%s", words)
	default:
		c.sizes(unitText(now, measure.Ratio), unitText(was, measure.Ratio), "")
		c.settle(lookAt(in.Link, "ratio",
			"height, sag, travel and clearance of the rear on a careful trial, and what the maker allows"))
		c.unknown("%s: spring, height and travel of the wheel all change", words)
	}
}
