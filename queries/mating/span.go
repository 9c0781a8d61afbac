package mating

import (
	"math"

	"matewell/graph/measure"
)

// span is a number with the limits its tolerance allows, in mm unless said
// otherwise.
type span struct{ nominal, low, high float64 }

// eps swallows rounding errors of sums of decimal fractions, in mm.
const eps = 1e-6

func exact(v float64) span { return span{v, v, v} }

func spanOf(q measure.Quantity) span { return span{q.Nominal, q.Low, q.High} }

func (s span) plus(t span) span {
	return span{s.nominal + t.nominal, s.low + t.low, s.high + t.high}
}

func (s span) minus(t span) span {
	return span{s.nominal - t.nominal, s.low - t.high, s.high - t.low}
}

func (s span) times(k float64) span {
	low, high := s.low*k, s.high*k
	return span{s.nominal * k, min(low, high), max(low, high)}
}

// toleranced reports whether the limits lie apart.
func (s span) toleranced() bool { return s.high-s.low > eps }

// lying is where a span lies against a range.
type lying int

const (
	inside  lying = iota // inside, limits and all
	below                // below, limits and all
	above                // above, limits and all
	astride              // the limits reach both inside and outside
)

// noLimit is the end of a range that has none, in any unit. It isn't infinity
// because differences are taken of it.
const noLimit = 1e9

// against says where the span lies against the range low to high, both ends
// being inside.
func (s span) against(low, high float64) lying {
	switch {
	case s.low >= low-eps && s.high <= high+eps && s.nominal >= low-eps && s.nominal <= high+eps:
		return inside
	case max(s.high, s.nominal) < low-eps:
		return below
	case min(s.low, s.nominal) > high+eps:
		return above
	}
	return astride
}

// same reports whether two numbers are equal but for rounding.
func same(a, b float64) bool { return math.Abs(a-b) <= eps }

// mm prints a length for an answer.
func mm(v float64) string { return measure.Format(v, measure.Length) }

// tenth prints a length to 0.1 mm, as one would make it.
func tenth(v float64) string { return mm(math.Round(v*10) / 10) }

// mmRange prints "20-24 mm", or one length when both ends are the same.
func mmRange(low, high float64) string {
	if same(low, high) {
		return mm(low)
	}
	if low < 0 || high < 0 {
		return mm(low) + " to " + mm(high)
	}
	return measure.Quantity{Type: measure.Length, Low: low, High: high,
		Nominal: (low + high) / 2, Range: true, Unit: "mm"}.String()
}
