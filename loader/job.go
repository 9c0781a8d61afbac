package loader

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawJob is the rebuilding of an assembly as written.
type rawJob struct {
	at       diag.Pos
	name     word
	models   []word
	places   []word
	kinds    []word
	kits     []rawJobPart
	parts    []rawJobPart
	fill     []rawJobFill
	look     []rawJobLook
	steps    []rawJobLine
	checks   []rawJobLine
	cautions []rawJobLine
	source   []word
}

// rawJobLine is a line of a job: what every sort of it has.
type rawJobLine struct {
	at     diag.Pos
	text   word
	on     rawScope
	legs   word
	source []word
}

type rawJobPart struct {
	rawJobLine
	part     word
	feature  word
	kinds    []word
	of       []word
	quantity number
	renew    flag
}

type rawJobFill struct {
	rawJobLine
	spec, amount, where word
}

type rawJobLook struct {
	rawJobLine
	looksFor, limit, gauge word
}

func jobForm() form[rawJob] {
	return mapping("a job", func(j *rawJob) *diag.Pos { return &j.at },
		need(says("what is done, in a few words", key("name", phrase().form(), func(j *rawJob) *word { return &j.name }))),
		says("the models it is done on alike; with places", key("models", oneOrMore("models", name().form()),
			func(j *rawJob) *[]word { return &j.models })),
		says("the positions that are rebuilt; with models", key("places", oneOrMore("positions", free().form()),
			func(j *rawJob) *[]word { return &j.places })),
		says("kinds of part, for a job of any machine that has one, instead of models and places; what one of them may "+
			"sit at is rebuilt", key("kinds", oneOrMore("kinds", name().form()),
			func(j *rawJob) *[]word { return &j.kinds })),
		says("kits that bring inner parts", key("kits", list("kits", jobPartForm("a kit of a job")),
			func(j *rawJob) *[]rawJobPart { return &j.kits })),
		says("inner parts, in the order they are laid out", key("parts", list("parts", jobPartForm("a part of a job")),
			func(j *rawJob) *[]rawJobPart { return &j.parts })),
		says("fluids, oils and greases", key("fill", list("fluids", jobFillForm()),
			func(j *rawJob) *[]rawJobFill { return &j.fill })),
		says("what to inspect once it is apart", key("inspect", list("things to inspect", jobLookForm()),
			func(j *rawJob) *[]rawJobLook { return &j.look })),
		need(says("what is done, in order", key("steps", jobLines("steps"),
			func(j *rawJob) *[]rawJobLine { return &j.steps }))),
		says("what is tried afterwards", key("checks", jobLines("checks"),
			func(j *rawJob) *[]rawJobLine { return &j.checks })),
		says("what can hurt somebody or spoil the work", key("cautions", jobLines("cautions"),
			func(j *rawJob) *[]rawJobLine { return &j.cautions })),
		sourceKey(func(j *rawJob) *[]word { return &j.source }))
}

// jobLines reads sentences, each alone or with its machines and source.
func jobLines(is string) form[[]rawJobLine] {
	text := func(l *rawJobLine) *word { return &l.text }
	full := mapping("a line of a job", func(l *rawJobLine) *diag.Pos { return &l.at }, append([]field[rawJobLine]{
		need(says("the sentence", key("do", free().form(), text)))},
		lineFields(func(l *rawJobLine) *rawJobLine { return l })...)...)
	return list(is, wordOr(free(), text, full))
}

// lineFields are the keys that every sort of line has besides what it says.
func lineFields[T any](of func(*T) *rawJobLine) []field[T] {
	return []field[T]{
		says("the machines it holds for; all of the job's when left out", key("on", scopeForm(),
			func(t *T) *rawScope { return &of(t).on })),
		says("the form of fork leg that it holds for; any when left out", key("legs",
			oneOf(graph.Conventional, graph.UpsideDown).form(), func(t *T) *word { return &of(t).legs })),
		sourceKey(func(t *T) *[]word { return &of(t).source }),
	}
}

func jobPartForm(is string) form[rawJobPart] {
	fields := []field[rawJobPart]{
		says("what it is; the name of the part when left out", key("what", phrase().form(),
			func(p *rawJobPart) *word { return &p.text })),
		says("brand, one space, number", key("part", phrase().form(), func(p *rawJobPart) *word { return &p.part })),
		says("kind of feature, such as bearing, of what this means: on a machine each such part that meets what is rebuilt "+
			"is named instead", key("feature", phrase().form(), func(p *rawJobPart) *word { return &p.feature })),
		says("kinds of part, such as dust-seal, of what this means: on a machine each place for one that meets what is "+
			"rebuilt, or else lies in its assembly, is named instead", key("kinds", oneOrMore("kinds", name().form()),
			func(p *rawJobPart) *[]word { return &p.kinds })),
		says("kinds of part, such as drain-plug, that it belongs to, where that is not what is rebuilt", key("of",
			oneOrMore("kinds", name().form()), func(p *rawJobPart) *[]word { return &p.of })),
		says("how many for the whole job, or for each place of its kinds; 1 when left out", key("quantity", count().form(),
			func(p *rawJobPart) *number { return &p.quantity })),
		says("yes when it goes in new every time", key("renew", yesNo().form(),
			func(p *rawJobPart) *flag { return &p.renew })),
	}
	return mapping(is, func(p *rawJobPart) *diag.Pos { return &p.at },
		append(fields, lineFields(func(p *rawJobPart) *rawJobLine { return &p.rawJobLine })...)...)
}

func jobFillForm() form[rawJobFill] {
	fields := []field[rawJobFill]{
		need(says("brake fluid, fork oil, grease ...", key("what", phrase().form(),
			func(f *rawJobFill) *word { return &f.text }))),
		says("which sort, such as DOT 4; the manual must say when left out", key("spec", phrase().form(),
			func(f *rawJobFill) *word { return &f.spec })),
		says("how much, with its unit, where a source says", key("amount", phrase().form(),
			func(f *rawJobFill) *word { return &f.amount })),
		says("where it goes", key("where", phrase().form(), func(f *rawJobFill) *word { return &f.where })),
	}
	return mapping("a fluid of a job", func(f *rawJobFill) *diag.Pos { return &f.at },
		append(fields, lineFields(func(f *rawJobFill) *rawJobLine { return &f.rawJobLine })...)...)
}

func jobLookForm() form[rawJobLook] {
	fields := []field[rawJobLook]{
		need(says("what is inspected", key("what", phrase().form(), func(l *rawJobLook) *word { return &l.text }))),
		says("what to look for", key("for", free().form(), func(l *rawJobLook) *word { return &l.looksFor })),
		says("the limit as the source has it: at least 4.5 mm", key("limit", phrase().form(),
			func(l *rawJobLook) *word { return &l.limit })),
		says("what it is measured with", key("with", phrase().form(), func(l *rawJobLook) *word { return &l.gauge })),
	}
	return mapping("a thing to inspect", func(l *rawJobLook) *diag.Pos { return &l.at },
		append(fields, lineFields(func(l *rawJobLook) *rawJobLine { return &l.rawJobLine })...)...)
}

func resolveJobs(w *world) {
	for _, f := range w.files {
		for i := range f.jobs {
			resolveJob(w, f, &f.jobs[i])
		}
	}
}

func resolveJob(w *world, f *dataFile, raw *named[rawJob]) {
	item := &raw.item
	job := graph.Job{ID: graph.JobID(raw.name.text), Name: item.name.text, Said: w.cites(f, raw.name.pos, item.source)}
	if before := w.jobs.origin(job.ID); before.pos != (diag.Pos{}) && !before.base && before.layer == f.layer {
		d := w.Errorf(raw.name.pos, "duplicate", "job %q is given twice", job.ID)
		d.Related = before.related()
		return
	}
	var models []*modelInfo
	for _, id := range item.models {
		if m, known := knownModel(w, id); known {
			models = append(models, m)
		}
	}
	checkJobIsFor(w, raw)
	job.Places, job.Kinds = jobPlaces(w, models, item.places), jobKinds(w, item.kinds)
	l := jobLiner{w, f, models, item.source}
	for _, p := range item.kits {
		job.Kits = append(job.Kits, l.part(p))
	}
	for _, p := range item.parts {
		job.Parts = append(job.Parts, l.part(p))
	}
	for _, v := range item.fill {
		job.Fill = append(job.Fill, graph.JobFill{JobLine: l.line(v.rawJobLine), Spec: v.spec.text, Amount: v.amount.text,
			Where: v.where.text})
	}
	for _, v := range item.look {
		if !v.looksFor.tried() && !v.limit.tried() {
			w.Errorf(v.at, "missing-key", "a thing to inspect lacks %q or %q", "for", "limit")
		}
		job.Look = append(job.Look, graph.JobLook{JobLine: l.line(v.rawJobLine), For: v.looksFor.text, Limit: v.limit.text,
			Gauge: v.gauge.text})
	}
	job.Steps, job.Checks, job.Cautions = l.lines(item.steps), l.lines(item.checks), l.lines(item.cautions)
	w.jobs.put(job.ID, job, origin{pos: raw.name.pos, layer: f.layer})
}

// checkJobIsFor reports a job that says neither for which places of which models it
// is, nor for which kinds of part; or both.
func checkJobIsFor(w *world, raw *named[rawJob]) {
	item := &raw.item
	hasModels, hasPlaces := len(item.models) > 0, len(item.places) > 0
	switch {
	case len(item.kinds) > 0 && (hasModels || hasPlaces):
		w.Errorf(item.kinds[0].pos, "bad-value", `"kinds" is for any machine, "models" and "places" for some: `+
			"say one or the other")
	case len(item.kinds) > 0 || w.broken:
	case !hasModels && !hasPlaces:
		w.Errorf(item.at, "missing-key", `a job lacks "models" and "places", or "kinds"`)
	case !hasModels:
		w.Errorf(item.at, "missing-key", `a job lacks "models"`)
	case !hasPlaces:
		w.Errorf(item.at, "missing-key", `a job lacks "places"`)
	}
}

// jobKinds are the kinds of part of a job for any machine, sorted.
func jobKinds(w *world, refs []word) []graph.KindID {
	var ids []graph.KindID
	for _, ref := range refs {
		if k, known := knownKind(w, ref); known {
			ids = append(ids, k.ID)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// jobPlaces are the positions of all the models; one that none of them has is
// reported.
func jobPlaces(w *world, models []*modelInfo, refs []word) []graph.PositionID {
	var ids []graph.PositionID
	for _, ref := range refs {
		if !ref.given() || len(models) == 0 {
			continue
		}
		found := false
		for _, m := range models {
			id := graph.PositionID(string(m.model.ID) + ":" + ref.text)
			if _, known := w.positions.get(id); known {
				ids, found = append(ids, id), true
			}
		}
		if !found {
			position(w, models[0], ref) // reports it
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// jobLiner makes the lines of one job.
type jobLiner struct {
	*world
	file   *dataFile
	models []*modelInfo
	source []word // of the job
}

func (l jobLiner) lines(raw []rawJobLine) []graph.JobLine {
	var list []graph.JobLine
	for _, r := range raw {
		if r.text.given() {
			list = append(list, l.line(r))
		}
	}
	return list
}

func (l jobLiner) line(raw rawJobLine) graph.JobLine {
	at := raw.at
	if at == (diag.Pos{}) {
		at = raw.text.pos
	}
	l.checkJobScope(raw.on)
	return graph.JobLine{Text: raw.text.text, Scope: raw.on.scope(), Legs: graph.LegForm(raw.legs.text),
		Said: l.cites(l.file, at, raw.source, l.source)}
}

// part is a part or kit of the job.
func (l jobLiner) part(raw rawJobPart) graph.JobPart {
	v := graph.JobPart{JobLine: l.line(raw.rawJobLine), Quantity: max(1, raw.quantity.n), Renew: raw.renew.yes}
	if raw.feature.given() {
		if _, known := knownFeatureKind(l.world, raw.feature); known {
			v.Feature = raw.feature.text
		}
	}
	v.Kinds, v.Of = jobKinds(l.world, raw.kinds), jobKinds(l.world, raw.of)
	switch {
	case raw.part.given():
		v.Part, _ = partRef(l.world, raw.part)
	case !raw.text.tried() && !raw.part.tried():
		l.Errorf(raw.at, "missing-key", "a part of a job lacks %q or %q", "what", "part")
	}
	return v
}

// checkJobScope reports a scope in which no variant of any of the models lies. What
// one of the models has is right, though its sisters lack it.
func (l jobLiner) checkJobScope(s rawScope) {
	scope := s.scope()
	if scope.IsZero() || l.broken || len(l.models) == 0 {
		return
	}
	var names []string
	for _, m := range l.models {
		if m.damaged || slices.ContainsFunc(m.variants, func(v graph.Variant) bool {
			return scope.Covers(v) ||
				scope.Touches(v)
		}) {
			return
		}
		names = append(names, string(m.model.ID))
	}
	l.Errorf(s.at, "covers-nothing", "no variant of %s lies in this scope", strings.Join(names, " or "))
}
