package donor_test

import (
	"maps"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestNoPlanWithWhatIsWorn: a chain as the one built in goes on; one that is drawn out
// beyond its own limit is in no plan that comes to anything but a no. The limits are
// invented.
func TestNoPlanWithWhatIsWorn(t *testing.T) {
	const on = "skerry-620/2005/eu"
	facts := demotest.Facts(t)
	fitted := facts.Fitments[slices.IndexFunc(facts.Fitments, func(f graph.Fitment) bool {
		return f.Position.Local() == "final-drive/chain" && slices.Contains(f.On, on)
	})]
	at := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == fitted.Part })
	link := slices.IndexFunc(facts.Parts[at].Features, func(f graph.Feature) bool { return f.Kind == "chain" })
	for _, tt := range []struct {
		name, span, most string
		worn             bool
	}{
		{"within its limit", "320 mm", "323 mm", false}, {"near miss: at it", "323 mm", "323 mm", false},
		{"drawn out", "330 mm", "323 mm", true}, {"of no limit recorded", "330 mm", "", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			part := facts.Parts[at]
			part.ID = "Tarnholt other"
			part.Features = slices.Clone(part.Features)
			dims := maps.Clone(part.Features[link].Dims)
			dims["span"] = []graph.Reading{{Text: tt.span}}
			if delete(dims, "most-span"); tt.most != "" {
				dims["most-span"] = []graph.Reading{{Text: tt.most}}
			}
			part.Features[link].Dims = dims
			changed := facts
			changed.Parts = append(slices.Clone(facts.Parts), part)
			a, err := donor.Donor(t.Context(), readertest.New(changed), donor.DonorQuestion{On: on,
				Swaps: []swap.Replacement{{Position: "final-drive/chain", Part: string(part.ID)}}})
			if err != nil {
				t.Fatal(err)
			}
			if (len(a.Plans) == 0) != tt.worn {
				t.Errorf("%d plans, %s: %v; want worn %t", len(a.Plans), a.Outcome, a.Notes, tt.worn)
			}
		})
	}
}
