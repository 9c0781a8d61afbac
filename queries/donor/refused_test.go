package donor_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/machine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestPlaceHasOnePart: a bolt that was asked for by its place goes in, or there is no
// plan and it is said that it does not and what would go there; nothing is chosen to
// suit it then. One of an unknown thread is neither refused nor safe.
func TestPlaceHasOnePart(t *testing.T) {
	const on = "skerry-620/2004/eu"
	facts := demotest.Facts(t)
	bolt, at := banjoBolt(t, facts, on)
	thread := machine.BestText(bolt.Features[0], "thread")
	other := map[string]string{"M10x1": "M10x1.25", "M10x1.25": "M10x1"}[thread]
	if other == "" {
		t.Fatalf("a banjo bolt %q: no near miss of it is known to the test", thread)
	}
	for _, tt := range []struct {
		name          string
		thread        []graph.Reading
		refused, safe bool
	}{
		{"as the one built in", []graph.Reading{{Text: thread}}, false, true},
		{"near miss: of another pitch", []graph.Reading{{Text: other}}, true, false},
		{"of no thread recorded", nil, false, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			part := bolt
			part.ID = "Tarnholt other"
			part.Features = slices.Clone(part.Features)
			part.Features[0].Dims = maps.Clone(part.Features[0].Dims)
			part.Features[0].Dims["thread"] = tt.thread
			changed := facts
			changed.Parts = append(slices.Clone(facts.Parts), part)
			a, err := donor.Donor(t.Context(), readertest.New(changed), donor.DonorQuestion{On: on,
				Swaps: []swap.Replacement{{Position: at.Local(), Part: string(part.ID)}}})
			if err != nil {
				t.Fatal(err)
			}
			if tt.refused {
				said := fmt.Sprint(a.Notes)
				if len(a.Plans) > 0 || !strings.Contains(said, at.Local()+" does not go in") {
					t.Errorf("%d plans, %s: %s", len(a.Plans), a.Outcome, said)
				}
				return
			}
			if len(a.Plans) == 0 {
				t.Fatalf("no plan: %s", a.Outcome)
			}
			p := a.Plans[0]
			comesOn := slices.ContainsFunc(slices.Concat(p.Take, p.Get),
				func(part donor.DonorPart) bool { return part.Position == at })
			if !comesOn || len(p.Refused) > 0 || a.Safe() != tt.safe {
				t.Errorf("comes on %v, refused %v, safe %v: %+v; want safe %v", comesOn, p.Refused, a.Safe(), p.Swap.Then, tt.safe)
			}
		})
	}
}

// TestKeptIsNotOrderedAnew: a spacer that is kept is not ordered in another width, and
// one that was asked for is not replaced by one that is made. The first search is long, so
// that it is made where all is to be tried.
func TestKeptIsNotOrderedAnew(t *testing.T) {
	questions := []donor.DonorQuestion{
		{Take: []string{"rear-wheel/spacer-left"}},
		{Take: []string{"front-wheel/wheel"}, Keep: []string{"front-wheel/spacer-left"}},
	}
	for _, q := range questions[:sampletest.Of(t, 1, 2)] {
		q.On, q.From = "skerry-620/2003/eu/late", "fjeld-750/2003/eu"
		a := answered(t, q)
		at := append(slices.Clone(q.Keep), q.Take...)[0]
		for _, p := range a.Plans {
			for _, g := range p.Make {
				if g.Position.Local() == at && strings.HasSuffix(g.What, "spacer") {
					t.Errorf("%v kept %v: %s is ordered", q.Take, q.Keep, g.Text)
				}
			}
		}
		if said := fmt.Sprint(a.Notes); len(a.Plans) == 0 && !strings.Contains(said, at) {
			t.Errorf("%v kept %v: no plan and no word of it: %s", q.Take, q.Keep, said)
		}
	}
}

// banjoBolt is a banjo bolt of the brakes as built, with its place.
func banjoBolt(t *testing.T, facts graph.Facts, on graph.VariantID) (graph.Part, graph.PositionID) {
	t.Helper()
	for _, f := range facts.Fitments {
		i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == f.Part })
		if slices.Contains(f.On, on) && i >= 0 && facts.Parts[i].Kind == "banjo-bolt" &&
			f.Position.Assembly().Local() == "front-brake" {
			return facts.Parts[i], f.Position
		}
	}
	t.Fatal("no banjo bolt")
	return graph.Part{}, ""
}
