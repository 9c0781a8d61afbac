package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// tyreOnNeed judges what a tyre carries and how fast it may run against what the
// machine asks: load index and speed symbol each for itself, since one never
// makes up for the other. It judges the wheel it is made for, its service and its
// arrow as well. Sources: UN R75 for the tables; one country's motorcycle
// inspection manual, 4.1, for what is never fitted.
func tyreOnNeed(b *bench, m Meeting) {
	tyreLoad(b, m)
	tyreSpeed(b, m)
	tyrePlace(b, m)
}

// marks are load index and speed symbol as measured, else as the size carries
// them: "180/55ZR17 (73W)", in older sizes "3.25 H 18".
func tyreMarks(c *check, s Side) (load int, speed string) {
	if v, ok := c.peek(s, "load", measure.Count); ok {
		load = int(v.Quantity.Nominal)
	}
	if v, ok := c.peek(s, "speed", measure.Word); ok {
		speed = strings.ToUpper(strings.Trim(v.Text, "() "))
	}
	if load > 0 && speed != "" {
		return load, speed
	}
	if size, ok := c.peek(s, "size", measure.Word); ok {
		carried, symbol := measure.TyreMarks(size.Text)
		if load == 0 {
			load = carried
		}
		if speed == "" {
			speed = symbol
		}
	}
	return load, speed
}

func tyreLoad(b *bench, m Meeting) {
	c := b.check("tyre load")
	index, _ := tyreMarks(c, m.A)
	if index == 0 {
		c.ask(askFor(m.A, "load"))
	}
	needs, open := asked(c, m, m.B, "load")
	least, okLeast := 0, false
	for _, need := range needs {
		if asks, ok := c.count(need, "load"); ok {
			least, okLeast = max(least, asks), true
		}
	}
	if index == 0 || !okLeast {
		return
	}
	carries, err1 := trade.LoadCapacity(index)
	must, err2 := trade.LoadCapacity(least)
	c.sizes(fmt.Sprintf("load index %d", index), fmt.Sprintf("at least %d", least), "")
	switch {
	case index < least:
		c.no("load index %d is below the %d asked, whatever its speed symbol", index, least)
	case open:
		onlyNew(c, m.B, "load", "load index")
	case err1 == nil && err2 == nil:
		c.fits("load index %d carries %s kg, %s asked", index, plain(carries), plain(must))
	default:
		c.fits("load index %d, %d asked", index, least)
	}
}

func tyreSpeed(b *bench, m Meeting) {
	c := b.check("tyre speed")
	_, symbol := tyreMarks(c, m.A)
	if symbol == "" {
		c.ask(askFor(m.A, "speed"))
	}
	needs, open := asked(c, m, m.B, "speed")
	for _, need := range needs {
		wanted, ok := c.phrase(need, "speed")
		if ok && symbol != "" {
			speedServes(c, m, symbol, strings.ToUpper(strings.Trim(wanted, "() ")))
		}
	}
	if open && symbol != "" {
		onlyNew(c, m.B, "speed", "speed symbol")
	}
}

// speedServes judges one speed symbol against one that is asked.
func speedServes(c *check, m Meeting, symbol, wanted string) {
	is, errIs := trade.SpeedLimit(symbol)
	must, errMust := trade.SpeedLimit(wanted)
	serves := symbol == wanted || errIs == nil && errMust == nil && is >= must
	if c.Had == "" || !serves { // of several that ask, the one that it falls short of
		c.sizes("symbol "+symbol, "at least "+wanted, "")
	}
	switch {
	case symbol == wanted:
		c.fits("speed symbol %s, as asked", symbol)
	case serves:
		c.fits("speed symbol %s, %s km/h, %s asked", symbol, plain(is), plain(must))
	case errIs != nil || errMust != nil:
		c.settle(askFor(m.A, "speed"))
		c.unknown("speed symbol %s against %s: no table compares them", symbol, wanted)
	default:
		c.no("speed symbol %s, %s km/h, is below the %s asked, %s km/h, whatever its load index", symbol, plain(is),
			wanted, plain(must))
	}
}

// TyreMarksCase is a tyre on a machine of which nobody recorded what it asks.
type TyreMarksCase struct {
	Tyre, Was Side   // now and as built, kind tyre
	Wheel     string // front or rear: where it runs
	Safety    graph.Safety
}

// JudgeTyreMarks judges load index and speed symbol against those of the tyre built
// in, in the checks "tyre load" and "tyre speed". As much or more fits; less is
// unknown, since the tyre built in may have had more than the machine asks. What
// neither tyre carries is not judged. The wheel that it is made for, and its service,
// are judged in "tyre place" where the new tyre says them. Source: UN R75 for the tables.
func JudgeTyreMarks(in TyreMarksCase) []Check {
	return judge(false, func(b *bench) {
		probe := b.aside().check("tyre load")
		load, speed := tyreMarks(probe, in.Tyre)
		wasLoad, wasSpeed := tyreMarks(probe, in.Was)
		if load > 0 || wasLoad > 0 {
			c := b.check("tyre load")
			tyreMarks(c, in.Tyre)
			tyreMarks(c, in.Was)
			in.compare(c, "load", fmt.Sprintf("load index %d", load), fmt.Sprintf("%d as built", wasLoad), load > 0 &&
				wasLoad > 0,
				load >= wasLoad)
		}
		if speed != "" || wasSpeed != "" {
			c := b.check("tyre speed")
			tyreMarks(c, in.Tyre)
			tyreMarks(c, in.Was)
			is, errIs := trade.SpeedLimit(speed)
			was, errWas := trade.SpeedLimit(wasSpeed)
			in.compare(c, "speed", "speed symbol "+speed, wasSpeed+" as built", speed != "" && wasSpeed != "",
				speed == wasSpeed || errIs == nil && errWas == nil && is >= was)
		}
		tyrePlaceOn(b, in.Tyre, func(*check) (string, bool) { return in.Wheel, in.Wheel != "" })
	})
}

func (in TyreMarksCase) compare(c *check, dim, has, was string, known, enough bool) {
	switch {
	case !known:
		c.settle(askFor(in.Tyre, dim), askFor(in.Was, dim))
		c.unknown("the %s is not known of both tyres", map[string]string{"load": "load index", "speed": "speed symbol"}[dim])
	case enough:
		c.fits("%s, %s", has, was)
	default:
		c.sizes(has, was, "")
		c.settle(lookAt(in.Tyre, dim, "what the machine asks: its manual, or the plate on it"))
		c.unknown("%s, %s: less, and nobody recorded what the machine asks", has, was)
	}
}

// tyrePlace judges which wheel a tyre is made for and what service. It makes no
// check while nobody has said anything of it.
func tyrePlace(b *bench, m Meeting) {
	tyrePlaceOn(b, m.A, func(c *check) (string, bool) {
		if needs, _ := asked(c, m, m.B, "wheel"); len(needs) > 0 {
			return c.word(needs[0], "wheel") // which wheel it is says the machine's place
		}
		return "", false
	})
}

// tyrePlaceOn judges a tyre on the wheel that is told.
func tyrePlaceOn(b *bench, tyre Side, on func(*check) (string, bool)) {
	dims := tyre.Feature.Dims
	if len(dims["place"])+len(dims["service"])+len(dims["arrow"]) == 0 {
		return
	}
	c := b.check("tyre place")
	wheel, okWheel := on(c)
	if place, ok := c.peek(tyre, "place", measure.Word); ok && okWheel {
		switch {
		case place.Text == "front" && wheel == "rear":
			c.no("a front-only tyre on the rear wheel")
		case place.Text == "rear" && wheel == "front":
			c.settle(askFor(tyre, "place"))
			c.unknown("a tyre for the rear on the front wheel: only its maker can allow it, with the way it turns")
		default:
			c.fits("made for the %s wheel", wheel)
		}
	}
	if service, ok := c.peek(tyre, "service", measure.Word); ok {
		if service.Text == "road" {
			c.fits("made for the road")
		} else {
			c.no("a %s tyre is not for a solo on the road", service.Text)
		}
	}
	if arrow, ok := c.peek(tyre, "arrow", measure.Word); ok && arrow.Text != "none" {
		c.fits("fit it with its arrow the way the %s wheel turns", wheel)
	}
}

// What a tyre must clear, in mm, fitted and blown up: no published figure was
// found; a tyre maker only says that it grows, bias more than radial. Common
// practice, no source; less is not called wrong, but measured on the machine.
const tyreRoom = 10.0

// tyreInRoom judges a tyre against arm or legs, mudguard and chain. Where nobody
// measured the tyre its size is taken: a real one may be some millimetres wider.
func tyreInRoom(b *bench, m Meeting) {
	section, radius := tyreMeasures(b, m.A)
	room := func(rule, dim, what string, takes func(*check) (span, bool)) {
		if dim == "chain" && len(m.B.Feature.Dims[dim]) == 0 {
			return
		}
		c := b.check(rule)
		is, ok := takes(c)
		has, okHas := c.length(m.B, dim)
		if !ok || !okHas {
			return
		}
		left := has.minus(is)
		each := left.nominal
		if dim == "width" {
			each /= 2
		}
		c.sizes(mm(is.nominal), mm(has.nominal), "")
		switch {
		case each >= tyreRoom-eps:
			c.fits("%s of room to the %s", mm(each), what)
		case left.nominal <= 0:
			c.Gap = mm(-left.nominal)
			c.no("the tyre is %s too large for the room to the %s", c.Gap, what)
		default:
			c.settle(askFor(m.B, dim))
			c.unknown("only %s of room to the %s: a tyre grows; turn the wheel through all of its travel and measure", mm(each),
				what)
		}
	}
	room("tyre to arm", "width", "arm or legs", section)
	room("tyre to mudguard", "radius", "mudguard", radius)
	room("tyre to chain", "chain", "chain", func(c *check) (span, bool) {
		s, ok := section(c)
		return s.times(0.5), ok
	})
}

// tyreOff is how far a tyre as measured may be off its size, as a share; more
// is a size read wrong or another tyre measured. Common practice, no source.
const tyreOff = 0.15

// tyreMeasures are section and radius as measured, else by the size.
func tyreMeasures(b *bench, s Side) (section, radius func(*check) (span, bool)) {
	measured := func(c *check, dim string, bySize func(trade.Tyre) float64) (span, bool) {
		is, ok := c.peekLength(s, dim)
		text, okText := c.peek(s, "size", measure.Word)
		t, err := trade.ParseTyre(text.Text)
		switch {
		case !okText:
			c.ask(askFor(s, "size"))
			return span{}, false
		case !ok && err != nil:
			c.ask(askFor(s, dim))
			return span{}, false
		case !ok:
			return exact(bySize(t)), true
		case err == nil && math.Abs(is.nominal/bySize(t)-1) > tyreOff:
			c.settle(askFor(s, dim))
			c.unknown("marked %s, which makes %s, but measured %s", text.Text, mm(bySize(t)), mm(is.nominal))
		}
		return is, true
	}
	section = func(c *check) (span, bool) {
		return measured(c, "section", func(t trade.Tyre) float64 { return t.Width })
	}
	radius = func(c *check) (span, bool) {
		return measured(c, "radius", func(t trade.Tyre) float64 {
			d, _ := t.Diameter() // of a size that was read, so there is one
			return d / 2
		})
	}
	return section, radius
}

// TyrePairCase is both tyres of a machine. The engine hands it in when either is
// new.
type TyrePairCase struct {
	Front, Rear Side // kind tyre
	// Need is what the machine as built asks at either end (kind tyre-need): its mix
	// says what the maker allows; zero when nobody said.
	Need Side
	// Built are the tyres that the machine was built with, front and rear; nil when not known.
	Built  []Side
	Safety graph.Safety
}

// JudgeTyrePair judges, in one check "tyre construction", whether front and rear
// may run together. Sources: one country's motorcycle inspection manual, 4.1, for
// what fails; makers' and safety bodies' guides, which allow no mix at all unless
// the motorcycle's maker does: a mix that passes the test is therefore never a
// bare fits.
func JudgeTyrePair(in TyrePairCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("tyre construction")
		front, okFront := construction(c, in.Front)
		rear, okRear := construction(c, in.Rear)
		if !okFront || !okRear {
			return
		}
		c.sizes(front+" in front", rear+" behind", "")
		mix := front + " front, " + rear + " rear"
		allowed, okAllowed := c.peek(in.Need, "mix", measure.Word)
		switch {
		case front == rear && in.isOtherBuild(c, front):
			c.settle(Ask{Position: in.Front.Position, Part: in.Front.Part, Feature: in.Front.Feature.Name, Dim: "construction",
				What:  "whether the maker of machine or tyre allows " + front + " tyres on these rims",
				Where: "the machine's manual", Gauge: graph.ByEye, Accuracy: "book"})
			c.unknown("both %s, on a machine built with others: rims and frame were made for those", front)
		case front == rear:
			c.fits("both %s", front)
		case front == "radial", front == "bias-belted" && rear == "diagonal":
			c.no("%s: fails the test of tyres (%s)", mix,
				"radial never in front of another, bias-belted never in front of diagonal")
		case okAllowed && strings.Contains(strings.ToLower(allowed.Text), front) &&
			strings.Contains(strings.ToLower(allowed.Text), rear):
			c.change(graph.EffortHandTools, "run only the pair that the machine's maker lists, by make and pattern",
				"%s: a mix that the machine's maker allows", mix)
		default:
			c.settle(Ask{Position: in.Need.Position, Part: in.Need.Part, Feature: in.Need.Feature.Name, Dim: "mix",
				What:  "whether the maker allows this mix",
				Where: "the machine's manual", Gauge: graph.ByEye, Accuracy: "book"})
			c.unknown("%s: makers allow no mix unless the machine's maker does", mix)
		}
	})
}

// isOtherBuild reports whether the machine was built with tyres of another construction, as far as that is known.
func (in TyrePairCase) isOtherBuild(c *check, now string) bool {
	aside := c.bench.aside().check(c.Rule)
	return slices.ContainsFunc(in.Built, func(s Side) bool {
		was, ok := construction(aside, s)
		return ok && was != now
	})
}

// construction is how a tyre is built: by what was said, else by its size; an
// inch size that names none is diagonal (UN R75: no letter means diagonal).
func construction(c *check, s Side) (string, bool) {
	if v, ok := c.peek(s, "construction", measure.Word); ok {
		return strings.ToLower(v.Text), true
	}
	text, ok := c.phrase(s, "size")
	if !ok {
		return "", false
	}
	if t, err := trade.ParseTyre(text); err == nil {
		return t.Build, true
	}
	if _, _, inch := trade.InchTyre(text); inch && !strings.ContainsAny(strings.ToUpper(text), "RB") {
		return "diagonal", true
	}
	c.ask(askFor(s, "construction"))
	return "", false
}
