package fits

import (
	"slices"

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

// judge is what claims about one part at one position of one variant come to.
func (g *ground) judge(claims []evidence.Claim, v *graph.Variant, safety graph.Safety) *judged {
	at, covered := place{claims[0].Part, claims[0].Position}, g.covered(claims, v)
	for _, known := range g.judged[at] {
		if slices.Equal(known.covered, covered) && slices.EqualFunc(known.claims, claims, sameButVariant) {
			return known
		}
	}
	j := &judged{claims, covered, g.Evidence.Judge(claims, v, safety)}
	// What is added to a list of it must not come into those of others.
	j.Against, j.Schemes, j.Steps, j.Others = slices.Clip(j.Against), slices.Clip(j.Schemes), slices.Clip(j.Steps),
		slices.Clip(j.Others)
	g.judged[at] = append(g.judged[at], j)
	return j
}

// covered tells of each cited source that is limited to some machines whether the
// variant is one of them: nothing else of a variant counts when voices are ranked.
func (g *ground) covered(claims []evidence.Claim, v *graph.Variant) []bool {
	var covered []bool
	for _, c := range claims {
		for _, l := range c.Links {
			for _, cite := range l.Cites {
				if s, ok := g.Evidence.Sources[cite.Source]; ok && !s.Scope.IsZero() {
					covered = append(covered, s.Scope.Covers(*v))
				}
			}
		}
	}
	return covered
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
