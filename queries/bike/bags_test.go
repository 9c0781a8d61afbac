package bike_test

import (
	"maps"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
)

// withDepth is the demo with every tapped hole of one name as deep as said.
func withDepth(t *testing.T, feature, depth string) graph.Facts {
	facts := demotest.Facts(t)
	facts.Parts = slices.Clone(facts.Parts)
	for i, p := range facts.Parts {
		features := slices.Clone(p.Features)
		for k, f := range features {
			if f.Name == feature {
				dims := maps.Clone(f.Dims)
				reading := dims["depth"][0]
				reading.Text = depth
				dims["depth"] = []graph.Reading{reading}
				features[k].Dims = dims
			}
		}
		facts.Parts[i].Features = features
	}
	return facts
}

// warnedAt are the dangers that the bags of a machine are warned of at the bolts of its
// front discs, and each reason.
func warnedAt(t *testing.T, facts graph.Facts) map[string][]string {
	t.Helper()
	a, err := bike.BikeBags(t.Context(), readertest.New(facts), bike.BikeBagsQuestion{Name: "winter-project"})
	if err != nil {
		t.Fatal(err)
	}
	found := map[string][]string{}
	for _, w := range a.Warnings {
		if slices.Contains(w.At, "skerry-620:front-brake/disc-bolt-left") {
			found[w.Bag] = []string{w.Danger, w.Why}
		}
	}
	return found
}

// A piece that a hole refuses is warned of for whatever reason the rule has: in one that
// is cut shallower no warning goes away.
func TestBagsWarnWhateverTheReason(t *testing.T) {
	deep, shallow := warnedAt(t, demotest.Facts(t)), warnedAt(t, withDepth(t, "disc-thread", "6 mm"))
	if len(deep) == 0 {
		t.Fatal("no bag is warned of at the bolts of the disc")
	}
	for bag, was := range deep {
		if was[0] != "bottoms" {
			t.Errorf("%s in the hole as built: %v, want that it bottoms", bag, was)
		}
		if now, ok := shallow[bag]; !ok || now[0] != "bottoms" && now[0] != "does not hold" {
			t.Errorf("%s in a hole 6 mm deep: %v; as built %v", bag, now, was)
		}
	}
}

// TestWholePlaceDrawsNoBag: of a machine in pieces, what is noted as on it lacks no bolts; a
// bag goes to what lacks them.
func TestWholePlaceDrawsNoBag(t *testing.T) {
	facts := demotest.Facts(t)
	const name, clamp = "in-tubs", "skerry-620:yokes/pinch-bolt-lower-left"
	bolts := graph.BagItem{Kind: "bolt", Quantity: 4,
		Dims: map[string]string{"thread": "M8x1.25", "length": "35 mm", "head": "hexagon flange", "across-flats": "10 mm"}}
	matched := func(found ...graph.Fitted) bool {
		with := facts
		with.Bikes = append(slices.Clone(facts.Bikes), graph.Bike{ID: name, Variant: "skerry-620/2005/uk", Apart: true,
			Found: found, Bags: []graph.Bag{{Name: "a", Contents: []graph.BagItem{bolts}}}})
		a, err := bike.BikeBags(t.Context(), readertest.New(with), bike.BikeBagsQuestion{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(a.Bags[0].Matched, func(m bike.BagMatch) bool { return m.Position == clamp })
	}
	if !matched() {
		t.Error("bolts of a clamp that lies in pieces are not sent there")
	}
	if matched(graph.Fitted{Position: clamp, AsBuilt: true},
		graph.Fitted{Position: "skerry-620:yokes/pinch-bolt-lower-right", AsBuilt: true}) {
		t.Error("bolts are sent to a clamp that has its own")
	}
}
