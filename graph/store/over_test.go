package store_test

import (
	"context"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk/disktest"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

// Layers have to answer like one store that holds everything, however the
// facts are dealt out to them.
func TestOver(t *testing.T) {
	deals := []struct {
		name string
		deal func(f graph.Facts) []graph.Facts
	}{
		{"all below", func(f graph.Facts) []graph.Facts { return []graph.Facts{f, {}} }},
		{"all on top", func(f graph.Facts) []graph.Facts { return []graph.Facts{{}, f} }},
		{"the same twice", func(f graph.Facts) []graph.Facts { return []graph.Facts{f, f} }},
		{"by turns", byTurns},
	}
	for _, d := range deals {
		t.Run(d.name, func(t *testing.T) {
			storetest.Run(t, func(t *testing.T, f graph.Facts) graph.Reader {
				layers := d.deal(f)
				return memory(t, layers[0]).Over(memory(t, layers[1]))
			})
		})
	}
}

// byTurns deals every other record to the upper layer.
func byTurns(f graph.Facts) []graph.Facts {
	var a, b graph.Facts
	a.Sources, b.Sources = deal(f.Sources)
	a.Brands, b.Brands = deal(f.Brands)
	a.Kinds, b.Kinds = deal(f.Kinds)
	a.Models, b.Models = deal(f.Models)
	a.Variants, b.Variants = deal(f.Variants)
	a.Assemblies, b.Assemblies = deal(f.Assemblies)
	a.Positions, b.Positions = deal(f.Positions)
	a.Parts, b.Parts = deal(f.Parts)
	a.Fitments, b.Fitments = deal(f.Fitments)
	a.Joints, b.Joints = deal(f.Joints)
	a.Runs, b.Runs = deal(f.Runs)
	a.Circuits, b.Circuits = deal(f.Circuits)
	a.Stacks, b.Stacks = deal(f.Stacks)
	a.Supersessions, b.Supersessions = deal(f.Supersessions)
	a.Findings, b.Findings = deal(f.Findings)
	a.Bikes, b.Bikes = deal(f.Bikes)
	a.Jobs, b.Jobs = deal(f.Jobs)
	return []graph.Facts{a, b}
}

func deal[T any](list []T) (a, b []T) {
	for i, v := range list {
		if i%2 == 0 {
			a = append(a, v)
		} else {
			b = append(b, v)
		}
	}
	return a, b
}

func said(source graph.SourceID, line int) graph.Cite {
	return graph.Cite{Source: source, Pos: diag.Pos{File: "f.yaml", Line: line, Col: 1}}
}

func bore(text, method string, c graph.Cite) graph.Reading {
	return graph.Reading{Text: text, Method: method, Cite: c}
}

func part(name, note string, c graph.Cite, bores ...graph.Reading) graph.Facts {
	return graph.Facts{Parts: []graph.Part{{ID: "Tarnholt 1", Name: name, Note: note, Said: []graph.Cite{c},
		Features: []graph.Feature{{Name: "mount", Kind: "bore", Dims: map[string][]graph.Reading{"diameter": bores}}}}}}
}

func TestLayersAddReadingsAndContradict(t *testing.T) {
	list, bench := said("list", 3), said("bench", 8)
	below := part("hub", "heavy", list, bore("20 mm", "", list))
	above := part("hub, front", "", bench, bore("20.2 mm", "bore gauge", bench))
	got := factsOf(t, memory(t, below).Over(memory(t, above)))
	want := part("hub, front", "heavy", list, bore("20.2 mm", "bore gauge", bench), bore("20 mm", "", list))
	want.Parts[0].Said = []graph.Cite{bench, list}
	storetest.Same(t, got, want)
}

// One source may be in both layers: what it says in each stays together.
func TestLayersKeepReadingsOfOneSourceApart(t *testing.T) {
	first, second, third := said("bench", 3), said("bench", 8), said("bench", 9)
	below := part("hub", "", first, bore("20 mm", "vernier caliper", first))
	above := part("hub", "", first, bore("20.1 mm", "bore gauge", second), bore("20.2 mm", "", third))
	got := factsOf(t, memory(t, below).Over(memory(t, above)))
	want := part("hub", "", first, bore("20 mm", "vernier caliper", first), bore("20.1 mm", "bore gauge", second),
		bore("20.2 mm", "", third))
	storetest.Same(t, got, want)
}

func TestUpperLayerReplacesOrderedLists(t *testing.T) {
	finding := func(changes ...graph.Change) graph.Facts {
		return graph.Facts{Findings: []graph.Finding{{ID: "f-1", Changes: changes}}}
	}
	below := finding(graph.Change{Do: "shim it", Effort: graph.EffortDrillShim, Part: "Tarnholt 9"},
		graph.Change{Do: "bleed it"})
	above := finding(graph.Change{Do: "turn a spacer"})
	s := memory(t, below).Over(memory(t, above))
	storetest.Same(t, factsOf(t, s), above)
	storetest.Same(t, factsOf(t, memory(t, above).Over(memory(t, graph.Facts{Findings: []graph.Finding{{ID: "f-1",
		Note: "seen"}}}))).Findings[0].Changes,
		above.Findings[0].Changes)
}

func TestUpperLayerReplacesWhatABikeHasAtAPosition(t *testing.T) {
	bike := func(found ...graph.Fitted) graph.Facts {
		return graph.Facts{Bikes: []graph.Bike{{ID: "winter-project", Found: found}}}
	}
	below := bike(graph.Fitted{Position: "m:a/x", Part: "Tarnholt 1", Note: "bent"}, graph.Fitted{Position: "m:a/y",
		Part: "Tarnholt 2"})
	above := bike(graph.Fitted{Position: "m:a/x", Part: "Tarnholt 3"})
	storetest.Same(t, factsOf(t, memory(t, below).Over(memory(t, above))),
		bike(graph.Fitted{Position: "m:a/x", Part: "Tarnholt 3"}, graph.Fitted{Position: "m:a/y", Part: "Tarnholt 2"}))
}

func TestWithdrawingAFindingInAnUpperLayer(t *testing.T) {
	below := graph.Facts{Findings: []graph.Finding{{ID: "f-1", Verdict: graph.Fits, By: "gull"}}}
	above := graph.Facts{Findings: []graph.Finding{{ID: "f-1", Withdrawn: "wrong part", WithdrawnOn: "2024-06-01"}}}
	storetest.Same(t, factsOf(t, memory(t, below).Over(memory(t, above))),
		graph.Facts{Findings: []graph.Finding{{ID: "f-1", Verdict: graph.Fits, By: "gull", Withdrawn: "wrong part",
			WithdrawnOn: "2024-06-01"}}})
}

func TestALayeredStoreIsReadOnly(t *testing.T) {
	s := memory(t, graph.Facts{}).Over(memory(t, graph.Facts{}))
	if err := s.Put(context.Background(), storetest.Sample(), nil); err == nil {
		t.Error("Put into a layered store succeeded")
	}
}

func TestLayersOnDiskAndInMemory(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, storetest.Sample())
	disk, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	s := disk.Over(memory(t, oneModel("fjeld-750")))
	if got := models(t, s); got != "fjeld-750 skerry-620" {
		t.Errorf("models %q, want those of both layers", got)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
	if _, err := disk.Models(context.Background()); err == nil {
		t.Error("the lower layer is still open after Close")
	}
}

// Putting one thing after the other into one store adds as layers do, except
// that there is no order: of a single-valued fact the smallest text is given.
func TestPutTwice(t *testing.T) {
	ctx := context.Background()
	s := memory(t, storetest.Sample())
	before := nquadsOf(t, s)
	if err := s.Put(ctx, storetest.Sample(), nil); err != nil {
		t.Fatal(err)
	}
	if nquadsOf(t, s) != before {
		t.Error("putting the same again changed the store")
	}
	list, bench := said("list", 3), said("bench", 8)
	two := memory(t, part("hub", "", list, bore("20 mm", "", list)))
	if err := two.Put(ctx, part("axle", "", bench, bore("21 mm", "", bench)), nil); err != nil {
		t.Fatal(err)
	}
	want := part("axle", "", bench, bore("21 mm", "", bench), bore("20 mm", "", list))
	want.Parts[0].Said = []graph.Cite{bench, list}
	storetest.Same(t, factsOf(t, two), want)
}
