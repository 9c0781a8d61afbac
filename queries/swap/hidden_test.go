package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// withTube is the single with an inner tube in its front tyre, of the tyre's size.
func withTube(t *testing.T) graph.Facts {
	t.Helper()
	facts := demotest.Single(t)
	const tyre, tube = "front-wheel/tyre", "tern-125:front-wheel/inner-tube"
	at := slices.IndexFunc(facts.Positions, func(p graph.Position) bool { return p.ID.Local() == tyre })
	fitted := slices.IndexFunc(facts.Fitments, func(f graph.Fitment) bool { return f.Position.Local() == tyre })
	place, fitment := facts.Positions[at], facts.Fitments[fitted]
	own := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == fitment.Part })
	part := facts.Parts[own]
	part.ID, part.Kind = "Brunmark 9003", "inner-tube"
	part.Features = append(slices.Clone(part.Features), graph.Feature{Name: "stem", Kind: "shaft",
		Dims: map[string][]graph.Reading{"diameter": {{Text: "8.3 mm"}}}})
	place.ID, place.Kind = tube, "inner-tube"
	fitment.Position, fitment.Part = tube, part.ID
	facts.Positions = append(slices.Clone(facts.Positions), place)
	facts.Parts = append(slices.Clone(facts.Parts), part)
	facts.Fitments = append(slices.Clone(facts.Fitments), fitment)
	return facts
}

// TestLinkAndTubeHideNothing: a link that closes the chain is no third sprocket, and a tube
// of the tyre's size is no tyre: what judges the chain and both tyres goes on doing so.
func TestLinkAndTubeHideNothing(t *testing.T) {
	for _, tt := range []struct{ place, what string }{
		{"final-drive/chain", examine.OfChain},
		{"front-wheel/tyre", examine.OfTyres},
	} {
		facts := withTube(t)
		fitted := slices.IndexFunc(facts.Fitments, func(f graph.Fitment) bool { return f.Position.Local() == tt.place })
		part := facts.Parts[slices.IndexFunc(facts.Parts, func(p graph.Part) bool {
			return p.ID == facts.Fitments[fitted].Part
		})]
		part.ID = "Brunmark 9004"
		facts.Parts = append(facts.Parts, part)
		a := swapped(t, readertest.New(facts), "tern-125/1974", []string{tt.place + "=Brunmark 9004"})
		if !judges(a, tt.what) {
			t.Errorf("%s: no %s was judged", tt.place, tt.what)
		}
	}
}

func judges(a swap.SwapAnswer, what string) bool {
	return slices.ContainsFunc(slices.Concat(a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate),
		func(o examine.Outcome) bool { return o.What == what })
}
