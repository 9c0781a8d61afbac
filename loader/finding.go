package loader

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawFinding is a finding as written.
type rawFinding struct {
	at        diag.Pos
	id        word
	part      word
	position  word
	on        []rawOn
	verdict   word
	changes   []rawChange
	measured  []rawMeasured
	method    word
	date      word
	by        word
	origin    word
	photos    []word
	note      word
	withdrawn rawWithdrawn
	source    word
}

// rawOn is a variant, a model year, or a bike.
type rawOn struct {
	at      diag.Pos
	variant word
	bike    word
}

// rawChange is a change as written.
type rawChange struct {
	at               diag.Pos
	do, effort, part word
}

// rawMeasured is a measurement as written.
type rawMeasured struct {
	at                        diag.Pos
	feature, dim, value, with word
}

// rawWithdrawn says why and when a finding was taken back.
type rawWithdrawn struct {
	at        diag.Pos
	why, date word
}

func findingForm() form[rawFinding] {
	return mapping("a finding", func(f *rawFinding) *diag.Pos { return &f.at },
		need(says("identity, unique over all people's findings", key("id", findingName().form(),
			func(f *rawFinding) *word { return &f.id }))),
		need(says("brand, one space, number", key("part", phrase().form(), func(f *rawFinding) *word { return &f.part }))),
		says("model:assembly/position it was tried at", key("position", phrase().form(),
			func(f *rawFinding) *word { return &f.position })),
		says("variants, model years, or bike: identity", key("on", onForm(), func(f *rawFinding) *[]rawOn { return &f.on })),
		says("how well it fits", key("verdict", oneOf(graph.VerdictWords()...).form(),
			func(f *rawFinding) *word { return &f.verdict })),
		says("what had to be done", key("changes", list("changes", changeForm()),
			func(f *rawFinding) *[]rawChange { return &f.changes })),
		says("what was measured on the part", key("measured", list("measurements", measuredForm()),
			func(f *rawFinding) *[]rawMeasured { return &f.measured })),
		need(says("how the finder knows", key("method", oneOf(graph.Methods()...).form(),
			func(f *rawFinding) *word { return &f.method }))),
		says("when: 2024, 2024-05 or 2024-05-11", key("date", date().form(), func(f *rawFinding) *word { return &f.date })),
		says("who found it; may be a nickname", key("by", phrase().form(), func(f *rawFinding) *word { return &f.by })),
		says("where it was taken from, when not first hand", key("origin", phrase().form(),
			func(f *rawFinding) *word { return &f.origin })),
		says("names of photo files", key("photos", oneOrMore("photos", phrase().form()),
			func(f *rawFinding) *[]word { return &f.photos })),
		says("free text", key("note", free().form(), func(f *rawFinding) *word { return &f.note })),
		says("set when it was taken back", key("withdrawn", withdrawnForm(),
			func(f *rawFinding) *rawWithdrawn { return &f.withdrawn })),
		says("source it came by; left out for one's own", key("source", name().form(),
			func(f *rawFinding) *word { return &f.source })))
}

func onForm() form[[]rawOn] {
	bike := mapping("a machine", func(o *rawOn) *diag.Pos { return &o.at },
		need(says("one of your bikes", key("bike", name().form(), func(o *rawOn) *word { return &o.bike }))))
	return oneOrMore("variants", wordOr(free(), func(o *rawOn) *word { return &o.variant }, bike))
}

func changeForm() form[rawChange] {
	return mapping("a change", func(c *rawChange) *diag.Pos { return &c.at },
		need(says("what was done", key("do", phrase().form(), func(c *rawChange) *word { return &c.do }))),
		says("how hard it was", key("effort", oneOf(graph.EffortWords()...).form(),
			func(c *rawChange) *word { return &c.effort })),
		says("a part that was needed for it", key("part", phrase().form(), func(c *rawChange) *word { return &c.part })))
}

func measuredForm() form[rawMeasured] {
	return mapping("a measurement", func(m *rawMeasured) *diag.Pos { return &m.at },
		need(says("feature of the part", key("feature", name().form(), func(m *rawMeasured) *word { return &m.feature }))),
		need(says("dimension of the feature", key("dim", name().form(), func(m *rawMeasured) *word { return &m.dim }))),
		need(says("value with its unit", key("value", free().form(), func(m *rawMeasured) *word { return &m.value }))),
		says("gauge it was measured with", key("with", phrase().form(), func(m *rawMeasured) *word { return &m.with })))
}

func withdrawnForm() form[rawWithdrawn] {
	return mapping("a withdrawal", func(r *rawWithdrawn) *diag.Pos { return &r.at },
		need(says("why it was taken back", key("why", phrase().form(), func(r *rawWithdrawn) *word { return &r.why }))),
		says("when", key("date", date().form(), func(r *rawWithdrawn) *word { return &r.date })))
}

func resolveFindings(w *world) {
	for _, f := range w.files {
		for i := range f.findings {
			resolveFinding(w, f, &f.findings[i])
		}
	}
}

func resolveFinding(w *world, f *dataFile, raw *rawFinding) {
	finding := graph.Finding{ID: graph.FindingID(raw.id.text), Method: graph.Method(raw.method.text), Date: raw.date.text,
		By:     raw.by.text,
		Origin: raw.origin.text, Photos: texts(raw.photos), Note: raw.note.text, Withdrawn: raw.withdrawn.why.text,
		WithdrawnOn: raw.withdrawn.date.text, Source: findingSource(w, f, raw), Pos: raw.at}
	if raw.verdict.given() {
		finding.Verdict, _ = graph.ParseVerdict(raw.verdict.text)
	}
	if !raw.part.given() {
		return
	}
	part, known := partRef(w, raw.part)
	finding.Part = part
	if raw.position.given() {
		finding.Position, _ = position(w, nil, raw.position)
	}
	findingOn(w, &finding, raw)
	checkFindingPlace(w, &finding, raw)
	for _, c := range raw.changes {
		finding.Changes = append(finding.Changes, change(w, c))
	}
	if d, ok := w.parts.get(part); known && ok {
		for _, m := range raw.measured {
			measuredOn(w, d, "finding "+strconv.Quote(string(finding.ID)), &finding.Measured, m)
		}
	}
	if raw.id.given() {
		addFinding(w, f, raw, finding)
	}
}

// findingSource is the source a finding came by: its own word, else the file's
// when it names one; empty for one's own.
func findingSource(w *world, f *dataFile, raw *rawFinding) graph.SourceID {
	from := raw.source
	if !from.given() && len(f.source) > 0 {
		from = f.source[0]
	}
	if from.given() {
		useSource(w, f, from)
	}
	return sourceID(w, f, from)
}

func findingOn(w *world, finding *graph.Finding, raw *rawFinding) {
	for _, on := range raw.on {
		switch {
		case on.bike.given():
			if b, known := knownBike(w, on.bike); known {
				finding.Bike = b.ID
				finding.On = append(finding.On, b.Variant)
			}
		case on.variant.given():
			finding.On = append(finding.On, knownVariant(w, on.variant, true)...)
		}
	}
	slices.Sort(finding.On)
	finding.On = slices.Compact(finding.On)
}

// checkFindingPlace reports a finding that says too little, or speaks of a
// position that none of its variants has.
func checkFindingPlace(w *world, finding *graph.Finding, raw *rawFinding) {
	switch {
	case raw.position.tried() && !raw.verdict.tried() && len(raw.measured) == 0:
		w.Errorf(raw.at, "missing-key", "a finding at a position lacks %q", "verdict")
	case !raw.position.tried() && len(raw.measured) == 0:
		w.Errorf(raw.at, "missing-key", "a finding lacks %q", "position").Hint = "only measurements may do without"
	case raw.position.tried() && len(raw.on) == 0:
		w.Errorf(raw.at, "missing-key", "a finding at a position lacks %q", "on")
	}
	p, known := w.positions.get(finding.Position)
	if !known || len(finding.On) == 0 || w.broken {
		return
	}
	var without []string
	for _, id := range finding.On {
		if !slices.Contains(p.on, id) {
			without = append(without, string(id))
		}
	}
	if len(without) == len(finding.On) || len(without) > 0 && onlyVariants(raw) {
		w.Errorf(raw.position.pos, "covers-nothing", "position %q is not on %s", raw.position.text, strings.Join(without,
			", ")).Related = placesOf(w, finding.Position)
		return
	}
	finding.On = both(finding.On, p.on) // a model year stands for those of its variants that have the position
}

func onlyVariants(raw *rawFinding) bool {
	for _, on := range raw.on {
		if strings.Count(on.variant.text, "/") < 2 {
			return false
		}
	}
	return true
}

func change(w *world, raw rawChange) graph.Change {
	c := graph.Change{Do: raw.do.text, Effort: graph.Effort(max(0, slices.Index(graph.EffortWords(), raw.effort.text)))}
	if raw.part.given() {
		c.Part, _ = partRef(w, raw.part)
	}
	return c
}

// measuredOn adds what was measured on a part; whose says in faults who measured.
func measuredOn(w *world, d *partDraft, whose string, into *[]graph.Measured, raw rawMeasured) {
	if !raw.feature.given() || !raw.dim.given() || !raw.value.given() {
		return
	}
	if kind, known := measuredFeature(w, d, raw.feature); known {
		measuredDim(w, kind, whose, into, raw)
	}
}

func measuredDim(w *world, kind graph.FeatureKind, whose string, into *[]graph.Measured, raw rawMeasured) {
	spec, known := kind.Dim(raw.dim.text)
	if !known {
		unknownDim(w, kind, raw.dim)
		return
	}
	value, ok := dimValue(w, raw.value, spec)
	if !ok {
		return
	}
	for _, before := range *into {
		if v, err := measure.Parse(before.Text, spec.Type); before.Feature == raw.feature.text &&
			before.Dim == raw.dim.text && err == nil && !v.Equal(value) {
			w.Errorf(raw.value.pos, "two-values", "%s gives %q two values, %q and %q", whose, spec.Name, before.Text,
				raw.value.text)
		}
	}
	*into = append(*into, graph.Measured{Feature: raw.feature.text, Dim: raw.dim.text, Text: raw.value.text,
		With: raw.with.text})
}

// measuredFeature finds the feature that was measured: one the part has, or its
// kind.
func measuredFeature(w *world, d *partDraft, feature word) (graph.FeatureKind, bool) {
	if own := d.features[feature.text]; own != nil {
		return own.kind, true
	}
	if base, ok := baseFeature(d, feature.text); ok {
		k, known := w.featureKinds[base.Kind]
		return k, known
	}
	return featureKindOf(w, -1, d, named[rawFeature]{name: feature})
}

// addFinding adds a finding; the same finding said again is one, another under
// the same identity is a fault.
func addFinding(w *world, f *dataFile, raw *rawFinding, finding graph.Finding) {
	before, known := w.findings.get(finding.ID)
	if !known {
		w.findings.put(finding.ID, finding, origin{pos: raw.id.pos, layer: f.layer})
		return
	}
	first := w.findings.origin(finding.ID)
	same := findingContent(*before) == findingContent(finding)
	if finding.Withdrawn == "" { // once taken back is taken back, whoever repeats it
		finding.Withdrawn, finding.WithdrawnOn = before.Withdrawn, before.WithdrawnOn
	}
	if sameDefinition(w, f, raw.id, "finding", first, same) && first.base {
		w.findings.put(finding.ID, finding, origin{pos: raw.id.pos, layer: f.layer})
	}
}

// findingContent is what a finding claims, whether or not it still stands.
func findingContent(f graph.Finding) string {
	f.Pos, f.Withdrawn, f.WithdrawnOn = diag.Pos{}, "", ""
	return fmt.Sprintf("%+v", f)
}
