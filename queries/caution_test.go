package queries_test

import (
	"regexp"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
)

func TestCautions(t *testing.T) {
	if got := queries.CautionsFor(graph.SafetyNone); got != nil {
		t.Errorf("nothing safety-relevant is touched, but: %v", got)
	}
	for _, class := range graph.SafetyClasses() {
		t.Run(string(class), func(t *testing.T) {
			got := queries.CautionsFor(graph.SafetyNone, class, class)
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
	order := queries.CautionsFor(graph.SafetyThrottle, graph.SafetyBrake)
	if order[0].Safety != graph.SafetyBrake || order[1].Safety != graph.SafetyThrottle {
		t.Errorf("cautions %v are not in the order of the classes", order)
	}
}

// What local rules decide about lamps is common practice, no source; UN R37 and
// the like say which bulb is which, not where it may be used.
func TestLampCautions(t *testing.T) {
	tests := []struct {
		name  string
		kinds []string
		want  []string // in the first warning
		other string   // not in it
		count int
	}{
		{"a dipped beam", []string{"connector", "beam", "lamp-holder"},
			[]string{"local rules", "beam", "approval mark", "aim"}, "", 3},
		{"a bulb", []string{"lamp-cap"}, []string{"local rules", "bulb", "approval mark"}, "beam", 3},
		{"a lamp without a beam", []string{"lamp-holder", "bolt-pattern"}, []string{"local rules", "approval mark"}, "beam",
			3},
		{"near miss: what lamps are bolted to", []string{"bolt-pattern", "traffic", "connector"}, nil, "", 0},
		{"nothing described", nil, nil, "", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := queries.CautionsAbout(tt.kinds)
			if len(got) != tt.count {
				t.Fatalf("cautions %v, want %d", got, tt.count)
			}
			for _, word := range tt.want {
				if !strings.Contains(got[0].Text, word) {
					t.Errorf("%q does not say %q", got[0].Text, word)
				}
			}
			if tt.other != "" && strings.Contains(got[0].Text, tt.other) {
				t.Errorf("%q says %q", got[0].Text, tt.other)
			}
		})
	}
	if got := queries.CautionsAbout([]string{"beam"}, graph.SafetyBrake); len(got) != 4 ||
		got[0].Safety != graph.SafetyBrake ||
		got[1].Safety != "" {
		t.Errorf("cautions %v, want the brake, the headlamp, and two for all", got)
	}
}

// A lamp is told by its features or those of its kind, whatever it is called.
func TestFeatureKindsOf(t *testing.T) {
	kind := graph.Kind{Features: []graph.KindFeature{{Name: "front", Kind: "beam"},
		{Name: "finish", Kind: "finish", May: true}}}
	part := graph.Part{Features: []graph.Feature{{Name: "plug", Kind: "connector"}}}
	if got := strings.Join(queries.FeatureKindsOf(part, kind), " "); got != "connector beam" {
		t.Errorf("features %q, want what it is described with and what its kind must have", got)
	}
}
