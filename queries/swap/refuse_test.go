package swap_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// other is a part of the single under another number, with "feature.dim" set to a text each.
func other(t *testing.T, facts *graph.Facts, of graph.PartID, number string, changes ...string) {
	t.Helper()
	i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == of })
	part := facts.Parts[i]
	part.ID, part.Number = graph.PartID("Brunmark "+number), graph.Number{Core: number}
	for _, change := range changes {
		ref, text, _ := strings.Cut(change, "=")
		name, dim, _ := strings.Cut(ref, ".")
		part = machine.With(part, name, dim, text)
	}
	facts.Parts = append(slices.Clone(facts.Parts), part)
	slices.SortFunc(facts.Parts, func(a, b graph.Part) int { return strings.Compare(string(a.ID), string(b.ID)) })
}

// An offer leaves the whole better: no part with which something does not fit that fits
// without it, and nothing that closes nothing.
func TestOffersLeaveTheWholeBetter(t *testing.T) {
	const on, hub = "tern-125/1974/any", "front-wheel/hub=Brunmark 5014"
	larger := "drum.diameter=150 mm"
	for _, tt := range []struct {
		name      string
		shoes     []string
		must, not []string
	}{
		{"shoes for that drum, on the plate that is there", []string{"shoes.diameter=149.4 mm"},
			[]string{"front-brake/shoes: Brunmark 5015"}, nil},
		{"shoes that its plate does not take", []string{"shoes.diameter=149.4 mm", "shoes.pivot=14.1 mm"}, nil,
			[]string{"front-brake/shoes"}},
		{"near miss: 0.3 mm of play on the pivot", []string{"shoes.diameter=149.4 mm", "shoes.pivot=12.3 mm"},
			[]string{"front-brake/shoes: Brunmark 5015"}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Single(t)
			other(t, &facts, "Brunmark 4111", "5014", larger)
			other(t, &facts, "Brunmark 4107", "5015", tt.shoes...)
			a := swapped(t, once.New(readertest.New(facts)), on, []string{hub})
			wantGets(t, a, tt.must, tt.not)
			if len(tt.not) > 0 && !trailSays(a, "is no help: then joint front-shoes-on-plate does not fit") {
				t.Errorf("no trail says why the shoes are not offered: %+v", a.Trails)
			}
		})
	}
}

func trailSays(a swap.SwapAnswer, words string) bool {
	return slices.ContainsFunc(a.Trails, func(tr swap.Trail) bool {
		return slices.ContainsFunc(tr.Steps, func(s swap.TrailStep) bool { return strings.Contains(s.What, words) })
	})
}

// A tyre goes on the wheel that it is made for.
func TestTyreOfTheOtherWheelIsNotOffered(t *testing.T) {
	for place, must := range map[string][]string{"rear": nil, "front": {"front-wheel/tyre: Brunmark 5013"},
		"either": {"front-wheel/tyre: Brunmark 5013"}} {
		facts := demotest.Single(t)
		other(t, &facts, "Brunmark 4112", "5012", "rim.diameter=432 mm")
		other(t, &facts, "Brunmark 4114", "5013", "size.size=2.75-17", "size.place="+place)
		var not []string
		if must == nil {
			not = []string{"front-wheel/tyre"}
		}
		wantGets(t, swapped(t, once.New(readertest.New(facts)), "tern-125/1974/any",
			[]string{"front-wheel/rim=Brunmark 5012"}), must, not)
	}
}

// No spacer draws a brake plate off its anchor; a rim of 56 mm between plate and spacer is 6
// mm too narrow, and 4 of them would have to go between leg and plate.
func TestNoSpacerBesideAnAnchor(t *testing.T) {
	for _, tt := range []struct{ place, part, change string }{
		{"front-wheel/hub", "Brunmark 4111", "row.width=56 mm"}, {"front-brake/plate", "Brunmark 4106", "row.width=14 mm"},
		{"rear-wheel/hub", "Brunmark 4141", "row.width=62 mm"}, {"rear-brake/plate", "Brunmark 4134", "row.width=12 mm"},
	} {
		facts := demotest.Single(t)
		other(t, &facts, graph.PartID(tt.part), "5001", tt.change)
		a := swapped(t, once.New(readertest.New(facts)), "tern-125/1974/any", []string{tt.place + "=Brunmark 5001"})
		if a.Verdict != graph.DoesNotFit || slices.ContainsFunc(a.Get, func(g swap.Get) bool { return g.What == "spacer" }) {
			t.Errorf("%s: %s, to get %+v", tt.place, a.Verdict, a.Get)
		}
	}
}

// What else does in a part's place does so with all else on: a chain that is too short for
// the sprockets in the end is not named beside the one that is right.
func TestWhatElseDoesIsHeldAgainstTheWhole(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	a := swapped(t, r, "skerry-620/2003/eu/late", []string{"final-drive/sprocket-rear=Tarnholt 209.7016"})
	i := slices.IndexFunc(a.Get, func(g swap.Get) bool { return g.Position.Local() == "final-drive/chain" })
	if i < 0 {
		t.Fatalf("no chain to get: %+v", a.Get)
	}
	for _, id := range append([]graph.PartID{a.Get[i].Part}, a.Get[i].Also...) {
		// 16/42 teeth of 15.875 mm: 108 links put the axle within 609-639 mm, 110 beyond it
		if id != "Thrumley 530-108C" {
			t.Errorf("%s is offered", id)
		}
	}
}
