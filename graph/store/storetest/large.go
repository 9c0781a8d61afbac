package storetest

import (
	"fmt"

	"matewell/graph"
)

// Large makes a data set of about n quads, regular and invented, for
// measurements: two models of six variants each, 288 positions, and as many
// parts with fitments as are needed.
func Large(n int) graph.Facts {
	f := graph.Facts{
		Sources: []graph.Source{{ID: "list-a", Kind: graph.SourcePartsList}, {ID: "list-b", Kind: graph.SourceManual}},
		Brands:  []graph.Brand{{ID: "Tarnholt", Said: []graph.Cite{cite("list-a", "large/brands.yaml", 1, 1)}}},
	}
	for i := range 8 {
		f.Kinds = append(f.Kinds, graph.Kind{ID: graph.KindID(fmt.Sprintf("kind-%d", i)), Said: []graph.Cite{cite("list-a",
			"large/kinds.yaml", i, 1)}})
	}
	for _, model := range []graph.ModelID{"fjeld-750", "skerry-620"} {
		largeModel(&f, model)
	}
	for i := range n / 110 {
		largePart(&f, i)
	}
	return f
}

func largeModel(f *graph.Facts, model graph.ModelID) {
	said := []graph.Cite{cite("list-a", "large/"+string(model)+".yaml", 1, 1)}
	f.Models = append(f.Models, graph.Model{ID: model, Maker: "Tarnholt", Name: string(model), Said: said})
	for year := 2000; year < 2006; year++ {
		f.Variants = append(f.Variants, graph.Variant{ID: variantID(model, year), Model: model, Year: year, Market: "eu",
			Said: said})
	}
	for a := range 12 {
		assembly := graph.AssemblyID(fmt.Sprintf("%s:assembly-%02d", model, a))
		f.Assemblies = append(f.Assemblies, graph.Assembly{ID: assembly, Model: model, Name: string(assembly), Said: said})
		for p := range 12 {
			f.Positions = append(f.Positions, graph.Position{ID: positionID(model, a*12+p), Assembly: assembly, Model: model,
				Name: "position", Kind: graph.KindID(fmt.Sprintf("kind-%d", p%8)), Quantity: 1, Said: said,
				On: []graph.VariantID{variantID(model, 2000), variantID(model, 2003), variantID(model, 2004)}})
		}
	}
}

func variantID(model graph.ModelID, year int) graph.VariantID {
	return graph.VariantID(fmt.Sprintf("%s/%d/eu", model, year))
}

func positionID(model graph.ModelID, i int) graph.PositionID {
	return graph.PositionID(fmt.Sprintf("%s:assembly-%02d/position-%02d", model, i/12, i%12))
}

// LargePart is the identity of the i-th part of Large.
func LargePart(i int) graph.PartID { return graph.PartID(fmt.Sprintf("Tarnholt %03d.%04d", i%1000, i)) }

func largePart(f *graph.Facts, i int) {
	id := LargePart(i)
	said := []graph.Cite{cite("list-a", "large/parts.yaml", 10+i*20, 5)}
	part := graph.Part{ID: id, Brand: "Tarnholt", Number: graph.Number{Text: id.Number(), Core: id.Number()},
		Kind: graph.KindID(fmt.Sprintf("kind-%d", i%8)), Name: fmt.Sprintf("part %d", i), Said: said}
	for x, name := range []string{"mount", "port", "row"} {
		feature := graph.Feature{Name: name, Kind: name, Dims: map[string][]graph.Reading{}}
		for d, dim := range []string{"bore", "length", "thread", "width"} {
			line := 12 + i*20 + x*5 + d
			list := []graph.Reading{reading(fmt.Sprintf("%d.%d mm", i%97, d), "", cite("list-a", "large/parts.yaml", line, 9))}
			if d == 0 {
				list = append(list, reading(fmt.Sprintf("%d.%d5 mm", i%97, d), "vernier caliper", cite("list-b",
					"large/bench.yaml", line, 9)))
			}
			feature.Dims[dim] = list
		}
		part.Features = append(part.Features, feature)
	}
	f.Parts = append(f.Parts, part)
	for m, model := range []graph.ModelID{"fjeld-750", "skerry-620"} {
		f.Fitments = append(f.Fitments, graph.Fitment{ID: graph.FitmentID(fmt.Sprintf("fit-%d-%d", i, m)), Part: id,
			Position: positionID(model, i%144),
			Quantity: 1, On: []graph.VariantID{variantID(model, 2000+i%6), variantID(model, 2000+(i+1)%6)},
			Said: []graph.Cite{cite("list-a", "large/fitments.csv", i*2+m, 1)}})
	}
}
