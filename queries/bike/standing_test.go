package bike_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// Whether it may be ridden with all of the list on counts what lies in a box and was identified
// by eye only, what is sold no more, what is to be got for other assemblies, and what
// nobody recorded of the book's own parts, which bike missing lists. A number that somebody
// read stands against nothing.
func TestNotProvedStandsAgainstRiding(t *testing.T) {
	const sprocket = "Tarnholt 209.7011"
	at := func(local string) graph.PositionID { return graph.PositionID("fjeld-750:" + local) }
	for _, tt := range []struct {
		name, sure, assembly string
		missing              string
		want                 string // in what stands against it
		is                   bool
	}{
		{"by eye", "by eye", "", "final-drive/sprocket-front", "part for final-drive/sprocket-front", true},
		{"number read", "number read", "", "final-drive/sprocket-front", "part for final-drive/sprocket-front", false},
		{"sold no more", "", "", "front-brake/caliper-left", "Tarnholt 207.7430 for front-brake/caliper-left", true},
		{"elsewhere", "", "fork", "front-brake/caliper-left", "1 places of other assemblies", true},
		{"here", "", "front-brake", "front-brake/caliper-left", "places of other assemblies", false},
	} {
		own := graph.Bike{ID: "mine", Variant: "fjeld-750/2004/uk", Found: []graph.Fitted{{Position: at(tt.missing)}}}
		if tt.sure != "" {
			own.Boxes = []graph.Box{{Name: "crate", Items: []graph.BoxItem{{Part: sprocket, Quantity: 1, Sure: tt.sure}}}}
		}
		a, err := bike.BikeShop(t.Context(), readertest.New(demotest.Facts(t)).WithBikes(own),
			bike.BikeWorkQuestion{Name: "mine", Assembly: tt.assembly})
		if err != nil {
			t.Fatal(err)
		}
		is := slices.ContainsFunc(a.NotReady, func(h swap.Hindrance) bool { return strings.Contains(h.What, tt.want) })
		if is != tt.is || is && (a.Ready || !a.SafetyOpen()) {
			t.Errorf("%s: ready %v, against it %q", tt.name, a.Ready, a.NotReady)
		}
	}
}

// Two answers about a machine whose parts nobody measured agree: bike missing calls what decides
// unknown, and bike shop does not call it ready.
func TestUnmeasuredIsNotReady(t *testing.T) {
	facts := demotest.Facts(t)
	facts.Parts = slices.Clone(facts.Parts)
	for i := range facts.Parts {
		facts.Parts[i].Features = nil
	}
	own := graph.Bike{ID: "mine", Variant: "fjeld-750/2004/uk",
		Found: []graph.Fitted{{Position: "fjeld-750:rear-brake/caliper"}}}
	r := readertest.New(facts).WithBikes(own)
	q := bike.BikeWorkQuestion{Name: "mine"}
	missing, err := bike.BikeMissing(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	list, err := bike.BikeShop(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	said := slices.ContainsFunc(list.NotReady, func(h swap.Hindrance) bool {
		return strings.Contains(h.What, "of the book's own parts") && strings.Contains(h.Why, "bike missing mine")
	})
	if len(missing.Rows) != 1 || len(missing.Rows[0].Against) == 0 || list.Ready || !said {
		t.Errorf("missing: %+v; shop: ready %v, against it %q", missing.Rows, list.Ready, list.NotReady)
	}
}
