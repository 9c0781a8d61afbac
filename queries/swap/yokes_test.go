package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/readertest"
)

// TestYokesWithoutJoint: two yokes of one fork are held against one another, also where
// nobody wrote a joint between them. Common practice, no source: both have one offset.
func TestYokesWithoutJoint(t *testing.T) {
	facts := demotest.Facts(t)
	facts.Joints = lists.Kept(slices.Clone(facts.Joints), func(j graph.Joint) bool {
		return j.A.Feature != "offset" || j.B.Feature != "offset"
	})
	facts.Parts = slices.Clone(facts.Parts)
	offsets := map[graph.PartID]string{"Tarnholt 92021": "37 mm", "Tarnholt 92022": "35.2 mm", "Tarnholt 92023": "34.5 mm",
		"Tarnholt 92025": "35 mm"}
	for id, offset := range offsets {
		yoke := facts.Parts[slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == "Tarnholt 202.4004" })]
		yoke.ID, yoke.Features = id, slices.Clone(yoke.Features)
		at := slices.IndexFunc(yoke.Features, func(f graph.Feature) bool { return f.Kind == "yoke-offset" })
		dims := map[string][]graph.Reading{}
		for dim, readings := range yoke.Features[at].Dims {
			dims[dim] = slices.Clone(readings)
		}
		dims["offset"][0].Text = offset
		yoke.Features[at].Dims = dims
		facts.Parts = append(facts.Parts, yoke)
	}
	r := readertest.New(facts)
	for id, want := range map[string]graph.Verdict{"Tarnholt 92021": graph.DoesNotFit, "Tarnholt 92022": graph.Fits,
		"Tarnholt 92023": graph.DoesNotFit, "Tarnholt 92025": graph.Fits} {
		a := swapped(t, r, "skerry-620/2003/eu/late", []string{"yokes/lower=" + id})
		all := slices.Concat(a.Mates, a.Unknown, a.DoesNotMate)
		judged := slices.ContainsFunc(all, func(o examine.Outcome) bool {
			return o.What == examine.OfYokes && o.After == want
		})
		if !judged || a.Verdict != want {
			t.Errorf("%s of offset under 35 mm: %s, want %s", offsets[graph.PartID(id)], a.Verdict, want)
		}
	}
}
