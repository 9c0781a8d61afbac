package swap_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// What somebody could not fit, without a measure of what did not agree, stays refused on the machine that it
// was tried on, also with its own pads; on the leg that it is bolted to where it comes from, it was never tried.
func TestWordLapsesWithWhatItIsBoltedTo(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for _, tt := range []struct {
		name  string
		swaps []swap.Replacement
		want  bool // the finding stands
	}{
		{"alone", nil, true},
		{"near miss: with its pads",
			[]swap.Replacement{{Position: "front-brake/pads-left", Part: "Tarnholt 207.7027"}}, true},
		{"with its leg", []swap.Replacement{{Position: "fork/leg-left", Part: "Tarnholt 203.7009"}}, false},
	} {
		swaps := append([]swap.Replacement{{Position: "front-brake/caliper-left", Part: "Tarnholt 207.7430"}}, tt.swaps...)
		a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: "skerry-620/2005/eu", Swaps: swaps})
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		stands := slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool {
			return o.What == examine.OfWord && strings.Contains(o.Why, "Radial feet")
		})
		if stands != tt.want || stands && a.Verdict != graph.DoesNotFit {
			t.Errorf("%s: the finding stands: %v, %s", tt.name, stands, a.Verdict)
		}
	}
}
