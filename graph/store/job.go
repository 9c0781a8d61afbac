package store

import (
	"github.com/cayleygraph/quad"

	"matewell/graph"
)

func jobCodec() codec[graph.JobID, graph.Job] {
	return codec[graph.JobID, graph.Job]{
		class: classJob,
		name:  "job", every: true,
		list:  func(f *graph.Facts) *[]graph.Job { return &f.Jobs },
		merge: mergeJobs,
		id:    func(v graph.Job) graph.JobID { return v.ID },
		write: writeJob,
		read:  readJob,
	}
}

func writeJob(s *sheet, v graph.Job) {
	p := s.about(iri(v.ID), classJob, v.Said)
	p.text(termName, v.Name)
	link(p, termPosition, v.Places...)
	link(p, termKind, v.Kinds...)
	p.parts(termKits, len(v.Kits), func(part page, i int) { writeJobPart(part, v.Kits[i]) })
	p.parts(termInnerParts, len(v.Parts), func(part page, i int) { writeJobPart(part, v.Parts[i]) })
	p.parts(termFill, len(v.Fill), func(part page, i int) {
		writeJobLine(part, v.Fill[i].JobLine)
		part.text(termSpec, v.Fill[i].Spec)
		part.text(termAmount, v.Fill[i].Amount)
		part.text(termWhere, v.Fill[i].Where)
	})
	p.parts(termLook, len(v.Look), func(part page, i int) {
		writeJobLine(part, v.Look[i].JobLine)
		part.text(termLookFor, v.Look[i].For)
		part.text(termLimit, v.Look[i].Limit)
		part.text(termWith, v.Look[i].Gauge)
	})
	writeJobLines(p, termSteps, v.Steps)
	writeJobLines(p, termChecks, v.Checks)
	writeJobLines(p, termCautions, v.Cautions)
}

func writeJobPart(p page, v graph.JobPart) {
	writeJobLine(p, v.JobLine)
	link(p, termPart, v.Part)
	p.text(termFeatureKind, v.Feature)
	link(p, termKind, v.Kinds...)
	link(p, termBelongsTo, v.Of...)
	p.number(termQuantity, v.Quantity)
	p.yes(termRenewed, v.Renew)
}

func writeJobLines(p page, predicate quad.IRI, list []graph.JobLine) {
	p.parts(predicate, len(list), func(part page, i int) { writeJobLine(part, list[i]) })
}

// writeJobLine writes a line with who says so: a line of a job may rest on another source
// than the job.
func writeJobLine(p page, v graph.JobLine) {
	p.text(termText, v.Text)
	p.text(termLegs, string(v.Legs))
	writeScope(p, v.Scope)
	p.parts(termSaid, len(v.Said), func(part page, i int) {
		link(part, termOrigin, v.Said[i].Source)
		part.place(termAt, v.Said[i].Pos)
	})
}

func readJob(r *record) graph.Job {
	v := graph.Job{
		ID:       self[graph.JobID](r),
		Name:     r.text(termName),
		Places:   links[graph.PositionID](r, termPosition),
		Kinds:    links[graph.KindID](r, termKind),
		Kits:     jobParts(r, termKits),
		Parts:    jobParts(r, termInnerParts),
		Steps:    readJobLines(r, termSteps),
		Checks:   readJobLines(r, termChecks),
		Cautions: readJobLines(r, termCautions),
		Said:     r.said(),
	}
	for _, item := range r.ordered(termFill) {
		v.Fill = append(v.Fill, graph.JobFill{JobLine: readJobLine(item), Spec: item.text(termSpec),
			Amount: item.text(termAmount),
			Where:  item.text(termWhere)})
	}
	for _, item := range r.ordered(termLook) {
		v.Look = append(v.Look, graph.JobLook{JobLine: readJobLine(item), For: item.text(termLookFor),
			Limit: item.text(termLimit),
			Gauge: item.text(termWith)})
	}
	return v
}

func jobParts(r *record, predicate quad.IRI) []graph.JobPart {
	var list []graph.JobPart
	for _, item := range r.ordered(predicate) {
		list = append(list, graph.JobPart{JobLine: readJobLine(item), Part: linked[graph.PartID](item, termPart),
			Feature: item.text(termFeatureKind), Kinds: links[graph.KindID](item, termKind),
			Of: links[graph.KindID](item, termBelongsTo), Quantity: item.number(termQuantity), Renew: item.yes(termRenewed)})
	}
	return list
}

func readJobLines(r *record, predicate quad.IRI) []graph.JobLine {
	var list []graph.JobLine
	for _, item := range r.ordered(predicate) {
		list = append(list, readJobLine(item))
	}
	return list
}

func readJobLine(r *record) graph.JobLine {
	v := graph.JobLine{Text: r.text(termText), Scope: readScope(r), Legs: graph.LegForm(r.text(termLegs))}
	for _, cite := range r.ordered(termSaid) {
		v.Said = append(v.Said, graph.Cite{Source: linked[graph.SourceID](cite, termOrigin), Pos: cite.place(termAt)})
	}
	return v
}
