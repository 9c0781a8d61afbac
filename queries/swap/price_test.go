package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/swap"
)

// A part that is sold no more has no price, whatever a list once said.
func TestPriceOf(t *testing.T) {
	listed := []graph.Reading{{Text: "35 EUR"}, {Text: "40 EUR"}}
	for _, tt := range []struct {
		name string
		part graph.Part
		want string
	}{
		{"the first of two", graph.Part{Price: listed}, "35 EUR"},
		{"no price", graph.Part{}, ""},
		{"sold no more", graph.Part{Price: listed, Gone: true}, ""},
	} {
		if got := swap.PriceOf(tt.part); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
