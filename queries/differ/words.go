package differ

import (
	"matewell/graph"
)

// ease is how readily a part goes on the other machine.
type ease int

const (
	asItIs      ease = iota // fits
	withChanges             // with hand tools: companions, a plug
	withWork                // with drill, lathe or welding torch: not interchange
	notAtAll
	notKnown
)

func easeOf(d *Direction) ease {
	switch d.Verdict {
	case graph.Fits:
		return asItIs
	case graph.FitsWithChanges:
		for _, c := range d.Changes {
			if c.Effort > graph.EffortHandTools {
				return withWork
			}
		}
		return withChanges
	case graph.DoesNotFit:
		return notAtAll
	}
	return notKnown
}

// interchangeOf says both directions in words: "both", "A on B only", "B on A
// only", "neither", "not A on B; the other way unknown", "unknown". ", with changes" stands behind a direction that
// needs some done with hand tools; what takes more than that is no interchange,
// but "with work". A direction that is unknown is said to be.
func interchangeOf(aOnB, bOnA *Direction) string {
	a, b := easeOf(aOnB), easeOf(bOnA)
	changes := ""
	if a == withChanges || b == withChanges {
		changes = ", with changes"
	}
	switch {
	case a <= withChanges && b <= withChanges:
		return "both" + changes
	case a <= withChanges:
		return "A on B" + otherWay(b, changes)
	case b <= withChanges:
		return "B on A" + otherWay(a, changes)
	case a == notAtAll && b == notAtAll:
		return "neither"
	case a == notAtAll && b == notKnown:
		return "not A on B" + otherWay(b, "")
	case b == notAtAll && a == notKnown:
		return "not B on A" + otherWay(a, "")
	case a == notKnown || b == notKnown:
		return "unknown"
	}
	return "neither without work"
}

func otherWay(e ease, changes string) string {
	switch e {
	case withWork:
		return " only" + changes + "; the other way with work"
	case notKnown:
		return changes + "; the other way unknown"
	}
	return " only" + changes
}
