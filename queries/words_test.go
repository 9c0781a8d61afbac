package queries_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
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

// A whole name goes before names that merely have the words.
func TestPositionsWithWords(t *testing.T) {
	all := []graph.Position{
		{ID: "m:clutch/lever", Name: "clutch lever and perch", Kind: "clutch-lever"},
		{ID: "m:clutch/blade", Name: "clutch lever", Kind: "clutch-blade"},
		{ID: "m:front-brake/lever", Name: "brake lever", Kind: "brake-lever"},
	}
	for typed, want := range map[string][]graph.PositionID{
		"clutch lever": {"m:clutch/blade"},
		"lever":        {"m:clutch/lever", "m:front-brake/lever"},
		"clutch perch": {"m:clutch/lever"},
		"pedal":        nil,
	} {
		var got []graph.PositionID
		for _, p := range queries.PositionsWithWords(all, queries.Words(typed)) {
			got = append(got, p.ID)
		}
		if !slices.Equal(got, want) {
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
