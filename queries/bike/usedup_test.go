package bike_test

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/shop"
)

// TestWhatTheWorkUsesUp: oil and fluid that neither a place nor a circuit tells of come from
// the jobs that are done, as much as those say; what a place takes by its own word is counted once.
func TestWhatTheWorkUsesUp(t *testing.T) {
	facts := demotest.Facts(t)
	gone := func(places ...graph.PositionID) []graph.Fitted {
		var found []graph.Fitted
		for _, id := range places {
			found = append(found, graph.Fitted{Position: id})
		}
		return found
	}
	tests := []struct {
		name  string
		on    graph.VariantID
		found []graph.Fitted
		want  []string // of oils and fluids
		buys  []graph.PartID
	}{
		{"one fork leg, by the job", "skerry-620s/2002/uk", gone("skerry-620s:fork/seal-left"),
			[]string{"fork oil 10W 455 ml"}, nil},
		{"both, by the job of another year", "skerry-620s/2005/uk",
			gone("skerry-620s:fork/seal-left", "skerry-620s:fork/seal-right"), []string{"fork oil 10W 960 ml"}, nil},
		{"a leg that says itself what it takes", "skerry-620/2005/eu", gone("skerry-620:fork/seal-left"),
			[]string{"fork oil SAE 10W 480 ml"}, nil},
		{"a brake whose circuit says no amount", "skerry-620s/2002/uk", gone("skerry-620s:front-brake/hose-upper"),
			[]string{"brake fluid DOT 4 150 ml"}, nil},
		{"pads, which no fluid passes", "skerry-620s/2002/uk", gone("skerry-620s:front-brake/pads-left"), nil, nil},
		{"nothing wet is opened", "skerry-620s/2002/uk", gone("skerry-620s:mirrors/mirror-left"), nil, nil},
		{"a caliper that leaks", "skerry-620s/2006/uk", []graph.Fitted{{Position: "skerry-620s:front-brake/caliper-left",
			AsBuilt: true, Specimen: graph.Specimen{Condition: graph.Leaking}}},
			[]string{"brake fluid DOT 4 150 ml"}, []graph.PartID{"Tarnholt 500.4058"}},
		{"one that is worn is looked at first", "skerry-620s/2006/uk", []graph.Fitted{{AsBuilt: true,
			Position: "skerry-620s:front-brake/caliper-left", Specimen: graph.Specimen{Condition: "worn"}}},
			[]string{"brake fluid DOT 4 150 ml"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			own := facts
			own.Bikes = []graph.Bike{{ID: "wet", Variant: tt.on, Found: tt.found}}
			a, err := bike.BikeShop(t.Context(), readertest.New(own), bike.BikeWorkQuestion{Name: "wet"})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, c := range a.Consumables {
				if c.Text != "a film" {
					got = append(got, fmt.Sprintf("%s %s %s", c.What, c.Grade, c.Text))
				}
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("uses up %q, want %q", got, tt.want)
			}
			for _, id := range []graph.PartID{"Tarnholt 500.4058"} {
				at := slices.IndexFunc(a.Rows, func(r shop.Row) bool { return r.Part == id })
				if isWanted := slices.Contains(tt.buys, id); isWanted != (at >= 0) {
					t.Errorf("%s on the list: %t, want %t", id, at >= 0, isWanted)
				}
			}
			// the kit's own washers serve for the banjo
			washers := slices.IndexFunc(a.Rows, func(r shop.Row) bool { return r.Part == "Tarnholt 924.1014" })
			if len(tt.buys) > 0 && washers >= 0 {
				t.Errorf("washers on top of those in the kit: %v", a.Rows[washers])
			}
		})
	}
}
