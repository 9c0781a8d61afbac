package store

import (
	"maps"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

func brandCodec() codec[graph.BrandID, graph.Brand] {
	return codec[graph.BrandID, graph.Brand]{
		class: classBrand,
		name:  "brand", every: true,
		list:  func(f *graph.Facts) *[]graph.Brand { return &f.Brands },
		merge: mergeBrands,
		id:    func(v graph.Brand) graph.BrandID { return v.ID },
		write: func(s *sheet, v graph.Brand) {
			p := s.about(iri(v.ID), classBrand, v.Said)
			p.text(termFormCore, v.Form.Core)
			p.text(termFormRevision, v.Form.Revision)
			p.text(termFormColour, v.Form.Colour)
		},
		read: func(r *record) graph.Brand {
			return graph.Brand{
				ID: self[graph.BrandID](r),
				Form: graph.NumberForm{Core: r.text(termFormCore), Revision: r.text(termFormRevision),
					Colour: r.text(termFormColour)},
				Said: r.said(),
			}
		},
	}
}

func kindCodec() codec[graph.KindID, graph.Kind] {
	return codec[graph.KindID, graph.Kind]{
		class: classKind,
		name:  "kind", every: true,
		list:  func(f *graph.Facts) *[]graph.Kind { return &f.Kinds },
		merge: mergeKinds,
		edges: func(v graph.Kind, e *edgesTo) {
			for _, f := range v.Features {
				edge(e, edgeOffers, featureKindID(f.Kind))
			}
		},
		id:    func(v graph.Kind) graph.KindID { return v.ID },
		write: writeKind,
		read:  readKind,
	}
}

func writeKind(s *sheet, v graph.Kind) {
	p := s.about(iri(v.ID), classKind, v.Said)
	p.text(termName, v.Name)
	p.text(termMeaning, v.Is)
	p.text(termSafety, string(v.Safety))
	p.texts(termRoad, v.Road)
	p.yes(termJoins, v.Joins)
	for _, f := range v.Features {
		part := p.part(termFeature, "feature", f.Name)
		part.text(termName, f.Name)
		part.text(termFeatureKind, f.Kind)
		part.yes(termMay, f.May)
		part.yes(termDirect, f.Direct)
		for _, i := range f.Informs {
			part.text(termInforms, i.Dim+" "+i.Why)
		}
		p.derive(termOffers, iri(featureKindID(f.Kind)))
	}
}

func readKind(r *record) graph.Kind {
	v := graph.Kind{ID: self[graph.KindID](r), Name: r.text(termName), Is: r.text(termMeaning),
		Safety: graph.Safety(r.text(termSafety)), Road: r.texts(termRoad),
		Joins: r.yes(termJoins), Said: r.said()}
	for _, f := range r.keyed(termFeature) {
		v.Features = append(v.Features, graph.KindFeature{Name: f.text(termName),
			Kind: f.text(termFeatureKind), May: f.yes(termMay), Direct: f.yes(termDirect),
			Informs: informings(f.texts(termInforms))})
	}
	v.Features = sortedBy(v.Features, func(f graph.KindFeature) string { return f.Name })
	return v
}

// informings are the dimensions behind texts of a dimension, a blank and why.
func informings(texts []string) []graph.Informing {
	var list []graph.Informing
	for _, text := range texts {
		dim, why, _ := strings.Cut(text, " ")
		list = append(list, graph.Informing{Dim: dim, Why: why})
	}
	return list
}

func partCodec() codec[graph.PartID, graph.Part] {
	return codec[graph.PartID, graph.Part]{
		class: classPart,
		name:  "part",
		list:  func(f *graph.Facts) *[]graph.Part { return &f.Parts },
		merge: mergeParts,
		edges: func(v graph.Part, e *edgesTo) {
			for _, c := range v.Contains {
				edge(e, edgeContains, c.Part)
			}
		},
		id:    func(v graph.Part) graph.PartID { return v.ID },
		write: writePart,
		read:  readPart,
	}
}

func writePart(s *sheet, v graph.Part) {
	p := s.about(iri(v.ID), classPart, v.Said)
	link(p, termBrand, v.Brand)
	partNumber(p, v.Number)
	link(p, termKind, v.Kind)
	p.text(termName, v.Name)
	writeAliases(p, v.Aliases)
	for _, f := range v.Features {
		writeFeature(p, f)
	}
	writeContents(p, termContent, v.Contains)
	for _, c := range v.Contains {
		p.derive(termContains, iri(c.Part))
	}
	p.yes(termMatched, v.Matched)
	p.readings(termPrice, v.Price)
	p.yes(termGone, v.Gone)
	p.text(termNote, v.Note)
	key(p, string(v.ID))
}

func readPart(r *record) graph.Part {
	v := graph.Part{
		ID:    self[graph.PartID](r),
		Brand: linked[graph.BrandID](r, termBrand),
		Number: graph.Number{Text: r.text(termNumber), Core: r.text(termCore),
			Revision: r.text(termRevision), Colour: r.text(termColour)},
		Kind:     linked[graph.KindID](r, termKind),
		Name:     r.text(termName),
		Aliases:  readAliases(r),
		Contains: readContents(r, termContent),
		Matched:  r.yes(termMatched),
		Price:    readings(r, termPrice),
		Gone:     r.yes(termGone),
		Note:     r.text(termNote),
		Said:     r.said(),
	}
	for _, f := range r.keyed(termFeature) {
		v.Features = append(v.Features, readFeature(f))
	}
	v.Features = sortedBy(v.Features, func(f graph.Feature) string { return f.Name })
	return v
}

func partNumber(p page, n graph.Number) {
	p.text(termNumber, n.Text)
	p.text(termCore, n.Core)
	p.text(termRevision, n.Revision)
	p.text(termColour, n.Colour)
	key(p, n.Text)
	key(p, n.Core)
}

// key lets the part be found by a spelling of something it is known by.
func key(p page, text string) {
	if key := graph.NumberKey(text); key != "" {
		p.derive(termKey, quad.String(key))
	}
}

func writeAliases(p page, list []graph.Alias) {
	for _, a := range list {
		p.fact(under(termAlias, string(a.Type)), quad.String(a.Text))
		key(p, a.Text)
	}
}

func readAliases(r *record) []graph.Alias {
	var list []graph.Alias
	for _, v := range r.values {
		if name, ok := strings.CutPrefix(string(v.predicate), string(termAlias)); ok {
			list = append(list, graph.Alias{Type: graph.AliasType(unescape(name)), Text: plainText(v.object)})
		}
	}
	slices.SortFunc(list, compareAliases)
	return slices.Compact(list)
}

// writeContents writes lines of part and quantity: of a kit, or what must be changed
// along with a supersession.
func writeContents(p page, predicate quad.IRI, list []graph.Content) {
	for _, c := range list {
		line := p.part(predicate, lastStep(predicate), string(c.Part))
		link(line, termPart, c.Part)
		line.number(termQuantity, c.Quantity)
	}
}

func readContents(r *record, predicate quad.IRI) []graph.Content {
	var list []graph.Content
	for _, line := range r.keyed(predicate) {
		list = append(list, graph.Content{Part: linked[graph.PartID](line, termPart), Quantity: line.number(termQuantity)})
	}
	return sortedBy(list, func(c graph.Content) graph.PartID { return c.Part })
}

func writeFeature(p page, f graph.Feature) {
	part := p.part(termFeature, "feature", f.Name)
	part.text(termName, f.Name)
	part.text(termFeatureKind, f.Kind)
	for _, name := range slices.Sorted(maps.Keys(f.Dims)) {
		part.readings(under(termDim, name), f.Dims[name])
	}
}

func readFeature(r *record) graph.Feature {
	f := graph.Feature{Name: r.text(termName), Kind: r.text(termFeatureKind)}
	for name, list := range quantities(r, termDim) {
		if f.Dims == nil {
			f.Dims = map[string][]graph.Reading{}
		}
		f.Dims[unescape(name)] = list
	}
	return f
}
