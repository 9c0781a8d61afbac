package main

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/swap"
)

// TestHeadingCountsWhatStandsBelow: the head of a machine's card counts what is unknown with what
// does not fit, and says of the list below it which of the two stands there; where all of it does
// not fit, the list needs no heading of its own.
func TestHeadingCountsWhatStandsBelow(t *testing.T) {
	no, open := swap.Judged(graph.DoesNotFit, "joint a", "too wide"), swap.Judged(graph.Unknown, "joint b", "not known")
	tests := []struct {
		name string
		all  []swap.Hindrance
		want string
		kept int // lines that name one
	}{
		{"one of two does not fit", []swap.Hindrance{no, open}, "This one does not fit:", 1},
		{"two of three do not", []swap.Hindrance{no, open, no}, "Of these do not fit:", 2},
		{"all do not", []swap.Hindrance{no, no}, "", 2},
		{"none does not", []swap.Hindrance{open}, "", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			lines := cardLines(bike.BikeCard{BikeLine: bike.BikeLine{Bike: "own"}, NotReady: tt.all})
			at := slices.IndexFunc(lines, func(l string) bool { return strings.HasSuffix(l, "fit:") })
			if tt.want == "" && at >= 0 || tt.want != "" && (at < 0 || lines[at] != tt.want) {
				t.Errorf("heading of the list: %q, want %q", lines, tt.want)
			}
			named := 0
			for _, l := range lines {
				if strings.HasPrefix(l, "  joint") {
					named++
				}
			}
			if named != tt.kept {
				t.Errorf("%d are named, want %d: %q", named, tt.kept, lines)
			}
		})
	}
}

// TestSheetSaysHowManyAreSafetyRelevant: the head of a machine's sheet counts apart what safety
// hangs on and what it does not, as many in all as rows stand below it.
func TestSheetSaysHowManyAreSafetyRelevant(t *testing.T) {
	rows := []bike.MissingRow{{Position: "m:a/lever", Safety: graph.SafetyBrake},
		{Position: "m:a/axle", Safety: graph.SafetyWheel}, {Position: "m:a/mirror"}}
	s := bikeSheet(bike.BikeCard{}, bike.BikeMissingAnswer{Rows: rows}, bike.BikeBagsAnswer{})
	want := []string{"Not ready to ride: 2 safety-relevant places are empty or wait for a part.",
		"1 place is empty or waits for a part, and no safety hangs on it."}
	if !slices.Equal(s.State, want) {
		t.Errorf("head %q, want %q", s.State, want)
	}
}
