package swap

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// worstOf is the worst of all that was judged, and no verdict when that is
// nothing.
func worstOf(outcomes []examine.Outcome, numbers []examine.Number) graph.Verdict {
	worst := graph.NoVerdict
	for _, o := range outcomes {
		worst = worst.Worst(o.After)
	}
	for _, n := range numbers {
		worst = worst.Worst(n.Verdict)
	}
	return worst
}

// leftVerdict is the verdict over what is left once everything was put right that can
// be: it fits when that is nothing.
func leftVerdict(left []examine.Outcome, numbers []examine.Number) graph.Verdict {
	return graph.Fits.Worst(worstOf(left, numbers))
}

// NotReady says what stands against riding: everything of a safety class that is
// unknown or does not fit, or fits only after work (see examine.Outcome.HasWork).
func NotReady(outcomes []examine.Outcome, numbers []examine.Number) []Hindrance {
	var all []Hindrance
	for _, o := range outcomes {
		if o.IsOpen() {
			all = append(all, hindranceOf(o))
		}
	}
	for _, n := range numbers {
		if (n.Verdict == graph.Unknown || n.Verdict == graph.DoesNotFit) && n.Safety != graph.SafetyNone {
			all = append(all, Judged(n.Verdict, n.Name+" of "+queries.LocalName(n.About), n.Words))
		}
	}
	return all
}

func hindranceOf(o examine.Outcome) Hindrance {
	return Judged(o.After, o.What+" "+queries.LocalName(o.ID), o.Why)
}

// Hindrance is one thing that stands against riding. It is printed as a sentence.
type Hindrance struct {
	What string // "joint caliper-left-on-leg (unknown)"
	Why  string // empty for an empty place, which What says all of
	// Verdict is what it was judged as: "fits with changes" where nothing but work is to
	// be done. There is none for what nobody judged, as an empty place.
	Verdict graph.Verdict
}

// Judged is that something was judged as it must not be.
func Judged(v graph.Verdict, what, why string) Hindrance {
	return Hindrance{What: fmt.Sprintf("%s (%s)", what, v), Why: why, Verdict: v}
}

// NothingAt is that a place stands empty which must not.
func NothingAt(at graph.PositionID) Hindrance { return Hindrance{What: at.Local() + " is empty"} }

// ByEye is that a part out of a box, of which nobody read the number or took the measures,
// is to go to a place.
func ByEye(at graph.PositionID, part graph.PartID) Hindrance {
	return Judged(graph.Unknown, "part for "+at.Local(), string(part)+
		" out of a box was identified by eye only: read its number, or measure it")
}

// IsEmpty reports whether a place stands empty.
func (a Hindrance) IsEmpty() bool { return a.Verdict == graph.NoVerdict }

// IsWork reports whether nothing is wrong or unknown, and work is to be done.
func (a Hindrance) IsWork() bool { return a.Verdict == graph.FitsWithChanges }

// String is the whole sentence.
func (a Hindrance) String() string {
	if a.Why == "" {
		return a.What
	}
	return a.What + ": " + a.Why
}

// MarshalText is String, which JSON has.
func (a Hindrance) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// MadeFirst says what of what is to be got must be made, or ordered by its sizes, for
// something of a safety class: nobody rides before it was measured.
func MadeFirst(gets []Get, outcomes []examine.Outcome) []Hindrance {
	texts := []string{}
	for _, g := range gets {
		if g.IsOrdered() && slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
			return len(o.Safety) > 0 && g.doesClose(o)
		}) {
			texts = append(texts, g.Text)
		}
	}
	return lists.Mapped(lists.Unique(texts), func(text string) Hindrance {
		return Judged(graph.FitsWithChanges, text, "to be made or got by its sizes, and measured, before anyone rides")
	})
}

// cautions are the warnings for what the change touches: its safety classes, also
// by what a figure comes to, and lamps; and for further classes.
func cautions(
	x *judging, outcomes []examine.Outcome, numbers []examine.Number, also ...graph.Safety,
) []queries.Caution {
	var featureKinds []string
	for _, id := range x.After.Changed() {
		featureKinds = slices.Concat(featureKinds, x.Before.FeatureKindsAt(id), x.After.FeatureKindsAt(id))
	}
	return queries.CautionsAbout(featureKinds, append(append(safetyTouched(x, outcomes), also...),
		lists.Mapped(numbers, func(n examine.Number) graph.Safety { return n.Safety })...)...)
}

func safetyTouched(x *judging, outcomes []examine.Outcome) []graph.Safety {
	var classes []graph.Safety
	for _, id := range x.After.Changed() {
		classes = append(classes, x.After.Seat(id).Position.Safety)
	}
	for _, o := range outcomes {
		classes = append(classes, o.Safety...)
	}
	return classes
}
