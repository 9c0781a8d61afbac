package examine_test

import (
	"maps"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// TestTwinBesideNothingKnown: a part that measures the same as the one built in meets
// what that met, also where nobody recorded what sits beside it. One that differs in a
// single word or dimension there is unknown, and so is one that lacks it, or stands
// beside a place that is known to be empty.
func TestTwinBesideNothingKnown(t *testing.T) {
	share := sampletest.OneIn(t, 12)
	facts := demotest.Facts(t)
	v := variantNamed(t, facts, "skerry-620/2004/eu")
	built := machine.StartIn(machine.NewLibrary(readertest.New(facts)), v, "")
	tried := 0
	for _, j := range facts.Joints {
		if !slices.Contains(j.On, v.ID) || !share(string(j.ID)) || j.A.Position == j.B.Position {
			continue
		}
		if err := built.Load(t.Context(), j.A.Position, j.B.Position); err != nil {
			t.Fatal(err)
		}
		part := built.Seat(j.A.Position).Part
		f, has := part.Feature(j.A.Feature)
		dim := firstDim(f)
		if !has || dim == "" || built.Seat(j.B.Position).Empty {
			continue
		}
		with := func(readings []graph.Reading, own *graph.Bike) graph.Verdict {
			twin := part
			twin.ID = "Tarnholt twin"
			twin.Features = slices.Clone(part.Features)
			i := graph.FeatureNamed(twin.Features, f.Name)
			twin.Features[i].Dims = maps.Clone(f.Dims)
			twin.Features[i].Dims[dim] = readings
			return judgedBeside(t, facts, v, j, twin, own)
		}
		same := f.Dims[dim]
		if with(same, nil) != graph.Fits {
			continue // something that decides is not recorded of it
		}
		tried++
		other := []graph.Reading{{Text: otherText(same[0].Text)}}
		missing := graph.Bike{ID: "mine", Variant: v.ID, Found: []graph.Fitted{{Position: j.B.Position}}}
		for name, got := range map[string]graph.Verdict{"with another " + dim: with(other, nil),
			"without " + dim: with(nil, nil), "beside what is missing": with(same, &missing)} {
			if got != graph.Unknown {
				t.Errorf("%s: a twin %s: %s, want unknown", j.ID, name, got)
			}
		}
	}
	if tried < 5 {
		t.Errorf("only %d were tried", tried)
	}
}

// judgedBeside is how a joint comes out with a part on its first side, where nobody
// says what sits on its second; with a bike, where that is missing on it.
func judgedBeside(t *testing.T, facts graph.Facts, v graph.Variant, j graph.Joint, part graph.Part,
	own *graph.Bike) graph.Verdict {
	t.Helper()
	facts.Parts = append(slices.Clone(facts.Parts), part)
	if own == nil {
		facts.Fitments = lists.Kept(slices.Clone(facts.Fitments),
			func(f graph.Fitment) bool { return f.Position != j.B.Position })
	}
	before := machine.StartIn(machine.NewLibrary(readertest.New(facts)), v, "")
	before.Bike = own
	after, err := before.With(t.Context(), map[graph.PositionID]graph.PartID{j.A.Position: part.ID})
	if err != nil {
		t.Fatal(err)
	}
	outcomes, err := examine.Examine(t.Context(), examine.From(before), after)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(outcomes, func(o examine.Outcome) bool {
		return o.What == examine.OfJoint && o.ID == string(j.ID)
	})
	if i < 0 {
		return graph.NoVerdict
	}
	return outcomes[i].After
}

func firstDim(f graph.Feature) string {
	for _, dim := range lists.KeysOf(f.Dims) {
		if len(f.Dims[dim]) > 0 {
			return dim
		}
	}
	return ""
}

// otherText is a reading that is not the same: a digit of it is another, or a word.
func otherText(text string) string {
	for i, r := range text {
		if r >= '1' && r <= '8' {
			return text[:i] + string(r+1) + text[i+1:]
		}
	}
	return "other " + text
}
