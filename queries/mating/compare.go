package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// inOver is one size inside another: what side B may have over side A, and what
// it means when it has not.
type inOver struct {
	dimA, dimB         string
	least, most        float64 // mm: B less A
	good, tight, loose string  // "the spring stands free in its tube"
}

// judge compares the two sizes. A size too tight or too loose is a no: what can
// be made of it is the rule's own business. One that is smaller by less than is wanted must be offered up.
func (w inOver) judge(c *check, m Meeting) {
	a, okA := c.length(m.A, w.dimA)
	b, okB := c.length(m.B, w.dimB)
	if !okA || !okB {
		return
	}
	room := b.minus(a)
	switch where := room.against(w.least, w.most); where {
	case inside:
		c.fits("%s: %s in %s", w.good, mm(a.nominal), mm(b.nominal))
	case astride:
		askTwo(c, m, w.dimA, w.dimB)
		c.unknown("at the limits of their tolerances %s in %s may not do", mm(a.nominal), mm(b.nominal))
	case below:
		gap(c, a, b)
		if room.nominal > eps { // smaller all the same
			c.settle(lookAt(m.A, w.dimA, "whether it goes in, offered up by hand"))
			c.unknown("%s in %s leave %s between them, %s are wanted: offer it up", mm(a.nominal), mm(b.nominal),
				mm(room.nominal), mm(w.least))
			return
		}
		c.no("%s: %s in %s", w.tight, mm(a.nominal), mm(b.nominal))
	default:
		gap(c, a, b)
		c.no("%s: %s in %s", w.loose, mm(a.nominal), mm(b.nominal))
	}
}

// gap notes two sizes and what is between them, where no size was noted before.
func gap(c *check, a, b span) {
	if c.Had == "" {
		c.sizes(mm(a.nominal), mm(b.nominal), mm(math.Abs(a.nominal-b.nominal)))
	}
}

// alike judges a word that both sides must share. It reports whether both are
// known and the same, so that what hangs on the word can be judged.
func alike(c *check, m Meeting, dim, what, otherwise string) (string, bool) {
	a, okA := c.word(m.A, dim)
	b, okB := c.word(m.B, dim)
	switch {
	case !okA || !okB:
		return "", false
	case sameWords(a, b):
		c.fits("%s %s on both sides", what, a)
		return a, true
	}
	if c.Had == "" {
		c.sizes(a, b, "")
	}
	c.no("%s %s against %s: %s", what, a, b, otherwise)
	return "", false
}

// counts judges a number that both sides must share.
func counts(c *check, m Meeting, dimA, dimB, what, otherwise string) {
	a, okA := c.count(m.A, dimA)
	b, okB := c.count(m.B, dimB)
	switch {
	case !okA || !okB:
	case a == b:
		c.fits("%d %s", a, what)
	default:
		if c.Had == "" {
			c.sizes(fmt.Sprintf("%d %s", a, what), fmt.Sprintf("%d %s", b, what), "")
		}
		c.no("%d %s against %d: %s", a, what, b, otherwise)
	}
}

// amount reads a measured value of any type and asks for it when it is absent;
// peekAmount does not ask.
func amount(c *check, s Side, dim string, t measure.Type) (span, bool) {
	v, ok := c.read(s, dim, t)
	return spanOf(v.Quantity), ok
}

func peekAmount(c *check, s Side, dim string, t measure.Type) (span, bool) {
	v, ok := c.peek(s, dim, t)
	return spanOf(v.Quantity), ok
}

// either reports whether a dimension is given on one side at least: then it must
// be given on both.
func either(m Meeting, dim string) bool {
	return len(m.A.Feature.Dims[dim])+len(m.B.Feature.Dims[dim]) > 0
}

// within says where a value lies against the limits that another allows, as a
// range; single limits allow what lies within slack of them.
func within(s span, limits span, slack float64) lying {
	return s.against(limits.low-slack, limits.high+slack)
}

// volts judges one voltage against another, a battery's 6 V against a lamp's
// 12 V. Meters are read to 1 V.
func volts(c *check, a, b Side, otherwise string) {
	has, okA := amount(c, a, "voltage", measure.Voltage)
	wants, okB := amount(c, b, "voltage", measure.Voltage)
	if !okA || !okB {
		return
	}
	hasText, wantsText := unitText(has, measure.Voltage), unitText(wants, measure.Voltage)
	switch has.minus(wants).against(-1, 1) {
	case inside:
		c.fits("%s on both sides", hasText)
	case astride:
		c.settle(askFor(a, "voltage"), askFor(b, "voltage"))
		c.unknown("%s against %s may be one voltage or not", hasText, wantsText)
	default:
		if c.Had == "" {
			c.sizes(hasText, wantsText, "")
		}
		c.no("%s against %s: %s", hasText, wantsText, otherwise)
	}
}

// unitText prints a value in the unit of its type.
func unitText(s span, t measure.Type) string { return measure.Format(s.nominal, t) }

// rangeText prints limits in the unit of their type.
func rangeText(s span, t measure.Type) string {
	if same(s.low, s.high) {
		return measure.Format(s.low, t)
	}
	return measure.Format(s.low, t) + " to " + measure.Format(s.high, t)
}

// holds reports whether a set of phrases holds one of the given.
func holds(set []string, phrases ...string) bool {
	return slices.ContainsFunc(set, func(s string) bool {
		return slices.ContainsFunc(phrases, func(p string) bool { return sameWords(s, p) })
	})
}

// list is "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// askOf is a measurement on the machine that no feature has: who can tell it,
// and how.
func askOf(s Side, dim, what, gauge, accuracy string) Ask {
	return Ask{Position: s.Position, Part: s.Part, Feature: s.Feature.Name, Dim: dim, What: what, Where: label(s),
		Gauge: gauge, Accuracy: accuracy}
}

// lookAt asks to look at something.
func lookAt(s Side, dim, what string) Ask { return askOf(s, dim, what, graph.ByEye, "as it looks") }

// given reads a value that belongs to the machine and not to a part: the length
// a path needs, the room between two parts. It is asked for when nobody gave it.
func given(c *check, s Side, readings []graph.Reading, ask Ask, t measure.Type) (span, bool) {
	at := place{position: s.Position, part: s.Part, feature: "machine", dim: ask.Dim}
	v, ok := c.value(at, readings, func() Ask { return ask }, t)
	if !ok {
		c.ask(ask)
	}
	return spanOf(v.Quantity), ok
}
