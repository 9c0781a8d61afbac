package part_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/part"
	"matewell/queries/readertest"
)

// Bolts of one size are told apart by their property class (ISO 898-1 has it marked on the
// head), also where one alone is found; what all have is left out, and so is what was asked.
func TestFoundPartsAreToldApart(t *testing.T) {
	bolt := func(number, class, head string) graph.Part {
		dims := map[string][]graph.Reading{"thread": {{Text: "M8x1.25"}}, "length": {{Text: "35 mm"}},
			"head": {{Text: head}}, "across-flats": {{Text: "13 mm"}}, "torque": {{Text: number + " N m"}}}
		if class != "" {
			dims["class"] = []graph.Reading{{Text: class}}
		}
		return graph.Part{ID: graph.PartID("Tarnholt " + number), Brand: "Tarnholt", Kind: "bolt",
			Features: []graph.Feature{{Name: "thread", Kind: "male-thread", Dims: dims}}}
	}
	for name, tt := range map[string]struct {
		parts []graph.Part
		want  [][]string
	}{
		"class and head": {[]graph.Part{bolt("1", "8.8", "hexagon"), bolt("2", "10.9", "flange")},
			[][]string{{"class 8.8", "head hexagon"}, {"class 10.9", "head flange"}}},
		"one alone": {[]graph.Part{bolt("1", "8.8", "hexagon")}, [][]string{{"class 8.8"}}},
		"alike": {[]graph.Part{bolt("1", "8.8", "hexagon"), bolt("2", "8.8", "hexagon")},
			[][]string{{"class 8.8"}, {"class 8.8"}}},
		"one not known": {[]graph.Part{bolt("1", "8.8", "hexagon"), bolt("2", "", "hexagon")},
			[][]string{{"class 8.8"}, nil}},
		"no class at all": {[]graph.Part{bolt("1", "", "hexagon"), bolt("2", "", "hexagon")},
			[][]string{nil, nil}},
	} {
		facts := graph.Facts{Kinds: []graph.Kind{{ID: "bolt", Name: "bolt",
			Features: []graph.KindFeature{{Name: "thread", Kind: "male-thread"}}}}, Parts: tt.parts}
		a, err := part.Find(t.Context(), readertest.New(facts), part.FindQuestion{Text: "bolt thread=M8x1.25 length=35mm"})
		if err != nil || len(a.Parts) != len(tt.parts) {
			t.Fatalf("%s: %v, %d parts", name, err, len(a.Parts))
		}
		for i, got := range a.Parts {
			if !slices.Equal(got.Apart, tt.want[i]) {
				t.Errorf("%s: %s is told apart by %q, want %q", name, got.Part, got.Apart, tt.want[i])
			}
		}
	}
}
