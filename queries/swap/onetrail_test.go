package swap_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
)

// The trail among the numbers is that of the check, to a tenth: with legs that carry the
// axle in line with the tube, and with such as carry it in front, changed or as built.
func TestOneTrailInAnAnswer(t *testing.T) {
	for _, tt := range []struct{ lead, then, length string }{
		{"", "", "20 mm"}, {"35 mm", "35 mm", "20 mm"}, {"35 mm", "60 mm", ""}, {"35 mm", "36 mm", "5 mm"},
		{"35 mm", "", "20 mm"},
	} {
		facts := demotest.Facts(t)
		facts.Parts = slices.Clone(facts.Parts)
		for i, p := range facts.Parts {
			if machine.HasKind(p, "fork-length") && p.Kind == "fork-leg" {
				facts.Parts[i] = legWith(p, tt.lead, "")
			}
		}
		r := mutantsOver(facts)
		before := machine.StartIn(machine.NewLibrary(r), variantNamed(t, facts, "skerry-620/2003/eu/late"), "")
		put := map[graph.PositionID]graph.PartID{}
		for _, side := range []string{"left", "right"} {
			at := graph.PositionID("skerry-620:fork/leg-" + side)
			if err := before.Load(t.Context(), at); err != nil {
				t.Fatal(err)
			}
			leg := legWith(before.Seat(at).Part, tt.then, tt.length)
			leg.ID += "-other"
			r.parts[leg.ID], put[at] = leg, leg.ID
		}
		j := changedOn(t, before, put)
		i := slices.IndexFunc(j.Outcomes, func(o examine.Outcome) bool { return o.What == examine.OfTrail })
		if i < 0 {
			t.Fatalf("%+v: no trail judged", tt)
		}
		check := j.Outcomes[i].Checks[0]
		n := slices.IndexFunc(j.Answer.Numbers, func(n examine.Number) bool { return n.Name == "trail" })
		switch {
		case check.Had == "" && n >= 0 && j.Answer.Numbers[n].After != nil:
			t.Errorf("%+v: %s, but a trail of %v among the numbers", tt, check.Why, *j.Answer.Numbers[n].After)
		case check.Had == "" || n < 0 && check.Had == check.Wanted:
		case n < 0:
			t.Errorf("%+v: %s, and no trail among the numbers", tt, check.Why)
		case strings.TrimSuffix(check.Had, " mm") !=
			strings.TrimSuffix(measure.Format(*j.Answer.Numbers[n].After, measure.Length), " mm"):
			t.Errorf("%+v: %s, but %v among the numbers", tt, check.Why, *j.Answer.Numbers[n].After)
		}
	}
}

// legWith is a leg that carries its axle by a lead in front of the tube, and is longer.
func legWith(p graph.Part, lead, longer string) graph.Part {
	p.Features = slices.DeleteFunc(slices.Clone(p.Features), func(f graph.Feature) bool { return f.Kind == "axle-lead" })
	var cite graph.Cite
	for i, f := range p.Features {
		if f.Kind != "fork-length" || len(f.Dims["length"]) == 0 {
			continue
		}
		dims := maps.Clone(f.Dims)
		reading := dims["length"][0]
		cite = reading.Cite
		was, _ := measure.ParseQuantity(reading.Text, measure.Length)
		more, _ := measure.ParseQuantity(longer, measure.Length)
		reading.Text = measure.Format(was.Nominal+more.Nominal, measure.Length)
		dims["length"] = []graph.Reading{reading}
		p.Features[i].Dims = dims
	}
	if lead != "" {
		p.Features = append(p.Features, graph.Feature{Name: "lead", Kind: "axle-lead",
			Dims: map[string][]graph.Reading{"lead": {{Text: lead, Cite: cite}}}})
	}
	return p
}
