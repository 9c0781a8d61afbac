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
