package bike_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
)

// An offer is named at the places that its parts may go to, as many as lie in it: the
// very number, or what a whole assembly of another machine was built with. What goes on
// new every time is only taken new, and what does not go there is not named.
func TestOffered(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	money := measure.Money{Hundredths: 18000, Currency: "EUR"}
	part := func(id graph.PartID, n int, c graph.Condition) graph.Offer {
		return graph.Offer{Name: "it", Price: money, Parts: []graph.OfferedPart{{Part: id, Quantity: n, Condition: c}}}
	}
	whole := graph.Offer{Name: "it", Price: money, Variant: "skerry-620/2004/eu", Holds: []string{"front-brake"},
		Without: []string{"front-brake/caliper-right"}}
	tests := []struct {
		name, place string
		offer       graph.Offer
		want        int // pieces
	}{
		{"the very number", "front-brake/hose-upper", part("Tarnholt 207.4015", 2, ""), 2},
		{"another number", "front-brake/hose-upper", part("Tarnholt 207.5007", 1, ""), 0},
		{"a used bolt that goes on new every time", "front-brake/caliper-bolt-left", part("Tarnholt 916.1040", 4, ""), 0},
		{"the same new", "front-brake/caliper-bolt-left", part("Tarnholt 916.1040", 4, graph.ConditionNew), 4},
		{"out of a whole assembly", "front-brake/caliper-left", whole, 1},
		{"missing from that", "front-brake/caliper-right", whole, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, err := bike.BikeMissing(t.Context(), r, bike.BikeWorkQuestion{Name: "box-find", Assembly: "front-brake",
				Offers: []graph.Offer{tt.offer}})
			if err != nil {
				t.Fatal(err)
			}
			got := -1
			for _, row := range a.Rows {
				if row.Position.Local() == tt.place {
					got = 0
					for _, o := range row.Offered {
						got += o.Quantity
					}
				}
			}
			if got != tt.want {
				t.Errorf("%d offered, want %d", got, tt.want)
			}
		})
	}
}
