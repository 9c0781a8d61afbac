package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// TestOrderNamesThePlaceItGoesTo: what is made goes where the order says, else to the part whose
// hole, seat or eye it fills, also where that is the one that was changed; only what says neither
// goes to the end that stayed.
func TestOrderNamesThePlaceItGoesTo(t *testing.T) {
	o := examine.Outcome{What: examine.OfJoint, ID: "m:arm-on-lug", Ends: []examine.End{
		{Position: "m:a/lug"}, {Position: "m:a/arm", Changed: true}}}
	tests := []struct {
		name  string
		order mating.Order
		want  graph.PositionID
	}{
		{"a bush in the wide hole of the new part", mating.Order{Kind: "bush", Instead: "m:a/arm"}, "m:a/arm"},
		{"a bush in the wide hole of the old part", mating.Order{Kind: "bush", Instead: "m:a/lug"}, "m:a/lug"},
		{"a bolt, which is no end", mating.Order{Kind: "bolt", Instead: "m:a/bolt"}, "m:a/lug"},
		{"a bracket on what carries it", mating.Order{Kind: "bracket", Place: "m:a/lug", Instead: "m:a/arm"}, "m:a/lug"},
		{"said by nobody", mating.Order{Kind: "sleeve"}, "m:a/lug"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := swap.PlaceOfOrder(nil, o, tt.order); got != tt.want {
				t.Errorf("goes to %s, want %s", got, tt.want)
			}
		})
	}
}
