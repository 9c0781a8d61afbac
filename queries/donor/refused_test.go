package donor_test

import (
	"maps"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/machine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestPlaceHasOnePart: a bolt that is to come on goes in, or it is said that it does
// not, and then what is ordered goes there in its stead, and nothing else does. One
// of an unknown thread is neither refused nor safe.
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
			if len(a.Plans) == 0 {
				t.Fatalf("no plan: %s", a.Outcome)
			}
			p := a.Plans[0]
			comesOn := slices.ContainsFunc(slices.Concat(p.Take, p.Get),
				func(part donor.DonorPart) bool { return part.Position == at })
			refused := slices.ContainsFunc(p.Refused, func(r donor.DonorRefused) bool {
				return r.Position == at && r.Why != "" && slices.ContainsFunc(p.Make,
					func(g swap.Get) bool { return g.Text == r.Instead && g.Position == at })
			})
			fitted := slices.ContainsFunc(p.Work, func(s donor.WorkStep) bool { return s.Part == part.ID })
			if refused != tt.refused || comesOn == tt.refused || fitted == tt.refused || a.Safe() != tt.safe {
				t.Errorf("refused %v, comes on %v, fitted %v, safe %v: %+v; want refused %v, safe %v", refused, comesOn, fitted,
					a.Safe(), p.Swap.Then, tt.refused, tt.safe)
			}
		})
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
