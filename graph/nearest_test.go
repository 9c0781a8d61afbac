package graph_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
)

func TestNearest(t *testing.T) {
	names := []string{"caliper-left", "caliper-right", "hose", "house", "nose", "disc", "207.4418b/kr", "207.4419",
		"calliper-left"}
	tests := []struct {
		name string
		word string
		n    int
		want []string
	}{
		{"one letter too many", "calipper-left", 1, []string{"caliper-left"}},
		{"all within two, closest first", "calipperleft", 5, []string{"caliper-left", "calliper-left"}},
		{"at most n", "calipperleft", 1, []string{"caliper-left"}},
		{"short word: one letter only", "hosf", 5, []string{"hose"}},
		{"short word: two letters are too many", "hxxe", 5, nil},
		{"short word: two neighbours changed places", "hsoe", 5, []string{"hose"}},
		{"short word: two that are not neighbours", "eosh", 5, nil},
		{"swapped counts as one", "caliper-lfet", 2, []string{"caliper-left"}},
		{"equally close in order", "rose", 5, []string{"hose", "nose"}},
		{"case and separators don't count", "207-4418 B KR", 5, []string{"207.4418b/kr"}},
		{"three letters", "calxxxr-left", 5, nil},
		{"the word itself", "disc", 5, nil},
		{"none asked for", "hosf", 0, nil},
		{"fewer than none", "hosf", -1, nil},
		{"nothing typed", "", 5, nil},
		{"separators typed", "--", 5, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := graph.Nearest(tt.word, names, tt.n); !slices.Equal(got, tt.want) {
				t.Errorf("Nearest(%q) = %q, want %q", tt.word, got, tt.want)
			}
		})
	}
	if got := graph.Nearest("hosf", []string{"hose", "hose"}, 5); len(got) != 1 {
		t.Errorf("a name came twice: %q", got)
	}
}

// The order of the names does not change the answer.
func TestNearestDoesNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOf(rapid.StringMatching(`[ab]{1,5}`)).Draw(t, "names")
		word := rapid.StringMatching(`[ab]{1,5}`).Draw(t, "word")
		want := graph.Nearest(word, names, 3)
		shuffled := rapid.Permutation(names).Draw(t, "shuffled")
		if got := graph.Nearest(word, shuffled, 3); !slices.Equal(got, want) {
			t.Fatalf("%q near %q in %q, but %q in %q", got, word, shuffled, want, names)
		}
	})
}
