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
	p.parts(termKits, len(v.Kits), func(part page, i int) { writeJobPart(part, v.Kits[i]) })
	p.parts(termInnerParts, len(v.Parts), func(part page, i int) { writeJobPart(part, v.Parts[i]) })
	p.parts(termFill, len(v.Fill), func(part page, i int) {
		part.jobLine(v.Fill[i].JobLine)
		part.text(termSpec, v.Fill[i].Spec)
		part.text(termAmount, v.Fill[i].Amount)
		part.text(termWhere, v.Fill[i].Where)
	})
	p.parts(termLook, len(v.Look), func(part page, i int) {
		part.jobLine(v.Look[i].JobLine)
		part.text(termLookFor, v.Look[i].For)
		part.text(termLimit, v.Look[i].Limit)
		part.text(termWith, v.Look[i].Gauge)
	})
	p.jobLines(termSteps, v.Steps)
	p.jobLines(termChecks, v.Checks)
	p.jobLines(termCautions, v.Cautions)
}

func writeJobPart(p page, v graph.JobPart) {
	p.jobLine(v.JobLine)
	link(p, termPart, v.Part)
	p.number(termQuantity, v.Quantity)
	p.yes(termRenewed, v.Renew)
}

func (p page) jobLines(predicate quad.IRI, list []graph.JobLine) {
	p.parts(predicate, len(list), func(part page, i int) { part.jobLine(list[i]) })
}

// jobLine writes a line with who says so: a line of a job may rest on another source
// than the job.
func (p page) jobLine(v graph.JobLine) {
	p.text(termText, v.Text)
	p.scope(v.Scope)
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
		Kits:     r.jobParts(termKits),
		Parts:    r.jobParts(termInnerParts),
		Steps:    r.jobLines(termSteps),
		Checks:   r.jobLines(termChecks),
		Cautions: r.jobLines(termCautions),
		Said:     r.said(),
	}
	for _, item := range r.ordered(termFill) {
		v.Fill = append(v.Fill, graph.JobFill{JobLine: item.jobLine(), Spec: item.text(termSpec), Amount: item.text(termAmount),
			Where: item.text(termWhere)})
	}
	for _, item := range r.ordered(termLook) {
		v.Look = append(v.Look, graph.JobLook{JobLine: item.jobLine(), For: item.text(termLookFor), Limit: item.text(termLimit),
			Gauge: item.text(termWith)})
	}
	return v
}

func (r *record) jobParts(predicate quad.IRI) []graph.JobPart {
	var list []graph.JobPart
	for _, item := range r.ordered(predicate) {
		list = append(list, graph.JobPart{JobLine: item.jobLine(), Part: linked[graph.PartID](item, termPart),
			Quantity: item.number(termQuantity), Renew: item.yes(termRenewed)})
	}
	return list
}

func (r *record) jobLines(predicate quad.IRI) []graph.JobLine {
	var list []graph.JobLine
	for _, item := range r.ordered(predicate) {
		list = append(list, item.jobLine())
	}
	return list
}

func (r *record) jobLine() graph.JobLine {
	v := graph.JobLine{Text: r.text(termText), Scope: r.scope()}
	for _, cite := range r.ordered(termSaid) {
		v.Said = append(v.Said, graph.Cite{Source: linked[graph.SourceID](cite, termOrigin), Pos: cite.place(termAt)})
	}
	return v
}
