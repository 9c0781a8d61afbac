package queries

import (
	"regexp"
	"strings"
	"testing"

	"matewell/graph"
)

func TestCautions(t *testing.T) {
	if got := CautionsFor(graph.SafetyNone); got != nil {
		t.Errorf("nothing safety-relevant is touched, but: %v", got)
	}
	for _, class := range graph.SafetyClasses() {
		t.Run(string(class), func(t *testing.T) {
			got := CautionsFor(graph.SafetyNone, class, class)
			if len(got) != 3 || got[0].Safety != class {
				t.Fatalf("cautions %v, want one for %s and two for all", got, class)
			}
			all := ""
			for _, c := range got {
				all += c.Text + "\n"
			}
			for _, must := range []string{"second person", "manual", "overrides", "local rules"} {
				if !strings.Contains(all, must) {
					t.Errorf("the cautions don't say %q", must)
				}
			}
			if m := regexp.MustCompile(`\d`).FindString(all); m != "" {
				t.Errorf("a number, %s, in a caution: limits belong to the maker's manual", m)
			}
		})
	}
	order := CautionsFor(graph.SafetyThrottle, graph.SafetyBrake)
	if order[0].Safety != graph.SafetyBrake || order[1].Safety != graph.SafetyThrottle {
		t.Errorf("cautions %v are not in the order of the classes", order)
	}
}
