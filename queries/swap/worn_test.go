package swap_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// withDims gives a part of the facts other readings of one feature.
func withDims(facts graph.Facts, id graph.PartID, feature string, dims ...string) graph.Facts {
	facts.Parts = slices.Clone(facts.Parts)
	for i, p := range facts.Parts {
		if p.ID != id {
			continue
		}
		facts.Parts[i].Features = slices.Clone(p.Features)
		at := slices.IndexFunc(p.Features, func(f graph.Feature) bool { return f.Name == feature })
		f := &facts.Parts[i].Features[at]
		f.Dims = maps.Clone(f.Dims)
		for k := 0; k+1 < len(dims); k += 2 {
			f.Dims[dims[k]] = []graph.Reading{{Text: dims[k+1]}}
		}
	}
	return facts
}

// TestBeyondItsOwnLimit: a disc, a rim and a chain that are beyond the limit they
// themselves have do not fit, also the very part that was built in. The limits are
// invented; that they decide is common practice, no source.
func TestBeyondItsOwnLimit(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	for _, test := range []struct {
		name, kind, dim, by string
		state, limit        string
		worn                bool
	}{
		{"thin disc", "disc-rim", "thickness", "minimum", "3.9 mm", "4.5 mm", true},
		{"disc at its limit", "disc-rim", "runout", "most-runout", "0.3 mm", "0.3 mm", false},
		{"disc out of true", "disc-rim", "runout", "most-runout", "0.4 mm", "0.3 mm", true},
		{"long chain", "chain", "span", "most-span", "330 mm", "323 mm", true},
		{"chain with some left", "chain", "span", "most-span", "322 mm", "323 mm", false},
		{"chain of which nobody knows the limit", "chain", "span", "", "330 mm", "", false},
		{"bent rim", "rim", "sway", "most-sway", "7 mm", "2 mm", true},
		{"rim that hops", "rim", "hop", "most-hop", "6 mm", "2 mm", true},
	} {
		t.Run(test.name, func(t *testing.T) {
			place, part, feature := builtWith(t, facts, "skerry-620/2005/eu", test.kind)
			dims := []string{test.dim, test.state}
			if test.by != "" {
				dims = append(dims, test.by, test.limit)
			}
			r := readertest.New(withDims(facts, part, feature, dims...))
			a := swapped(t, r, "skerry-620/2005/eu", []string{place.Local() + "=" + string(part)})
			told := slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool { return o.What == examine.OfWear })
			if told != test.worn || test.worn && a.Verdict != graph.DoesNotFit {
				t.Errorf("%s at %s: %s, wear told %t; want told %t", part, place, a.Verdict, told, test.worn)
			}
			q := fits.FitsQuestion{Part: string(part), On: "skerry-620/2005/eu", Position: place.Local()}
			b, err := swap.Fits(t.Context(), r, q)
			if err != nil || len(b.Rows) == 0 || (b.Rows[0].Verdict == graph.DoesNotFit) != test.worn {
				t.Errorf("what fits says %+v, %v; want worn %t", b.Rows, err, test.worn)
			}
		})
	}
}

// builtWith finds a place of a variant at which a part with a kind of feature is listed.
func builtWith(t *testing.T, facts graph.Facts, on graph.VariantID,
	kind string) (graph.PositionID, graph.PartID, string) {
	t.Helper()
	for _, f := range facts.Fitments {
		if !slices.Contains(f.On, on) {
			continue
		}
		at := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == f.Part })
		for _, g := range facts.Parts[at].Features {
			if g.Kind == kind {
				return f.Position, f.Part, g.Name
			}
		}
	}
	t.Fatalf("nothing with a %s is built on %s", kind, on)
	return "", "", ""
}

// TestKindThatDoesNotGo: a part of another sort does not go where a list puts it either;
// one that has a feature by which what belongs there meets others may stand for it.
func TestKindThatDoesNotGo(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	const on, pads = "skerry-620/2005/eu", "front-brake/pads-left"
	disc, _, _ := builtWith(t, facts, on, "disc-rim")
	at := slices.IndexFunc(facts.Fitments, func(f graph.Fitment) bool {
		return f.Position.Local() == pads && slices.Contains(f.On, on)
	})
	listed := func(part graph.PartID) graph.Facts {
		changed := facts
		changed.Fitments = slices.Clone(facts.Fitments)
		changed.Fitments[at].Part = part
		return changed
	}
	own, discPart := facts.Fitments[at].Part, facts.Fitments[slices.IndexFunc(facts.Fitments,
		func(f graph.Fitment) bool { return f.Position == disc && slices.Contains(f.On, on) })].Part
	standIn := func() graph.Facts { // pads by another kind, with what pads have
		changed := facts
		changed.Parts = slices.Clone(facts.Parts)
		changed.Parts[slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == own })].Kind = "brake-disc"
		return changed
	}
	for _, test := range []struct {
		name  string
		facts graph.Facts
		part  graph.PartID
		want  bool
	}{
		{"a disc that is listed for pads", listed(discPart), discPart, true},
		{"a disc that is not listed there", facts, discPart, true},
		{"the pads that are listed", facts, own, false},
		{"near miss: of another kind, with all that pads have", standIn(), own, false},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := swapped(t, readertest.New(test.facts), on, []string{pads + "=" + string(test.part)})
			told := slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool {
				return o.What == examine.OfKind && strings.Contains(o.Why, "does not go where a brake-pads belongs")
			})
			if told != test.want || test.want && a.Verdict != graph.DoesNotFit {
				t.Errorf("%s, told %t; want told %t", a.Verdict, told, test.want)
			}
		})
	}
}

// TestPadsOnAScrapDisc: new pads on a bike whose disc was found worn out are no ready brake,
// however well they go into their caliper; on a disc with metal left they fit. That a disc is
// measured when its pads are changed is common practice, no source.
func TestPadsOnAScrapDisc(t *testing.T) {
	facts := demotest.Facts(t)
	const pads, disc = "front-brake/pads-left", "front-brake/disc-left"
	for _, test := range []struct {
		thickness string
		want      graph.Verdict
	}{{"4.4 mm", graph.Unknown}, {"4.6 mm", graph.Fits}} {
		own := graph.Bike{ID: "own", Variant: "skerry-620/2005/eu", Found: []graph.Fitted{{AsBuilt: true,
			Position: "skerry-620:" + disc, Specimen: graph.Specimen{Measured: []graph.Measured{
				{Feature: "rim", Dim: "thickness", Text: test.thickness}}}}}}
		a, err := swap.Swap(t.Context(), readertest.New(facts).WithBikes(own), swap.SwapQuestion{On: "own",
			Swaps: []swap.Replacement{{Position: pads, Part: "Tarnholt 207.4047"}}})
		if err != nil {
			t.Fatal(err)
		}
		named := slices.ContainsFunc(a.NotReady, func(h swap.Hindrance) bool {
			return strings.Contains(h.String(), "pads-left")
		})
		if a.Verdict != test.want || named != (test.want == graph.Unknown) {
			t.Errorf("disc of %s: %s, %v, want %s", test.thickness, a.Verdict, a.NotReady, test.want)
		}
	}
}
