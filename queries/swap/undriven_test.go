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

// A machine whose speedometer nothing drives any more says so, whichever of its cable, drive, sensor and
// clocks is off, and is not ready to ride: each must have one (UN Regulation 39, from memory). One whose
// cable is changed for another, and one that loses something else, says nothing of it.
func TestSpeedometerThatNothingDrives(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for _, tt := range []struct {
		on, at, part string
		want         bool
	}{
		{"skerry-620/2002/eu", "instruments/speedo-cable", swap.NoPart, true},
		{"skerry-620/2002/eu", "front-wheel/speedo-drive", swap.NoPart, true},
		{"skerry-620/2002/eu", "instruments/clocks", swap.NoPart, true},
		{"skerry-620/2005/eu", "instruments/speed-sensor", swap.NoPart, true},
		{"skerry-620/2002/eu", "electrics/horn", swap.NoPart, false},
		{"skerry-620/2002/eu", "instruments/speedo-cable", "Tarnholt 403.4036", false},
	} {
		change := swap.Replacement{Position: tt.at, Part: tt.part}
		a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: tt.on, Swaps: []swap.Replacement{change}})
		if err != nil {
			t.Errorf("%s: %v", tt.at, err)
			continue
		}
		says := slices.ContainsFunc(a.Unknown, func(o examine.Outcome) bool {
			return o.What == examine.OfRoad && strings.Contains(o.Why, "speedometer")
		})
		if says != tt.want || says && (a.Ready || a.Verdict < graph.Unknown) {
			t.Errorf("%s of %s off: told %v, ready %v, %s", tt.at, tt.on, says, a.Ready, a.Verdict)
		}
	}
}
