package queries_test

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/readertest"
)

func TestHasWords(t *testing.T) {
	tests := []struct {
		name, typed string
		texts       []string
		want        bool
	}{
		{"one word of several", "lever", []string{"front brake lever blade"}, true},
		{"in any order, from several texts", "blade brake", []string{"brake-lever", "lever blade"}, true},
		{"plural", "levers", []string{"brake lever"}, true},
		{"plural there", "lever", []string{"Levers, pair"}, true},
		{"the beginning of a word", "carb rack", []string{"carburettors, rack"}, true},
		{"a short beginning is no word", "le", []string{"lever"}, false},
		{"one word too many", "clutch lever", []string{"brake lever"}, false},
		{"inside of a word", "ever", []string{"lever"}, false},
		{"nothing typed", " ", []string{"lever"}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := queries.HasWords(queries.Words(tt.typed), tt.texts...); got != tt.want {
				t.Errorf("HasWords(%q, %q) = %v", tt.typed, tt.texts, got)
			}
		})
	}
}

// A whole name of a place goes before names that merely have the words.
func TestPartsAtPlacesNamed(t *testing.T) {
	f := graph.Facts{Models: []graph.Model{{ID: "m"}}, Positions: []graph.Position{
		{ID: "m:clutch/lever", Name: "clutch lever and perch", Kind: "clutch-lever"},
		{ID: "m:clutch/blade", Name: "clutch lever", Kind: "clutch-blade"},
		{ID: "m:front-brake/lever", Name: "brake lever", Kind: "brake-lever"},
	}}
	for i, p := range f.Positions {
		part := graph.PartID(fmt.Sprintf("Tarnholt %d", i))
		f.Parts = append(f.Parts, graph.Part{ID: part, Brand: "Tarnholt"})
		f.Fitments = append(f.Fitments, graph.Fitment{ID: graph.FitmentID(p.ID), Position: p.ID, Part: part})
	}
	r := readertest.New(f)
	for typed, want := range map[string][]graph.PartID{
		"clutch lever": {"Tarnholt 1"},
		"lever":        {"Tarnholt 0", "Tarnholt 2"},
		"clutch perch": {"Tarnholt 0"},
		"pedal":        nil,
	} {
		parts, err := queries.PartsNamed(t.Context(), r, typed)
		if err != nil {
			t.Fatal(err)
		}
		got := lists.Mapped(parts, func(p graph.Part) graph.PartID { return p.ID })
		if slices.Sort(got); !slices.Equal(got, want) {
			t.Errorf("%q: got %v, want %v", typed, got, want)
		}
	}
}

// Who looks for a disc wants every place of one, the one that is called so first, and
// what else has the word after them.
func TestPositionsHolding(t *testing.T) {
	all := []graph.Position{
		{ID: "m:front-brake/disc-bolt", Name: "disc bolt", Kind: "bolt"},
		{ID: "m:front-brake/disc-left", Name: "front disc, left", Kind: "brake-disc"},
		{ID: "m:front-brake/pads", Name: "pads", Kind: "brake-pads"},
		{ID: "m:rear-brake/disc", Name: "rear disc", Kind: "brake-disc"},
	}
	var got []graph.PositionID
	for _, p := range queries.PositionsHolding(all, queries.Words("disc")) {
		got = append(got, p.ID)
	}
	want := []graph.PositionID{"m:rear-brake/disc", "m:front-brake/disc-left", "m:front-brake/disc-bolt"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
