package graph_test

import (
	"testing"

	"matewell/graph"
)

// TestHeadsThatSeatAlike: a flat head goes where another flat one goes; one in a cone
// does not, and of one that is not known nobody can say. Common practice, no source.
func TestHeadsThatSeatAlike(t *testing.T) {
	kind, _ := graph.FeatureKindNamed("male-thread")
	head, _ := kind.Dim("head")
	for _, tt := range []struct {
		was, now string
		alike    bool
	}{
		{"hexagon flange", "hexagon", true}, {"socket", "button", true},
		{"hexagon", "countersunk", false}, {"countersunk socket", "socket", false}, {"hexagon", "eyelet", false},
		{"", "hexagon", false}, {"hexagon", "another than hexagon", false}, {"hexagon", "hexagon, conical under it", false},
		{"low socket cap", "hexagon", true}, {"socket-head", "hexagon", true}, {"internal hexagon", "hexagon flange", true},
		{"socket-head, countersunk", "hexagon", false},
	} {
		if got := head.Alike(tt.was, tt.now) != ""; got != tt.alike {
			t.Errorf("%q for %q: alike %v, want %v", tt.now, tt.was, got, tt.alike)
		}
	}
	for _, name := range []string{"male-thread", "female-thread"} {
		k, _ := graph.FeatureKindNamed(name)
		if flats, _ := k.Dim("across-flats"); flats.Decides() {
			t.Errorf("%s: a spanner size decides", name)
		}
	}
}
