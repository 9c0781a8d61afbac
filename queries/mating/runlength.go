package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
)

// judgeLength compares the line with its path. The need may be anything from
// the old one less to the old one plus what the ends moved.
func judgeLength(r *run) {
	far := r.moved.high
	wantLow := r.longest.high + far + r.spare.low
	wantHigh := max(wantLow, r.longest.high+far+r.spare.high)
	r.c.Had, r.c.Wanted = mm(r.line.nominal), mmRange(wholeUp(wantLow), wholeUp(wantHigh))
	sure := r.line.low - r.longest.high - far         // slack there is at any rate
	best := r.line.high - r.longest.low - r.moved.low // slack there may be at most
	switch {
	case !r.knownMove:
		pathGone(r)
	case best < -eps:
		r.c.Gap = mm(wholeUp(-best))
		if far > 0 {
			r.c.no("too short by at least %s%s: it pulls taut", r.c.Gap, r.at())
		} else {
			r.c.no("too short by %s%s: it pulls taut", r.c.Gap, r.at())
		}
		orderLine(r, wantLow, wantHigh)
	case sure >= r.spare.low-eps:
		longEnough(r, sure, best, wantLow, wantHigh)
	case far == 0 && sure >= -eps && sure == best:
		r.c.Gap = mm(wholeUp(r.spare.low - sure))
		r.c.change(graph.EffortHandTools, "ease it through its guides by "+r.c.Gap+", or fit a longer one",
			"it reaches, but%s only %s is spare, %s wanted", r.at(), mm(sure), mmRange(r.spare.low, r.spare.high))
		orderLine(r, wantLow, wantHigh)
	default:
		mayBeShort(r, sure, wantLow, wantHigh)
	}
	if isMoved(r) && len(r.c.Do) > 0 {
		r.c.Do = append(r.c.Do, lastLook)
	}
}

// wholeUp rounds a length to whole millimetres, upward: no tape measures a path
// closer than that.
func wholeUp(v float64) float64 { return math.Ceil(v - eps) }

// lastLook is what no number can promise.
const lastLook = "then bars lock to lock, fork out and in: nothing taut, nothing rubbing"

func isMoved(r *run) bool { return len(r.in.Moves)+len(r.in.Raises)+len(r.in.Lengthens) > 0 }

// pathGone says that the path itself is no longer known.
func pathGone(r *run) {
	if r.in.GuidesMoved {
		for _, need := range r.in.Needs {
			r.c.settle(r.askNeed(need.Lock, need.Fork))
		}
		r.c.unknown("a guide moved, so the path is another one: measure it")
	}
}

func mayBeShort(r *run, sure, wantLow, wantHigh float64) {
	r.c.Gap = mm(wholeUp(max(0, -sure)))
	for _, need := range r.in.Needs {
		if r.attitude(need.Lock, need.Fork) == r.worst {
			r.c.settle(r.askNeed(need.Lock, need.Fork))
		}
	}
	if r.moved.high > 0 {
		short := "may have less than the spare wanted"
		if sure < -eps {
			short = "may be up to " + r.c.Gap + " too short"
		}
		r.c.unknown("its end moves by up to %s%s, so it %s%s: measure the path with the new part on",
			mm(wholeUp(r.moved.high)), guideWords(r), short, r.at())
	} else {
		r.c.unknown("close to too short%s: measure line and path", r.at())
	}
	orderLine(r, wantLow, wantHigh)
}

func guideWords(r *run) string {
	if len(r.in.Guides) == 0 {
		return " while its path stays"
	}
	return " while its guides stay"
}

// longEnough judges a line that reaches with its spare: what is over must not
// hang in a loop.
func longEnough(r *run, sure, best, wantLow, wantHigh float64) {
	surely, perhaps := sure-r.spare.high, best-r.spare.high
	switch {
	case len(r.c.missing) > 0:
		// A need that nobody measured may be the longest.
	case surely > clipUp+eps:
		r.c.Gap = mm(wholeUp(surely))
		r.c.no("too long by %s: the loop can catch or rub", r.c.Gap)
		orderLine(r, wantLow, wantHigh)
	case perhaps <= tapeNoise+eps:
		look := ""
		if isMoved(r) {
			look = "; " + lastLook
		}
		r.c.fits("%s spare%s, %s wanted%s", mm(math.Floor(sure+eps)), r.at(), mmRange(r.spare.low, r.spare.high), look)
	case surely > tapeNoise+eps:
		r.c.Gap = mm(wholeUp(surely))
		more := ""
		if perhaps > surely+tapeNoise+eps {
			more, r.c.Gap = ", perhaps "+mm(wholeUp(perhaps)), mm(wholeUp(perhaps))
		}
		r.c.change(graph.EffortHandTools, "clip up the loop so that it can't catch or rub",
			"%s longer than wanted%s", mm(wholeUp(surely)), more)
	default:
		r.c.Gap = mm(wholeUp(perhaps))
		r.c.change(graph.EffortHandTools, "see how the loop hangs and clip it up",
			"long enough at any rate, but perhaps up to %s longer than wanted", r.c.Gap)
	}
}

// orderLine orders a line of the length wanted, in steps of 5 mm.
func orderLine(r *run, low, high float64) {
	from := math.Ceil(low/tapeNoise-eps) * tapeNoise
	to := max(from, math.Floor(high/tapeNoise+eps)*tapeNoise)
	kind := r.in.Line.Feature.Kind
	spec := []Field{{lineDim(kind), mmRange(from, to)}}
	text := fmt.Sprintf("%s %s long", kind, mmRange(from, to))
	spec = append(spec, lineSpec(r, kind)...)
	for _, f := range r.in.Fittings {
		spec, text = append(spec, f), text+", "+f.Name+": "+f.Value
	}
	if r.moved.high > 0 {
		spec = append(spec, Field{"but", "the length is an upper bound: measure the path before ordering"})
	}
	makes(r.c.order(kind, text, spec...), r.in.Line, lineDim(kind), mmRange(from, to))
}

// lineSpec is what else a line is ordered by: the free inner of a cable, which
// its controls want whatever the outer is, and the bore of a hose.
func lineSpec(r *run, kind string) []Field {
	switch kind {
	case "cable":
		inner := "as the present one has: measure it, adjuster in its middle"
		if len(r.in.Inner) > 0 {
			inner = r.in.Inner[0].Text
		} else if has, ok := r.c.peekLength(r.in.Line, "inner"); ok {
			inner = mm(has.nominal)
		}
		return []Field{{"free inner", inner},
			{"ends of the outer", "adjusters, ferrules and bent ends where the present one has them"}}
	case "hose":
		fields := []Field{{"sort", "for the fluid, heat and pressure of the present one, and marked for them"}}
		if bore, ok := r.c.peekLength(r.in.Line, "bore"); ok {
			fields = append([]Field{{"bore", mm(bore.nominal)}}, fields...)
		}
		if bent := slices.DeleteFunc(slices.Clone(r.in.Fittings), func(f Field) bool {
			return !strings.Contains(f.Value, "bent") || strings.Contains(f.Value, "bent 0 ")
		}); len(bent) > 1 {
			fields = append(fields, Field{"ends to one another", "turned as those of the present one: lay it flat and measure " +
				"the angle between the two bends"})
		}
		return fields
	case "lead":
		return []Field{{"wires", "as many, and no thinner, than in the present one"}}
	}
	return nil
}

// bendMore is by how much the least bend of a line may be greater than that of the one its path was led for, as a
// share, before somebody must look at each curve. Common practice, no source: both are given in round figures.
const bendMore = 0.10

// bend judges the loop that the line's slack makes. A single even bow over the
// whole path is the gentlest shape it can take; when even that is tighter than
// the hose allows, it kinks. The curves on its way were led for the line built in, and are not recorded: a line that
// bends less is asked about. A least bend that nobody gave is not judged.
func bend(r *run, b *bench) {
	if len(r.in.Line.Feature.Dims["bend"]) == 0 || !r.okLn || r.shortest.nominal <= 0 {
		return
	}
	c := b.check("bend")
	least, ok := c.length(r.in.Line, "bend")
	line, okLine := c.length(r.in.Line, "length")
	if !ok || !okLine {
		return
	}
	if built, known := c.peekLength(r.in.Built, "bend"); known && least.nominal > built.nominal*(1+bendMore)+eps {
		c.sizes(mm(least.nominal), mm(built.nominal), mm(least.nominal-built.nominal))
		c.settle(lookAt(r.in.Line, "bend", "the tightest curve of its path, against the least this line may have"))
		c.unknown("it may be bent to %s and no tighter, the one built in to %s: its path was led for that one, and in a "+
			"curve too tight it kinks", mm(least.nominal), mm(built.nominal))
	}
	radius := bowRadius(line.nominal, r.shortest.nominal)
	if radius == 0 || radius >= least.nominal-eps {
		c.fits("its slack can hang in a bow of %s or more; look at the tightest guide", mm(least.nominal))
		return
	}
	c.sizes(mm(math.Round(radius)), mm(least.nominal), "")
	c.change(graph.EffortHandTools, "fit a shorter line or lead it another way",
		"where the path is shortest its slack bends it to about %s, %s is the least", mm(math.Round(radius)),
		mm(least.nominal))
}

// bowRadius is the radius of an arc of a given length over a chord, in mm; 0
// when there is no slack. Source: geometry, length/chord = t / sin t for the
// half angle t.
func bowRadius(length, chord float64) float64 {
	if length <= chord+eps {
		return 0
	}
	low, high := 0.0, math.Pi
	for range 60 {
		t := (low + high) / 2
		if t/math.Sin(t) < length/chord {
			low = t
		} else {
			high = t
		}
	}
	return length / (2 * low)
}
