package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// Whose thread two sources measured differently is not called "fits" for being listed: with
// M8x1 it does not go into the hub, with M8x1.25 it does. Two readings of a length between
// which nothing is decided leave it as it is.
func TestListedAndMeasuredDifferently(t *testing.T) {
	const bolt = "Tarnholt 914.0820"
	for _, tt := range []struct {
		dim, text string
		want      graph.Verdict
	}{
		{"thread", "M8x1", graph.Unknown},
		{"thread", "M8x1.25", graph.Fits},
		{"length", "20.2 mm", graph.Fits},
	} {
		facts := demotest.Facts(t)
		facts.Parts = slices.Clone(facts.Parts)
		i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == bolt })
		p := facts.Parts[i]
		p.Features = slices.Clone(p.Features)
		at := graph.FeatureNamed(p.Features, "thread")
		dims := map[string][]graph.Reading{}
		for name, readings := range p.Features[at].Dims {
			dims[name] = readings
		}
		dims[tt.dim] = append(slices.Clone(dims[tt.dim]),
			graph.Reading{Text: tt.text, Cite: graph.Cite{Source: "bench-notes"}})
		p.Features[at].Dims = dims
		facts.Parts[i] = p
		a, err := swap.Fits(t.Context(), once.New(readertest.New(facts)), fits.FitsQuestion{Part: bolt,
			On: "skerry-620/2003/eu/late"})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range a.Rows {
			if row.Verdict != tt.want {
				t.Errorf("%s %s: %s is %s (%s), want %s", tt.dim, tt.text, row.Position, row.Verdict, row.Why, tt.want)
			}
		}
		if len(a.Rows) == 0 {
			t.Error("no row")
		}
	}
}
