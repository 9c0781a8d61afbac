package mating

import (
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// RunCase is a hose, cable or lead on its path.
type RunCase struct {
	Brief bool // as in Meeting
	Run   graph.RunID
	Line  Side // a feature of kind hose, cable or lead
	// Built is the line that the path was led for; zero when not known.
	Built Side
	// Needs is the length the path takes, by attitude, as measured with the
	// parts as built.
	Needs []graph.RunNeed
	Inner []graph.Reading // the free inner a cable needs
	Spare []graph.Reading // wanted beyond the longest need; empty takes 20-30 mm
	// Moves are the parts of kind place that carry an end and were changed;
	// Lengthens those of kind fork-length.
	Moves, Lengthens []Move
	// Raises are the risers of the bar that carries an end, where others are on than built.
	Raises []Raise
	Guides []string // what holds it on its way, in order
	// GuidesMoved is true when a guide was changed or moved: the path must
	// then be measured anew.
	GuidesMoved bool
	// Turns is true when an end turns with the bars; both locks are then
	// needed. A need at either lock says the same.
	Turns bool
	// Behind is true for a line to the brake at the rear wheel, neither end of which goes
	// with bars or fork; what its needs call the fork is the suspension behind.
	Behind bool
	// Travels is true when an end goes up and down with a wheel; the path is then
	// needed at both ends of the travel.
	Travels bool
	// Fittings are what an order for another line must say of its ends:
	// {"upper end", "banjo 10 mm, 20 deg"}. They may be empty.
	Fittings []Field
}

// Move is a part that carries an end of a run, as it was and as it is now.
type Move struct{ Was, Now Side }

// Raise is a riser of a bar, as it was and as it is now.
type Raise struct{ Was, Now Riser }

// Riser is what a riser sets a bar by: features of kind fork-length and riser-set.
type Riser struct{ Length, Set Side }

// lineDim names the dimension that the path's need is compared with.
func lineDim(kind string) string {
	if kind == "cable" {
		return "outer"
	}
	return "length"
}

const (
	// The spare wanted beyond the longest need, and how much more than that
	// can still be clipped up out of harm's way, in mm. Common practice, no
	// source.
	leastSpare, mostSpare = 20.0, 30.0
	clipUp                = 30.0
	// tapeNoise is how well a path and a hose are measured, in mm: with a tape or a
	// piece of string that follows the path. Common practice, no source.
	tapeNoise = 5.0
)

// JudgeRun judges a line against the length its path needs: "run length", and
// for a cable "free inner", for a hose whose least bend is known "bend".
func JudgeRun(in RunCase) []Check {
	return judge(false, func(b *bench) {
		b.brief = in.Brief
		c := b.check("run length")
		r := run{in: in, c: c}
		if r.readNeeds() {
			judgeLength(&r)
		}
		if in.Line.Feature.Kind == "cable" {
			freeInner(b, in)
		}
		if in.Line.Feature.Kind == "hose" {
			bend(&r, b)
		}
	})
}

// run is a line against its path; all in mm.
type run struct {
	in              RunCase
	c               *check
	longest         span // the greatest need, as built
	shortest        span
	worst           string // the attitude of the greatest need: "lock left, fork extended"; see at
	moved           span   // by how much the need may change: low is less, high more
	spare           span
	line            span
	knownMove, okLn bool
}

// readNeeds gathers the path and reports whether there is enough to judge by.
func (r *run) readNeeds() bool {
	found := map[string]bool{}
	for _, need := range r.in.Needs {
		ask := r.askNeed(need.Lock, need.Fork)
		at := place{position: r.in.Line.Position, part: r.in.Line.Part, feature: "run", dim: ask.Dim}
		v, ok := r.c.value(at, need.Length, func() Ask { return ask }, measure.Length)
		if !ok {
			r.c.ask(ask)
			continue
		}
		length := spanOf(v.Quantity)
		if len(found) == 0 || length.nominal > r.longest.nominal {
			r.longest, r.worst = length, r.attitude(need.Lock, need.Fork)
		}
		if len(found) == 0 || length.nominal < r.shortest.nominal {
			r.shortest = length
		}
		found[need.Lock+"-"+need.Fork] = true
	}
	r.askAbsent(found)
	r.readMoves()
	r.readSpare()
	r.line, r.okLn = r.c.length(r.in.Line, lineDim(r.in.Line.Feature.Kind))
	return len(found) > 0 && r.okLn
}

// askAbsent asks for the attitudes that nobody measured: both locks as soon as the
// line turns with the bars, and each of them with the wheel at both ends of its
// travel where an end goes with that. A line with a need straight ahead only, of
// which nothing else is said, does neither.
func (r *run) askAbsent(found map[string]bool) {
	turns := r.in.Turns || len(r.in.Moves)+len(r.in.Raises) > 0
	for at := range found {
		turns = turns || !strings.HasPrefix(at, "centre-")
	}
	turns = turns && !r.in.Behind
	locks, ends := []string{"centre"}, []string{"extended"}
	if turns {
		locks = []string{"left", "centre", "right"}
	}
	if r.in.Travels || len(r.in.Lengthens) > 0 {
		ends = append(ends, "compressed")
	}
	for _, lock := range locks {
		for _, end := range ends {
			if !found[lock+"-"+end] {
				r.c.ask(r.askNeed(lock, end))
			}
		}
	}
}

// attitude is how the machine stands when a need is measured.
func (r *run) attitude(lock, fork string) string {
	if r.in.Behind {
		return "suspension " + fork
	}
	return "lock " + lock + ", fork " + fork
}

// at says at what the greatest need is, where it is not the same however the machine stands.
func (r *run) at() string {
	if r.in.Behind && len(r.in.Needs) > 1 && r.longest == r.shortest {
		return ""
	}
	return " at " + r.worst
}

func (r *run) askNeed(lock, fork string) Ask {
	return Ask{Position: r.in.Line.Position, Part: r.in.Line.Part, Feature: "run", Dim: "need " + lock + "-" + fork,
		What: "length of the path, " + r.attitude(lock, fork), Where: label(r.in.Line),
		Gauge: "cord along the path, then steel tape", Accuracy: "5 mm"}
}

func (r *run) readSpare() {
	r.spare = span{(leastSpare + mostSpare) / 2, leastSpare, mostSpare}
	at := place{position: r.in.Line.Position, part: r.in.Line.Part, feature: "run", dim: "spare"}
	ask := Ask{Position: r.in.Line.Position, Dim: "spare", What: "spare length wanted", Where: label(r.in.Line),
		Gauge: "the maker's manual", Accuracy: "5 mm"}
	if v, ok := r.c.value(at, r.in.Spare, func() Ask { return ask }, measure.Length); ok {
		r.spare = spanOf(v.Quantity)
	}
}

// readMoves adds up how far the ends moved. While the guides stay, the path
// changes by at most that: each end by sqrt(dx2 + dy2 + dz2). Source: the
// triangle inequality. The bar turns as one piece, so it is the same at every
// lock.
func (r *run) readMoves() {
	r.knownMove = !r.in.GuidesMoved
	for _, m := range r.in.Moves {
		var square float64
		for _, axis := range []string{"x", "y", "z"} {
			was, okWas := r.c.length(m.Was, axis)
			now, okNow := r.c.length(m.Now, axis)
			if !okWas || !okNow {
				r.knownMove = false
				continue
			}
			d := now.minus(was)
			far := max(math.Abs(d.low), math.Abs(d.high))
			square += far * far
		}
		far := math.Sqrt(square)
		r.moved = r.moved.plus(span{far, -far, far})
	}
	r.readRaises()
	for _, m := range r.in.Lengthens {
		was, okWas := r.c.length(m.Was, "length")
		now, okNow := r.c.length(m.Now, "length")
		if !okWas || !okNow {
			r.knownMove = false
			continue
		}
		// What is longer makes the path longer by that at most, what is shorter never so.
		d := now.minus(was)
		r.moved = r.moved.plus(span{d.nominal, min(d.low, 0), max(d.high, 0)})
	}
}

// readRaises adds how far another riser moves the bar: up by what it is longer, and back by
// what it sets it further back, at most as far as the two together. Both risers carry one
// bar: the one that moves it furthest counts. Source: the triangle inequality.
func (r *run) readRaises() {
	var furthest float64
	for _, raise := range r.in.Raises {
		wasLong, okWas := r.c.length(raise.Was.Length, "length")
		long, okNow := r.c.length(raise.Now.Length, "length")
		wasBack, okWasBack := r.c.length(raise.Was.Set, "back")
		back, okBack := r.c.length(raise.Now.Set, "back")
		if !okWas || !okNow || !okWasBack || !okBack {
			r.knownMove = false
			continue
		}
		up, rear := long.minus(wasLong), back.minus(wasBack)
		furthest = max(furthest, math.Hypot(max(math.Abs(up.low), math.Abs(up.high)),
			max(math.Abs(rear.low), math.Abs(rear.high))))
	}
	r.moved = r.moved.plus(span{furthest, -furthest, furthest})
}
