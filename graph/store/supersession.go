package store

import (
	"github.com/cayleygraph/quad"

	"matewell/graph"
)

func supersessionCodec() codec[graph.SupersessionID, graph.Supersession] {
	return codec[graph.SupersessionID, graph.Supersession]{
		class: classSupersession,
		name:  "supersession",
		list:  func(f *graph.Facts) *[]graph.Supersession { return &f.Supersessions },
		merge: mergeSupersessions,
		edges: func(v graph.Supersession, e *edgesTo) {
			edge(e, edgeOld, v.Old)
			edge(e, edgeNew, v.New)
		},
		id:    func(v graph.Supersession) graph.SupersessionID { return v.ID },
		write: writeSupersession,
		read:  readSupersession,
	}
}

func writeSupersession(s *sheet, v graph.Supersession) {
	p := s.about(iri(v.ID), classSupersession, v.Said)
	link(p, termOld, v.Old)
	link(p, termNew, v.New)
	writeUsable(p, termNewOnOld, v.NewOnOld)
	writeUsable(p, termOldOnNew, v.OldOnNew)
	writeScope(p, v.Scope)
	writeContents(p, termCompanion, v.Companions)
	p.text(termReason, v.Reason)
	p.text(termPublished, v.Date)
	if v.Old != "" && v.New != "" {
		p.deriveAbout(iri(v.Old), termPredecessorOf, iri(v.New))
		p.deriveAbout(iri(v.New), termSuccessorOf, iri(v.Old))
	}
}

func readSupersession(r *record) graph.Supersession {
	return graph.Supersession{
		ID:         self[graph.SupersessionID](r),
		Old:        linked[graph.PartID](r, termOld),
		New:        linked[graph.PartID](r, termNew),
		NewOnOld:   readUsable(r, termNewOnOld),
		OldOnNew:   readUsable(r, termOldOnNew),
		Scope:      readScope(r),
		Companions: readContents(r, termCompanion),
		Reason:     r.text(termReason),
		Date:       r.text(termPublished),
		Said:       r.said(),
	}
}

// writeUsable writes yes and no in words; "not stated" is not written.
func writeUsable(p page, predicate quad.IRI, u graph.Usable) {
	if u != graph.NotStated {
		p.text(predicate, u.String())
	}
}

// readUsable reads what is stated. Anything else is "not stated", which never
// means yes.
func readUsable(r *record, predicate quad.IRI) graph.Usable {
	switch r.text(predicate) {
	case graph.Yes.String():
		return graph.Yes
	case graph.No.String():
		return graph.No
	}
	return graph.NotStated
}
