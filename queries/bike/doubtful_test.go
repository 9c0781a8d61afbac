package bike_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
)

// TestDoubtfulPieceIsNotReady: whatever word makes a piece on the machine doubtful, at a
// place of a safety class nobody rides until somebody looked at it, and the list of what to
// get names it with what renews it; a piece that is sound has nothing against it, and one
// that is scrap is bought.
func TestDoubtfulPieceIsNotReady(t *testing.T) {
	facts := demotest.Facts(t)
	const name = "one-piece"
	at := graph.PositionID("skerry-620:front-brake/caliper-left")
	for _, c := range graph.Conditions() {
		own := graph.Fitted{Position: at, AsBuilt: true, Specimen: graph.Specimen{Condition: c.Word}}
		with := facts
		with.Bikes = append(slices.Clone(facts.Bikes), graph.Bike{ID: name, Variant: "skerry-620/2006/eu",
			Found: []graph.Fitted{own}})
		r := readertest.New(with)
		card, err := bike.Bike(t.Context(), r, bike.BikeQuestion{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		list, err := bike.BikeShop(t.Context(), r, bike.BikeWorkQuestion{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		if sound := c.Is == graph.Sound; card.Card.Ready != sound || card.SafetyOpen() == sound {
			t.Errorf("%s: card ready %v", c.Word, card.Card.Ready)
		}
		if doubtful := c.Is == graph.Doubtful; list.Ready == doubtful || (len(list.Look) == 1) != doubtful {
			t.Errorf("%s: list ready %v, to look at %v", c.Word, list.Ready, list.Look)
		} else if doubtful && (list.Look[0].Job != "front-calipers" || list.Look[0].Position != at) {
			t.Errorf("%s: to look at %+v", c.Word, list.Look[0])
		}
		part, err := bike.BikeShop(t.Context(), r, bike.BikeWorkQuestion{Name: name, Assembly: "exhaust"})
		if err != nil {
			t.Fatal(err)
		}
		if sound := c.Is == graph.Sound; part.Ready != sound || len(part.Look) > 0 { // it is not on this list
			t.Errorf("%s: list for another assembly ready %v, to look at %v", c.Word, part.Ready, part.Look)
		}
	}
}

// A machine of which nobody knows what sits on it is not ready to ride, however little is
// noted on it: as many places stand against it as have a safety class and no part listed.
func TestUnlistedPlacesAreNotReady(t *testing.T) {
	facts := demotest.Facts(t)
	const name, model = "fresh", "skerry-620"
	facts.Bikes = append(slices.Clone(facts.Bikes), graph.Bike{ID: name, Variant: "skerry-620/2006/eu"})
	card := func() *bike.BikeCard {
		a, err := bike.Bike(t.Context(), readertest.New(facts), bike.BikeQuestion{Name: name})
		if err != nil || a.SafetyOpen() == a.Card.Ready {
			t.Fatalf("%v, open %v, ready %v", err, a.SafetyOpen(), a.Card.Ready)
		}
		return a.Card
	}
	if c := card(); !c.Ready || c.Unlisted != 0 {
		t.Errorf("as built, all listed: ready %v, %d unlisted", c.Ready, c.Unlisted)
	}
	listed := facts.Fitments
	facts.Fitments = nil
	for _, f := range listed {
		if f.Position != model+":front-brake/pads-left" && f.Position != model+":front-brake/lever" {
			facts.Fitments = append(facts.Fitments, f)
		}
	}
	c := card()
	if c.Ready || c.Unlisted != 2 || c.NotReady[0].Verdict != graph.Unknown {
		t.Errorf("pads and lever listed by nobody: ready %v, %d unlisted, %v", c.Ready, c.Unlisted, c.NotReady)
	}
}
