package fits_test

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/readertest"
)

// TestWhatGaveWayToAKitStaysOut: a part that gave way to a kit may no more go back in the
// place of what the kit holds of its kind than in that of a single newer part. Old
// clutch spring, new plates and springs together: from the demo's list of supersessions.
func TestWhatGaveWayToAKitStaysOut(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	for _, test := range []struct {
		part, on, place string
		want            graph.Verdict
		via             evidence.Via
	}{
		{"107.3005", "skerry-620/2005/eu", "clutch/springs", graph.DoesNotFit, evidence.ViaKit},
		{"401.4006", "skerry-620/2003/eu/late", "electrics/loom", graph.DoesNotFit, evidence.ViaSupersession},
		{"105.3006", "skerry-620/2005/eu", "exhaust/gasket-1", graph.Unknown, evidence.ViaKit},  // nobody states it
		{"209.4005", "skerry-620/2005/eu", "final-drive/chain", graph.Fits, evidence.ViaListed}, // it is in the kit itself
		{"107.3005", "fjeld-750/2005/eu", "clutch/springs", graph.NoVerdict, ""},                // another set of springs
	} {
		for _, q := range []fits.FitsQuestion{
			{Part: test.part, On: test.on, Position: test.place}, {On: test.on, Position: test.place},
		} {
			a, err := fits.Said(t.Context(), r, q)
			if err != nil {
				t.Fatal(err)
			}
			got, via := graph.NoVerdict, evidence.Via("")
			for _, row := range a.Rows {
				if strings.HasSuffix(string(row.Part), test.part) {
					got, via = row.Verdict, row.Via
				}
			}
			if got != test.want || via != test.via {
				t.Errorf("%s at %s of %s, asked of the part %v: %s by %q, want %s by %q", test.part, test.place, test.on,
					q.Part != "", got, via, test.want, test.via)
			}
		}
	}
}
