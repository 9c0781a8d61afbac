package bike_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/shop"
	"matewell/queries/swap"
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

// On a machine in pieces a swap says that what it takes to have been there is the book's;
// what is noted as seen is not.
func TestSwapInPiecesSaysWhatIsTheBooks(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for place, want := range map[string]bool{"front-brake/splitter": true, "front-brake/master-cylinder": false} {
		part := map[bool]string{true: "Tarnholt 207.4021", false: "Tarnholt 207.4006b"}[want]
		a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: "box-find",
			Swaps: []swap.Replacement{{Position: place, Part: part}}})
		if err != nil {
			t.Fatal(err)
		}
		if got := a.Swaps[0].WasByBook; got != want {
			t.Errorf("%s: %q", place, a.Swaps[0].WasWhy)
		}
	}
}

// What is planned and does not mate as it is comes out alike wherever it is asked for:
// what has it go is said and got, and only what nothing helps is left out.
func TestPlannedIsGotWithWhatHasItGo(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	goes := 0
	for _, name := range []string{"winter-project", "grey-gull"} {
		q := bike.BikeWorkQuestion{Name: name}
		missing, err := bike.BikeMissing(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		list, err := bike.BikeShop(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range missing.Rows {
			out := slices.ContainsFunc(list.Refused, func(s shop.Refused) bool { return slices.Contains(s.At, row.Position) })
			if out != (row.Refused != "") {
				t.Errorf("%s: %s at %s: refused %q, left off the list %v", name, row.Part, row.Position, row.Refused, out)
			}
			goes += min(1, len(row.Goes))
		}
	}
	if goes == 0 {
		t.Error("nothing planned goes with something else on: nothing was tried")
	}
}
