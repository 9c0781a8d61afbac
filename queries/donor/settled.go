package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// AsBefore is a connection that a plan touches and leaves as it was, though it was
// not right before.
type AsBefore struct {
	At      string        `json:"at"` // "joint lever-in-master"
	Verdict graph.Verdict `json:"verdict"`
	Why     string        `json:"why"`
}

// asBefore are those of the outcomes that are excused, in their order.
func asBefore(outcomes []examine.Outcome) []AsBefore {
	var left []AsBefore
	for _, o := range outcomes {
		if !examine.IsOfPart(o) && o.After != graph.Fits && isSettled(o) {
			left = append(left, AsBefore{At: o.What + " " + queries.LocalName(o.ID), Verdict: o.After, Why: o.Why})
		}
	}
	return left
}

// isSettled reports whether an outcome asks for nothing: it fits, or each of its
// checks was at least as bad before. Where a place was empty and is filled, nothing
// was there that could have been as bad.
func isSettled(o examine.Outcome) bool {
	if o.After == graph.Fits {
		return true
	}
	return o.After <= stood(o) &&
		!slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return !mating.Excused(c, o.Was) })
}

// stood is how something stood before: it fits, for this, where there was
// nothing to judge and now there is.
func stood(o examine.Outcome) graph.Verdict {
	if examine.HasAbsent(o.Was) && !examine.HasAbsent(o.Checks) {
		return graph.Fits
	}
	return o.Before
}
