package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// A part that does not go there is not made to fit by putting back what it replaces.
func TestPuttingBackIsNoFit(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for _, tt := range []struct {
		at, asked string
		undone    bool
	}{
		{"front-brake/banjo-bolt-left", "Tarnholt 945.1251", true},
		{"controls/handlebar", "Kellowick KW 2210-bk", false}, // longer lines make it go
	} {
		a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: "skerry-620/2003/eu/late",
			Swaps: []swap.Replacement{{Position: tt.at, Part: tt.asked}}})
		if err != nil || a.Then == nil {
			t.Fatal(tt.asked, err, a.Verdict)
		}
		if isNo := a.Then.Verdict == graph.DoesNotFit && !a.Then.Ready; tt.undone && !isNo || !tt.undone && isNo {
			t.Errorf("%s: %s as it is, with all on %s, ready %v", tt.asked, a.Verdict, a.Then.Verdict, a.Then.Ready)
		}
	}
}
