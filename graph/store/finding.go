package store

import "matewell/graph"

func findingCodec() codec[graph.FindingID, graph.Finding] {
	return codec[graph.FindingID, graph.Finding]{
		class: classFinding,
		name:  "finding", every: true,
		list:  func(f *graph.Facts) *[]graph.Finding { return &f.Findings },
		merge: mergeFindings,
		edges: func(v graph.Finding, e *edgesTo) {
			edge(e, edgeFindingPart, v.Part)
			edge(e, edgeFindingAt, v.Position)
		},
		id:    func(v graph.Finding) graph.FindingID { return v.ID },
		write: writeFinding,
		read:  readFinding,
	}
}

// writeFinding labels a finding by its source, or by itself when it is first
// hand.
func writeFinding(s *sheet, v graph.Finding) {
	label := sourceLabel(v.Source)
	if label == nil {
		label = iri(v.ID)
	}
	p := s.aboutItself(iri(v.ID), classFinding, label, v.Pos)
	link(p, termPart, v.Part)
	link(p, termPosition, v.Position)
	link(p, termOn, v.On...)
	link(p, termBike, v.Bike)
	p.text(termVerdict, v.Verdict.String())
	p.parts(termChanges, len(v.Changes), func(part page, i int) {
		part.text(termDo, v.Changes[i].Do)
		part.number(termEffort, int(v.Changes[i].Effort))
		link(part, termPart, v.Changes[i].Part)
	})
	writeMeasured(p, v.Measured)
	p.text(termMethod, string(v.Method))
	p.text(termFoundOn, v.Date)
	link(p, termBy, personID(v.By))
	link(p, termOrigin, originID(v.Origin))
	p.list(termPhotos, texts(v.Photos))
	p.text(termNote, v.Note)
	p.text(termWithdrawn, v.Withdrawn)
	p.text(termWithdrawnOn, v.WithdrawnOn)
}

func readFinding(r *record) graph.Finding {
	photos := r.list(termPhotos)
	v := graph.Finding{
		ID:          self[graph.FindingID](r),
		Part:        linked[graph.PartID](r, termPart),
		Position:    linked[graph.PositionID](r, termPosition),
		On:          links[graph.VariantID](r, termOn),
		Bike:        linked[graph.BikeID](r, termBike),
		Verdict:     verdict(r),
		Method:      graph.Method(r.text(termMethod)),
		Date:        r.text(termFoundOn),
		By:          string(linked[personID](r, termBy)),
		Origin:      string(linked[originID](r, termOrigin)),
		Photos:      plainTexts(photos),
		Note:        r.text(termNote),
		Withdrawn:   r.text(termWithdrawn),
		WithdrawnOn: r.text(termWithdrawnOn),
		Pos:         r.place(termAt),
	}
	for _, c := range r.said() {
		v.Source = c.Source
	}
	for _, c := range r.ordered(termChanges) {
		v.Changes = append(v.Changes, graph.Change{Do: c.text(termDo),
			Effort: graph.Effort(c.number(termEffort)), Part: linked[graph.PartID](c, termPart)})
	}
	v.Measured = readMeasured(r)
	return v
}

// writeMeasured writes what somebody measured on one very part.
func writeMeasured(p page, list []graph.Measured) {
	p.parts(termMeasured, len(list), func(part page, i int) {
		part.text(termOfFeature, list[i].Feature)
		part.text(termOfDimension, list[i].Dim)
		part.text(rdfValue, list[i].Text)
		part.text(termWith, list[i].With)
	})
}

func readMeasured(r *record) []graph.Measured {
	var list []graph.Measured
	for _, m := range r.ordered(termMeasured) {
		list = append(list, graph.Measured{Feature: m.text(termOfFeature), Dim: m.text(termOfDimension),
			Text: m.text(rdfValue), With: m.text(termWith)})
	}
	return list
}

// verdict reads a verdict in words; one that is absent or not understood is no
// verdict, never "fits".
func verdict(r *record) graph.Verdict {
	v, err := graph.ParseVerdict(r.text(termVerdict))
	if err != nil {
		return graph.NoVerdict
	}
	return v
}
