package fits

import (
	"matewell/graph"
	"matewell/queries/evidence"
)

// judgements remembers what claims came to at each place. What a list says once of
// twenty years of a model is weighed once, and not for each of them.
type judgements map[place][]*judged

// place is a part where it sits, on whatever variant.
type place struct {
	part     graph.PartID
	position graph.PositionID
}

// judged is what claims came to.
type judged struct {
	claims  []evidence.Claim
	covered []bool // by which of the sources that are limited to some machines the variant is covered
	evidence.Judgement
}

// sameButVariant reports whether two claims were made of one, for two variants.
func sameButVariant(a, b evidence.Claim) bool {
	return a.Via == b.Via && a.Verdict == b.Verdict && a.Why == b.Why && a.Frames == b.Frames &&
		a.Quantity == b.Quantity && a.Scheme == b.Scheme && a.Hops == b.Hops &&
		isSameList(a.Links, b.Links) && isSameList(a.Changes, b.Changes)
}

// isSameList reports whether two lists are one and the same in memory.
func isSameList[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
