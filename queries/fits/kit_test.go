package fits_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/readertest"
)

// TestKitFitsWithAllItHolds: a kit is a bare fit only where everything in it is listed
// for the machine, or where it is meant for the machine as a whole.
func TestKitFitsWithAllItHolds(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	for _, test := range []struct {
		kit, on string
		want    graph.Verdict
		open    bool
	}{
		{"500.4057", "skerry-620/2003/eu/late", graph.Fits, false}, // a job names it for these years
		{"500.4057", "skerry-620/2005/eu", graph.Unknown, true},    // its seals are for other pistons
		{"500.4059", "fjeld-750/2003/eu", graph.Unknown, true},     // the same washers, another master cylinder
		{"500.4033", "fjeld-750/2003/eu", graph.Fits, false},       // nothing but washers
		{"500.4084", "skerry-620/2005/eu", graph.Fits, false},      // bearings and seals, all listed
	} {
		a, err := fits.Said(t.Context(), r, fits.FitsQuestion{Part: test.kit, On: test.on})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Rows) == 0 || slices.ContainsFunc(a.Rows, func(row fits.FitsRow) bool { return row.Verdict != test.want }) {
			t.Errorf("%s on %s: %v, want %s everywhere", test.kit, test.on, a.Verdicts, test.want)
		}
		if a.SafetyOpen() != test.open {
			t.Errorf("%s on %s: open %v, want %v", test.kit, test.on, a.SafetyOpen(), test.open)
		}
	}
}
