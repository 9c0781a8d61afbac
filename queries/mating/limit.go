package mating

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// thinnerBy is how much thinner than the shaft built in another may measure before it
// is a thinner one, in mm: wear, and the classes of fit of one nominal size, lie
// within. Common practice, no source.
const thinnerBy = 0.1

// limit takes back what a rule offers to make where making it is no remedy: between
// two that meet directly, where it would hide that a shaft is weaker than the one
// built in, and in what carries the steering.
func limit(b *bench, m Meeting) {
	for _, c := range b.checks {
		if !isMade(c.Orders, "sleeve", "bush", "bracket", "adapter", "bearing") {
			continue
		}
		_, _, weak := weaker(c, m)
		switch {
		case m.Direct && isMade(c.Orders, "sleeve", "bush", "bracket", "adapter"):
			c.refuse(graph.DoesNotFit, "nothing is made to go between them")
		case weak && m.Safety != graph.SafetyNone:
			thin(c, m)
		case m.Steers && isMade(c.Orders, "sleeve"): // an eye may well have a bush
			c.settle(askOf(m.A, "allowed", "sleeve that the maker allows", "the maker's word", "in writing"))
			c.refuse(graph.DoesNotFit, "a sleeve in what carries the steering is not done: only the maker can say")
		}
	}
}

// thin says that a shaft is thinner than the one built in, and so that nothing is made to
// have it fill its place. How thin it may be is said by no rule: not thinner than what was
// built is the only limit.
func thin(c *check, m Meeting) {
	side, was, _ := weaker(c, m)
	c.settle(askOf(side, "allowed", "least diameter that the maker allows", "the maker's word", "in writing"))
	c.refuse(graph.DoesNotFit, "thinner than the "+mm(was)+" that was built in: strength goes with the cube of the "+
		"diameter; only the maker can say")
}

// isMade reports whether one of some sorts is ordered.
func isMade(orders []Order, sorts ...string) bool {
	return slices.ContainsFunc(orders, func(o Order) bool { return slices.Contains(sorts, o.Kind) })
}

// weaker is the side whose shaft, tube or bolt is thinner than the one built in at its
// place, with the diameter of that; false where none is, or nobody knows.
func weaker(c *check, m Meeting) (Side, float64, bool) {
	for _, side := range []Side{m.A, m.B} {
		now, okNow := thickness(c, side)
		for _, was := range builtSides(m) {
			if was.Position != side.Position || was.isSame(side) || was.Feature.Kind != side.Feature.Kind {
				continue
			}
			if built, ok := thickness(c, was); ok && okNow && now.high < built.low-thinnerBy+eps {
				return side, built.nominal, true
			}
		}
	}
	return Side{}, 0, false
}

// Thinner reports whether one diameter is less than another by more than wear and the
// classes of fit of one nominal size.
func Thinner(was, now graph.Reading) bool {
	built, errBuilt := measure.ParseQuantity(was.Text, measure.Length)
	is, err := measure.ParseQuantity(now.Text, measure.Length)
	return errBuilt == nil && err == nil && is.High < built.Low-thinnerBy+eps
}

func builtSides(m Meeting) []Side {
	if m.Built == nil {
		return nil
	}
	return []Side{m.Built.A, m.Built.B}
}

// thickness is the diameter of what goes through others, in mm; false for anything
// else.
func thickness(c *check, s Side) (span, bool) {
	switch s.Feature.Kind {
	case "shaft", "tube":
		return c.peekLength(s, "diameter")
	case "clevis":
		return c.peekLength(s, "bolt")
	case "male-thread":
		if d, ok := c.peekLength(s, "shank"); ok {
			return d, true
		}
		t, ok := c.peek(s, "thread", measure.Thread)
		return exact(t.Thread.Nominal), ok
	}
	return span{}, false
}

// HalvesCase is a clamp that is made of two parts: a yoke or riser, and its cap.
type HalvesCase struct {
	A, B   Side // kind clamp
	Safety graph.Safety
}

// JudgeHalves judges, in one check "clamp halves", whether both halves of a clamp are
// bored alike: else the bar is held on edges. Common practice, no source.
func JudgeHalves(in HalvesCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("clamp halves")
		one, okOne := c.length(in.A, "diameter")
		other, okOther := c.length(in.B, "diameter")
		if !okOne || !okOther {
			return
		}
		diff := one.minus(other)
		c.sizes(mm(one.nominal), mm(other.nominal), mm(math.Abs(diff.nominal)))
		switch where := diff.against(-clampMatch, clampMatch); {
		case where == inside || same(diff.nominal, 0):
			c.Gap = ""
			c.fits("both halves are bored %s", mm(one.nominal))
		case where == astride:
			askTwo(c, Meeting{A: in.A, B: in.B}, "diameter", "diameter")
			c.unknown("at the limits of their tolerances the halves of the clamp may not be bored alike")
		default:
			c.no("one half of the clamp is bored %s, the other %s: they hold on edges, and a sleeve does not lie in one "+
				"half", mm(one.nominal), mm(other.nominal))
		}
	})
}
