package examine_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// A connection is decided by its places and by nothing else: another part anywhere
// else leaves its verdict as it was. Plans and trails rely on that; they judge again
// only what has the place among its own.
func TestConnectionHangsOnItsPlaces(t *testing.T) {
	demotest.Alone(t)
	ctx := context.Background()
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	dice := rand.New(rand.NewPCG(10, 4))
	judged := map[string]int{}
	for _, id := range []graph.VariantID{"skerry-620/2003/eu/late", "fjeld-750/2004/eu"} {
		at := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
		s := machine.StartIn(machine.NewLibrary(r), facts.Variants[at], "")
		around, err := examine.WholeMachine(ctx, s)
		if err != nil {
			t.Fatal(err)
		}
		places, before := placesOf(facts, id), examine.From(s)
		for _, c := range around.List(s, places) {
			was, ok := c.Judge(before, s)
			if !ok || c.What == examine.OfFinish {
				continue
			}
			for range 3 {
				place := places[dice.IntN(len(places))]
				if slices.Contains(c.Places, place) {
					continue
				}
				part := facts.Parts[dice.IntN(len(facts.Parts))]
				after, err := s.With(ctx, map[graph.PositionID]graph.PartID{place: part.ID})
				if err != nil {
					t.Fatal(err)
				}
				judged[c.What]++
				if got, _ := c.Judge(before, after); got.After != was.After {
					t.Errorf("%s %s is %s, and %s with %s at %s, which is none of its places: %s",
						c.What, c.ID, was.After, got.After, part.ID, place, got.Why)
				}
			}
		}
	}
	for _, what := range []string{examine.OfJoint, examine.OfRun, examine.OfStack, examine.OfDisc, examine.OfCircuit} {
		if judged[what] < 2 {
			t.Errorf("%d of sort %s were judged", judged[what], what)
		}
	}
}

func placesOf(facts graph.Facts, on graph.VariantID) []graph.PositionID {
	var ids []graph.PositionID
	for _, p := range facts.Positions {
		if slices.Contains(p.On, on) {
			ids = append(ids, p.ID)
		}
	}
	slices.Sort(ids)
	return ids
}
