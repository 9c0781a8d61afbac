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
