package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// HeatCase is a hose, lead or cable beside an exhaust or header.
type HeatCase struct {
	Line Side // what must stay clear: hose, lead, cable, tank, panel
	Hot  Side // the header or silencer
	// Clearance is the least gap between them as measured on this machine, at
	// both locks where the line turns; empty when nobody measured it with
	// these two parts on.
	Clearance []graph.Reading
	// Built is the gap of the machine as built, Least what its maker's book
	// wants; either may be empty.
	Built, Least []graph.Reading
	Safety       graph.Safety
}

// heatNoise is how well such a gap is measured, in mm: with a rule between two round
// things. Common practice, no source.
const heatNoise = 2.0

// JudgeHeat judges, in one check "clear of the exhaust", a gap that was measured
// against what the maker's book wants, else against the machine as built. No
// published figure says how much is enough for any line beside any pipe, so with
// neither of them the gap is unknown however wide it is; and a gap that nobody
// measured is unknown too. A line that touches is a no: it burns through, and on
// fuel that is a fire. Source: common practice.
func JudgeHeat(in HeatCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("clear of the exhaust")
		gap, ok := has(c, in.Line, in.Clearance, "clearance")
		if !ok {
			c.settle(askOf(in.Line, "clearance", "least gap to "+label(in.Hot)+", at both locks, fork out and in",
				"steel rule", "1 mm"))
			c.unknown("nobody has measured how far %s runs from %s with these parts on", label(in.Line), label(in.Hot))
			return
		}
		if gap.high <= eps {
			c.Had = mm(gap.nominal)
			c.no("%s touches %s", label(in.Line), label(in.Hot))
			return
		}
		if least, ok := has(c, in.Line, in.Least, "least"); ok {
			in.against(c, gap, least, 0, "the book wants")
			return
		}
		if built, ok := has(c, in.Line, in.Built, "built"); ok {
			in.against(c, gap, built, heatNoise, "as built there were")
			return
		}
		c.settle(lookAt(in.Line, "least", "what gap the machine's book wants there, or what heat shield"))
		c.unknown("%s between %s and %s, and nothing says how much is enough", mm(gap.nominal), label(in.Line),
			label(in.Hot))
	})
}

// has reads a value of the machine without asking for it.
func has(c *check, s Side, readings []graph.Reading, dim string) (span, bool) {
	at := place{position: s.Position, part: s.Part, feature: "machine", dim: dim}
	v, ok := c.value(at, readings, func() Ask { return lookAt(s, dim, dim) }, measure.Length)
	return spanOf(v.Quantity), ok
}

func (in HeatCase) against(c *check, gap, wanted span, noise float64, words string) {
	c.Had, c.Wanted, c.Gap = mm(gap.nominal), mm(wanted.nominal), mm(math.Abs(wanted.nominal-gap.nominal))
	switch {
	case gap.low >= wanted.high-noise-eps:
		c.Gap = ""
		c.fits("%s between them, %s %s", mm(gap.nominal), words, mm(wanted.nominal))
	case noise == 0 && gap.high < wanted.low-eps:
		c.no("%s between them, %s %s: lead it elsewhere or shield it", mm(gap.nominal), words, mm(wanted.nominal))
	default:
		c.settle(lookAt(in.Line, "least", "what gap the machine's book wants there, or what heat shield"))
		c.unknown("%s between them, %s %s: nothing says whether that is enough", mm(gap.nominal), words, mm(wanted.nominal))
	}
}
