package mating

import (
	"fmt"
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// How far a hose may be smaller than its pipe, as a fraction of the pipe, and
// how far larger by what a caliper misreads, in mm. Common practice, no source:
// no published figure for the stretch of a hose was found; 6 mm hoses are pushed
// on 7 mm pipes.
const (
	hoseStretch = 0.20
	hoseNoise   = 0.2
)

// hoseOnPipe judges the end of a hose or rubber on the pipe it goes over: by
// bore, and by what flows in it. A hose that is not made for fuel softens and
// leaks: on fuel that is a fire.
func hoseOnPipe(b *bench, m Meeting) {
	c := b.check("hose on pipe")
	bore, okBore := c.length(m.A, "bore")
	outside, okOutside := c.length(m.A, "outside")
	pipe, okPipe := c.length(m.B, "diameter")
	if okBore && okOutside && outside.high < bore.low {
		c.settle(askFor(m.A, "outside"), askFor(m.A, "bore"))
		c.unknown("a hose of %s outside can't have a bore of %s", mm(outside.nominal), mm(bore.nominal))
	}
	if okBore && okOutside {
		hoseWall(c, m, outside.minus(bore).nominal/2)
		const clips = "see that its clips close on it, or grip it"
		notMuchMore(c, m, m.A, "outside", measure.Length, clips)
		notMuchLess(c, m, m.A, "outside", measure.Length, clips)
	}
	if okBore && okPipe {
		hoseBore(c, m, bore, pipe)
	}
	hoseCarries(b, m)
}

// What the wall of a hose may be, in mm: thinner than the first a hose is no hose of a
// machine, and wallLess is what readings leave between two alike. Common practice, no
// source.
const (
	leastHoseWall = 1.0
	wallLess      = 0.3
)

// hoseWall holds the wall of a hose against that of the one built in, or against the
// least there is.
func hoseWall(c *check, m Meeting, wall float64) {
	least := leastHoseWall
	if was, known := asBuilt(m, m.A.Feature.Kind); known {
		bore, okBore := c.peekLength(was, "bore")
		outside, okOutside := c.peekLength(was, "outside")
		if okBore && okOutside {
			least = max(least, outside.minus(bore).nominal/2-wallLess)
		}
	}
	if wall > 0 && wall < least-eps {
		c.settle(askFor(m.A, "outside"), askFor(m.A, "bore"))
		c.unknown("a wall of %s is thinner than that of the hose built in, or than any hose of a machine", mm(wall))
	}
}

func hoseBore(c *check, m Meeting, bore, pipe span) {
	tight := pipe.minus(bore)
	stretch := hoseStretch * pipe.nominal
	switch tight.against(-eps, stretch) {
	case inside:
		c.fits("a %s hose on a %s pipe", mm(bore.nominal), mm(pipe.nominal))
	case below:
		gap(c, bore, pipe)
		if tight.low < -hoseNoise-eps {
			c.no("a %s hose is too wide for a %s pipe: no clamp makes up for that", mm(bore.nominal), mm(pipe.nominal))
			return
		}
		askTwo(c, m, "bore", "diameter")
		c.unknown("a %s hose on a %s pipe is wider by what a caliper may misread: measure both", mm(bore.nominal),
			mm(pipe.nominal))
	case above:
		gap(c, bore, pipe)
		if tight.low > 2*stretch {
			c.no("a %s hose does not go over a %s pipe", mm(bore.nominal), mm(pipe.nominal))
			return
		}
		c.settle(lookAt(m.A, "stretch", "whether its maker allows it on a pipe of "+mm(pipe.nominal)))
		c.unknown("a %s hose on a %s pipe is stretched by more than is usual: it may split", mm(bore.nominal),
			mm(pipe.nominal))
	default:
		askTwo(c, m, "bore", "diameter")
		c.unknown("at the limits of their tolerances the hose may be too wide or too tight")
	}
}

// hoseCarries judges what a hose is made for against what flows in it.
func hoseCarries(b *bench, m Meeting) {
	c := b.check("hose kind")
	made, okMade := c.read(m.A, "for", measure.Words)
	flows, okFlows := c.phrase(m.B, "carries")
	if !okMade || !okFlows {
		return
	}
	c.sizes(strings.Join(made.Words, ", "), flows, "")
	if holds(made.Words, serves(flows)...) {
		c.fits("made for %s", flows)
		return
	}
	if fuelKind(flows) {
		c.no("made for %s, and fuel flows in it: it softens and leaks, and fuel burns", list(made.Words))
		return
	}
	c.no("made for %s, and %s flows in it", list(made.Words), flows)
}

// fuelKind reports whether a word means fuel.
func fuelKind(word string) bool {
	return strings.Contains(strings.ToLower(word), "fuel") || sameWords(word, "petrol")
}

// serves are what a hose may be marked with to carry something: a hose for fuel
// under pressure also carries it without, never the other way round. Source: SAE
// J30, scope, as excerpted: R6 to R8 for low pressure, R9 for injection.
func serves(flows string) []string {
	low := []string{"fuel", "petrol", "SAE J30 R6", "SAE J30 R7", "SAE J30 R8"}
	high := []string{"fuel injection", "SAE J30 R9"}
	switch {
	case sameWords(flows, "fuel"), sameWords(flows, "petrol"):
		return append(low, high...)
	case sameWords(flows, "fuel injection"):
		return high
	case sameWords(flows, "mixture"):
		return append([]string{"mixture"}, append(low, high...)...)
	case sameWords(flows, "air"):
		return []string{"air", "mixture"}
	}
	return []string{flows}
}

// twoPipes and twoHoseEnds meet like with like, which nothing holds together.
func twoPipes(b *bench, m Meeting) {
	c := b.check("hose on pipe")
	c.no("two pipes: a piece of hose must go between them")
	alsoReads(c, m, "diameter", "diameter")
}

func twoHoseEnds(b *bench, m Meeting) {
	c := b.check("hose on pipe")
	c.no("two hose ends: a pipe must go between them")
	alsoReads(c, m, "bore", "bore")
}

// alsoReads notes two sizes that an answer shows although they decide nothing.
func alsoReads(c *check, m Meeting, dimA, dimB string) {
	a, okA := c.peekLength(m.A, dimA)
	b, okB := c.peekLength(m.B, dimB)
	if okA && okB {
		c.sizes(mm(a.nominal), mm(b.nominal), "")
	}
}

// clampOnHose judges a clamp on a hose without its pipe: the hose is as thick as
// off it, or up to as much thicker as the usual stretch makes it.
func clampOnHose(b *bench, m Meeting) {
	c := b.check("hose clamp")
	closes, okCloses := c.length(m.A, "range")
	outside, okOutside := c.length(m.B, "outside")
	bore, okBore := c.length(m.B, "bore")
	if !okCloses || !okOutside || !okBore {
		return
	}
	thick, err := trade.StretchedOutside(bore.nominal/(1-hoseStretch), outside.nominal, bore.nominal)
	if err != nil {
		c.settle(askFor(m.B, "outside"), askFor(m.B, "bore"))
		c.unknown("the hose can't be as said: %s", err)
		return
	}
	clampCloses(c, m.A, closes, span{outside.nominal, outside.low, max(outside.high, thick)},
		askOf(m.B, "on-pipe", "outside of the hose once it is on its pipe", "vernier caliper", "0.1 mm"))
}

// HoseEndCase is a hose on its pipe with the clamp that holds it.
type HoseEndCase struct {
	Hose   Side // kind hose-end
	Pipe   Side // kind spigot
	Clamp  Side // kind hose-clamp; zero when nobody said what holds it
	Safety graph.Safety
}

// JudgeHoseEnd judges the clamp of a hose on its pipe, in one check "hose
// clamp": by the outside that the hose has once it is stretched over the pipe.
// Whether the hose goes on the pipe is a Meeting of the two for Judge. A hose
// without a clamp is unknown: some are held by one, some by their own grip.
// Source: equal area of the ring; that a clamp is taken inside its range is what
// pages on clamps say.
func JudgeHoseEnd(in HoseEndCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("hose clamp")
		if in.Clamp.IsZero() {
			c.settle(lookAt(in.Hose, "clamp", "what clamp holds it, if any"))
			c.unknown("nobody said what clamp holds it")
			return
		}
		closes, okCloses := c.length(in.Clamp, "range")
		outside, okOutside := c.length(in.Hose, "outside")
		bore, okBore := c.length(in.Hose, "bore")
		pipe, okPipe := c.length(in.Pipe, "diameter")
		if !okCloses || !okOutside || !okBore || !okPipe {
			return
		}
		thick, err := trade.StretchedOutside(max(pipe.nominal, bore.nominal), outside.nominal, bore.nominal)
		if err != nil {
			c.settle(askFor(in.Hose, "outside"), askFor(in.Hose, "bore"))
			c.unknown("the hose can't be as said: %s", err)
			return
		}
		spread := (outside.high - outside.low + bore.high - bore.low) / 2
		clampCloses(c, in.Clamp, closes, span{thick, thick - spread, thick + spread},
			askOf(in.Hose, "on-pipe", "outside of the hose on its pipe", "vernier caliper", "0.1 mm"))
	})
}

func clampCloses(c *check, clamp Side, closes, thick span, ask Ask) {
	c.sizes(mmRange(closes.low, closes.high), tenthRange(thick), "")
	switch thick.against(closes.low, closes.high) {
	case inside:
		c.fits("closes on %s, the hose is %s outside", mmRange(closes.low, closes.high), tenthRange(thick))
	case astride:
		c.settle(ask)
		c.unknown("closes on %s, the hose may be %s outside: measure it on its pipe", mmRange(closes.low, closes.high),
			tenthRange(thick))
	case below:
		c.Gap = tenth(math.Abs(closes.low - thick.high))
		c.no("the clamp closes to %s, the hose is %s outside: it does not grip", mm(closes.low), tenthRange(thick))
	default:
		c.Gap = tenth(math.Abs(thick.low - closes.high))
		c.no("the clamp opens to %s, the hose is %s outside: it does not close", mm(closes.high), tenthRange(thick))
	}
}

func tenthRange(s span) string {
	return mmRange(math.Round(s.low*10)/10, math.Round(s.high*10)/10)
}

// LineEnd is one end of a line and the joint that judges it.
type LineEnd struct {
	End Side // the feature at that end
	// Meets is the feature at the other side of its joint; zero when the end
	// is in no joint.
	Meets Side
}

// LineEndsCase is a hose, pipe, cable or lead with all its ends.
type LineEndsCase struct {
	Line Side // its feature hose, cable or lead
	// Ends are all ends that the part has: banjo, screwed-end, hose-end, nipple,
	// ferrule, connector. Two at least, more for a line that branches.
	Ends   []LineEnd
	Safety graph.Safety
}

// JudgeLineEnds judges, in one check "line ends", that every end of a line is
// judged against something: an end that is in no joint, or meets what no rule
// knows, leaves the line unknown. What the ends themselves say is for Judge.
func JudgeLineEnds(in LineEndsCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("line ends")
		if len(in.Ends) < 2 {
			c.settle(lookAt(in.Line, "ends", "how the other end is made, and what it goes on"))
			c.unknown("only %d of its ends is described", len(in.Ends))
		}
		met := 0
		for _, end := range in.Ends {
			known := Compares(end.End.Feature.Kind, end.Meets.Feature.Kind)
			switch {
			case end.Meets.IsZero():
				c.settle(lookAt(end.End, "end", "what this end goes on"))
				c.unknown("%s meets nothing that is known", label(end.End))
			case !known:
				c.settle(lookAt(end.End, "end", "whether it goes on "+label(end.Meets)))
				c.unknown("%s meets %s, and no rule compares them", label(end.End), label(end.Meets))
			default:
				met++
			}
		}
		if met == len(in.Ends) && met > 1 {
			c.fits("%s are judged", ends(met))
		}
	})
}

func ends(n int) string {
	if n == 2 {
		return "both ends"
	}
	return fmt.Sprintf("all %d ends", n)
}
