package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestWhyNotOnOfAll: what is against a part at a place comes out the same, whether what
// its place takes part in is judged or all of the machine. Much of that is changed already,
// as it is of one in pieces.
func TestWhyNotOnOfAll(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.Share(t, 160, 8)
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	start := machine.StartIn(machine.NewLibrary(r), variantNamed(t, facts, "skerry-620/2002/eu"), "")
	on := func(id string) graph.PositionID { return graph.PositionID("skerry-620:" + id) }
	then, err := start.With(t.Context(), map[graph.PositionID]graph.PartID{
		on("front-brake/master-cylinder"): "Tarnholt 207.7003", on("front-brake/caliper-left"): "Tarnholt 207.7412",
		on("front-wheel/spacer-right"): "Tarnholt 205.4037", on("yokes/bearing-lower"): "Ostrabeck 6005-2RS"})
	if err != nil {
		t.Fatal(err)
	}
	stood := examine.From(then)
	whyNot := swap.WhyNotOn(stood)
	tried, against := 0, 0
	for _, position := range facts.Positions {
		if position.ID.Model() != "skerry-620" {
			continue
		}
		for _, part := range facts.Parts {
			if part.Kind != position.Kind || !share(string(position.ID)+string(part.ID)) {
				continue
			}
			got, err := whyNot(t.Context(), part.ID, position.ID)
			if err != nil {
				t.Fatal(err)
			}
			if want := firstNo(t, stood, position.ID, part.ID); got != want {
				t.Errorf("%s at %s: %q, by all of the machine %q", part.ID, position.ID, got, want)
			}
			if tried++; got != "" {
				against++
			}
		}
	}
	t.Logf("tried %d, %d of them do not go there", tried, against)
	if tried == 0 || against == 0 || against == tried {
		t.Errorf("%d of %d parts do not go there: some should, and some should not", against, tried)
	}
}

// firstNo is the first "no" at a place in the whole judgement of a part there.
func firstNo(t *testing.T, stood *examine.Before, at graph.PositionID, part graph.PartID) string {
	t.Helper()
	after, err := stood.Setup().With(t.Context(), map[graph.PositionID]graph.PartID{at: part})
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), stood, after, swap.Asked{Bare: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range j.Outcomes {
		if o.After == graph.DoesNotFit && o.Before != graph.DoesNotFit && o.SpeaksOf(at) {
			return o.Why
		}
	}
	return ""
}
