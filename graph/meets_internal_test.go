package graph

import "testing"

// A pair that a rule judges is not among those that none judges, and all name
// kinds of feature.
func TestUnjudgedPairs(t *testing.T) {
	seen := map[[2]string]bool{}
	for _, p := range unjudged {
		if HowMeet(p[0], p[1]) != NoRule {
			t.Errorf("a rule judges %q by now: take the pair out of unjudged", p)
		}
		for _, name := range p {
			if _, ok := FeatureKindNamed(name); !ok {
				t.Errorf("%q is no kind of feature", name)
			}
		}
		if seen[p] || seen[[2]string{p[1], p[0]}] && p[0] != p[1] {
			t.Errorf("%q stands there twice", p)
		}
		seen[p] = true
	}
}
