package store

import "matewell/graph"

func sourceCodec() codec[graph.SourceID, graph.Source] {
	return codec[graph.SourceID, graph.Source]{
		class: classSource,
		name:  "source", every: true,
		list:  func(f *graph.Facts) *[]graph.Source { return &f.Sources },
		merge: mergeSources,
		id:    func(v graph.Source) graph.SourceID { return v.ID },
		write: writeSource,
		read:  readSource,
	}
}

// writeSource describes a source under its own label.
func writeSource(s *sheet, v graph.Source) {
	p := s.aboutItself(iri(v.ID), classSource, iri(v.ID), v.Pos)
	p.text(termSourceKind, string(v.Kind))
	p.text(termName, v.Title)
	p.text(termPublished, v.Date)
	writeScope(p, v.Scope)
	link(p, termOrigin, v.Origin)
}

func readSource(r *record) graph.Source {
	return graph.Source{
		ID:     self[graph.SourceID](r),
		Kind:   graph.SourceKind(r.text(termSourceKind)),
		Title:  r.text(termName),
		Date:   r.text(termPublished),
		Scope:  readScope(r),
		Origin: linked[graph.SourceID](r, termOrigin),
		Pos:    r.place(termAt),
	}
}
