package swap_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// A wheel whose hub stands 5 mm to one side takes carrier and sprocket along, whether the
// carrier stays or one like it under another number goes on with it. Geometry.
func TestAnotherCarrierKeepsTheSprocketLine(t *testing.T) {
	facts := demotest.Facts(t)
	const on, wheel, carrier = "skerry-620/2003/eu/late", "skerry-620:rear-wheel/wheel", "skerry-620:final-drive/carrier"
	v := variantNamed(t, facts, on)
	before := machine.StartIn(machine.NewLibrary(readertest.New(facts)), v, "")
	if err := before.Load(t.Context(), wheel, carrier); err != nil {
		t.Fatal(err)
	}
	facts.Parts = append(slices.Clone(facts.Parts), shiftedHub(t, before.Seat(wheel).Part))
	twin := before.Seat(carrier).Part
	twin.ID, twin.Aliases = "Ollerby 8002", nil
	facts.Parts = append(facts.Parts, twin)
	slices.SortFunc(facts.Parts, func(a, b graph.Part) int { return cmp.Compare(a.ID, b.ID) })
	r := readertest.New(facts)
	for _, parts := range []map[graph.PositionID]graph.PartID{{wheel: "Ollerby 8001"},
		{wheel: "Ollerby 8001", carrier: "Ollerby 8002"}} {
		start := machine.StartIn(machine.NewLibrary(r), v, "")
		after, err := start.With(t.Context(), parts)
		if err != nil {
			t.Fatal(err)
		}
		j, err := swap.Judge(t.Context(), examine.From(start), after, swap.Asked{})
		if err != nil {
			t.Fatal(err)
		}
		if c := sprocketLine(j.Answer); c.Verdict != graph.FitsWithChanges || !strings.Contains(c.Why, "of where it was") {
			t.Errorf("with %v: %s (%s), want %s", parts, c.Verdict, c.Why, graph.FitsWithChanges)
		}
	}
}

// shiftedHub is a wheel with its hub 5 mm further to one side.
func shiftedHub(t *testing.T, p graph.Part) graph.Part {
	t.Helper()
	i := slices.IndexFunc(p.Features, func(f graph.Feature) bool { return f.Kind == "row-width" })
	if i < 0 || len(p.Features[i].Dims["offset"]) == 0 {
		t.Fatalf("%s has no offset", p.ID)
	}
	p.ID, p.Aliases, p.Features = "Ollerby 8001", nil, slices.Clone(p.Features)
	dims := map[string][]graph.Reading{}
	for dim, readings := range p.Features[i].Dims {
		dims[dim] = slices.Clone(readings)
	}
	for k := range dims["offset"] {
		dims["offset"][k].Text = "20 mm"
	}
	p.Features[i].Dims = dims
	return p
}

func sprocketLine(a swap.SwapAnswer) mating.Check {
	for _, o := range slices.Concat(a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate) {
		for _, c := range o.Checks {
			if o.What == examine.OfStack && c.Rule == mating.SprocketLine {
				return c
			}
		}
	}
	return mating.Check{Verdict: graph.NoVerdict, Why: "not judged"}
}
