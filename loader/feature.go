package loader

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawFeature is a feature of a part as written. by, source and kind hold for
// all its dimensions.
type rawFeature struct {
	at     diag.Pos
	kind   word
	by     word
	source []word
	dims   []named[[]rawReading]
}

// rawReading is one value as written, alone or with how and by whom it was got.
type rawReading struct {
	at     diag.Pos
	value  word
	by     word
	source []word
}

// readingsForm reads a value, a mapping with a value, or a list of such.
func readingsForm(what string, value scalar[word]) form[[]rawReading] {
	full := mapping("a reading", func(r *rawReading) *diag.Pos { return &r.at },
		need(says("the value with its unit", key("value", value.form(), func(r *rawReading) *word { return &r.value }))),
		says("how it was measured", key("by", phrase().form(), func(r *rawReading) *word { return &r.by })),
		says("how it was measured, another word for by", key("method", phrase().form(),
			func(r *rawReading) *word { return &r.by })),
		sourceKey(func(r *rawReading) *[]word { return &r.source }))
	return defined(what, oneOrMore(what, wordOr(value, func(r *rawReading) *word { return &r.value }, full)))
}

func featureForm() form[rawFeature] {
	return openMapping("a feature", func(f *rawFeature) *diag.Pos { return &f.at }, []field[rawFeature]{
		says("kind of feature, when the kind of part does not name it", key("kind", name().form(),
			func(f *rawFeature) *word { return &f.kind })),
		says("how it was measured", key("by", phrase().form(), func(f *rawFeature) *word { return &f.by })),
		sourceKey(func(f *rawFeature) *[]word { return &f.source }),
	}, &further[rawFeature, []rawReading]{readingsForm("readings", free()),
		func() map[string]string { return dimensionWords() }, func(f *rawFeature) *[]named[[]rawReading] { return &f.dims }})
}

// featureDraft is a feature while files add to it.
type featureDraft struct {
	name string
	kind graph.FeatureKind
	at   diag.Pos
	dims map[string][]readingDraft
	// tried are the dimensions that were given, even if they could not be read.
	tried map[string]bool
}

// readingDraft is a reading with its parsed value, to compare it with others.
type readingDraft struct {
	graph.Reading
	value measure.Value
	layer int
}

func (f *featureDraft) finish() graph.Feature {
	feature := graph.Feature{Name: f.name, Kind: f.kind.Name, Dims: map[string][]graph.Reading{}}
	for dim, drafts := range f.dims {
		for _, d := range drafts {
			feature.Dims[dim] = append(feature.Dims[dim], d.Reading)
		}
		slices.SortFunc(feature.Dims[dim], compareReadings)
	}
	return feature
}

func compareReadings(a, b graph.Reading) int {
	return cmp.Or(a.Cite.Compare(b.Cite), cmp.Compare(a.Text, b.Text))
}

// readings is one reading for each of its sources.
func readings(w *world, f *dataFile, raw rawReading, outer ...[]word) []graph.Reading {
	if !raw.value.given() {
		return nil
	}
	var list []graph.Reading
	for _, cite := range w.cites(f, raw.value.pos, append([][]word{raw.source}, outer...)...) {
		list = append(list, graph.Reading{Text: raw.value.text, Method: raw.by.text, Cite: cite})
	}
	return list
}

func resolveFeature(w *world, f *dataFile, d *partDraft, outer []word, raw named[rawFeature]) {
	kind, known := featureKindOf(w, f.layer, d, raw)
	if !known {
		return
	}
	draft := d.features[raw.name.text]
	if draft == nil {
		draft = &featureDraft{name: raw.name.text, kind: kind, at: raw.name.pos, dims: map[string][]readingDraft{},
			tried: map[string]bool{}}
		if d.features == nil {
			d.features = map[string]*featureDraft{}
		}
		d.features[raw.name.text] = draft
	} else if draft.kind.Name != kind.Name {
		w.Errorf(raw.name.pos, "duplicate", "feature %q is a %q already, not a %q", raw.name.text, draft.kind.Name,
			kind.Name).
			Related = []diag.Pos{draft.at}
		return
	}
	for _, dim := range raw.item.dims {
		spec, known := kind.Dim(dim.name.text)
		if !known {
			unknownDim(w, kind, dim.name)
			continue
		}
		draft.tried[spec.Name] = true
		for _, r := range dim.item {
			r.by.text = cmp.Or(r.by.text, raw.item.by.text)
			resolveReading(w, f, draft, spec, r, firstGiven(raw.item.source, outer))
		}
	}
}

// unknownDim reports a dimension that a sort of feature has not.
func unknownDim(w *world, kind graph.FeatureKind, name word) {
	var names []string
	for _, d := range kind.Dims {
		names = append(names, d.Name)
	}
	w.Errorf(name.pos, "unknown-dimension", "a %q has no dimension %q", kind.Name, name.text).Hint = nearOrList(name.text,
		names)
}

// featureKindOf is what sort of feature it is: as written, else as the kind of
// part says.
func featureKindOf(w *world, layer int, d *partDraft, raw named[rawFeature]) (graph.FeatureKind, bool) {
	kind, _ := w.kinds.get(d.kind())
	listed, isListed := kindFeature(w, kind, raw.name.text, layer)
	switch {
	case raw.item.kind.given():
		if isListed && listed.Kind != raw.item.kind.text {
			w.Errorf(raw.item.kind.pos, "duplicate", "feature %q of a %q is a %q, not a %q", raw.name.text, d.kind(),
				listed.Kind, raw.item.kind.text)
			return graph.FeatureKind{}, false
		}
		return knownFeatureKind(w, raw.item.kind)
	case isListed:
		k, known := w.featureKinds[listed.Kind]
		return k, known
	case d.kindLost || kind == nil:
		return graph.FeatureKind{}, false
	}
	var names []string
	for _, f := range kind.Features {
		names = append(names, f.Name)
	}
	hint := nearOrList(raw.name.text, names)
	if near(raw.name.text, names) == "" {
		hint = "a feature that the kind does not name needs its own \"kind\""
	}
	w.unknown(raw.name.pos, "unknown-feature", "a %q has no feature %q", kind.ID, raw.name.text).Hint = hint
	return graph.FeatureKind{}, false
}

func resolveReading(w *world, f *dataFile, draft *featureDraft, spec graph.DimSpec, raw rawReading, outer []word) {
	if !raw.value.given() {
		return
	}
	value, ok := dimValue(w, raw.value, spec)
	for _, r := range readings(w, f, raw, outer) {
		if ok {
			addReading(w, draft, spec, readingDraft{r, value, f.layer})
		}
	}
}

// addReading adds a reading; two different values from one source in one layer
// are a fault, the same value again is only said once.
func addReading(w *world, draft *featureDraft, spec graph.DimSpec, r readingDraft) {
	for _, before := range draft.dims[spec.Name] {
		if before.Source != r.Source || before.layer != r.layer {
			continue
		}
		if before.value.Equal(r.value) {
			if before.Method == r.Method {
				return
			}
			continue
		}
		d := w.Errorf(r.Pos, "two-values", "source %q gives %q two values, %q and %q", r.Source, spec.Name, before.Text,
			r.Text)
		d.Hint = "one of them is wrong, or comes from another source"
		d.Related = []diag.Pos{before.Pos}
		return
	}
	draft.dims[spec.Name] = append(draft.dims[spec.Name], r)
}

// dimValue reads the value of a dimension and reports what can't be.
func dimValue(w *world, text word, spec graph.DimSpec) (measure.Value, bool) {
	v, err := measure.Parse(text.text, spec.Type)
	if err != nil {
		valueFault(w, text, err)
		return v, false
	}
	if spec.Type == measure.Word && len(spec.Words) > 0 && !slices.Contains(spec.Words, v.Text) {
		w.Errorf(text.pos, "bad-value", "%q is no value for %q, %s", text.text, spec.Name, spec.Is).Hint = nearOrList(v.Text,
			spec.Words)
		return v, false
	}
	if spec.Check != nil {
		if err := spec.Check(v.Text); err != nil {
			w.Errorf(text.pos, "bad-value", "%s", err)
			return v, false
		}
	}
	if why := impossible(v, spec); why != "" {
		w.Errorf(text.pos, "impossible-value", "%s %q is impossible: %s", spec.Is, text.text, why)
		return v, false
	}
	doubt(w, text, v, spec)
	return v, true
}

// doubt warns of a value that hardly any part of a motorcycle has.
func doubt(w *world, text word, v measure.Value, spec graph.DimSpec) {
	low, high := spec.Usual[0], spec.Usual[1]
	if high == 0 || v.Quantity.Low >= low && v.Quantity.High <= high {
		return
	}
	w.Warnf(text.pos, "unlikely-value", "%s %q: parts of motorcycles have %s to %s", spec.Is, text.text,
		measure.Format(low, spec.Type), measure.Format(high, spec.Type)).Hint = "is its unit right, and each digit?"
}

// valueFault reports a value that can't be read.
func valueFault(w *world, text word, err error) {
	var unit *measure.UnitError
	switch {
	case errors.As(err, &unit):
		w.Errorf(text.pos, "wrong-unit", "%s", inner(err))
	case errors.Is(err, measure.ErrReversed):
		w.Errorf(text.pos, "reversed-range", "%q ends before it starts", text.text).Hint = "write the lower end first"
	case errors.Is(err, measure.ErrImpossible):
		w.Errorf(text.pos, "impossible-value", "%s", inner(err))
	default:
		w.Errorf(text.pos, "bad-value", "%s", inner(err))
	}
}

// Limits beyond which a value is a slip of the pen, not a part of a motorcycle.
const (
	maxLength = 10000 // mm
	maxAngle  = 360   // deg
	maxTorque = 2000  // N m
	maxCount  = 10000
)

// impossible says why a value can't be, or "".
func impossible(v measure.Value, spec graph.DimSpec) string {
	q := v.Quantity
	low, high := min(q.Low, q.Nominal), max(q.High, q.Nominal)
	switch {
	case low < 0 && !spec.Signed && spec.Type == measure.Length:
		return "it is below zero"
	case high == 0 && spec.Must && !spec.Signed && (spec.Type == measure.Length || spec.Type == measure.Count ||
		spec.Type == measure.Torque):
		return "it is zero"
	}
	if spec.Range[1] > 0 && (low < spec.Range[0] || high > spec.Range[1]) {
		return "it runs from " + measure.Format(spec.Range[0], spec.Type) + " to " + measure.Format(spec.Range[1], spec.Type)
	}
	limits := map[measure.Type]float64{measure.Length: maxLength, measure.Angle: maxAngle, measure.Torque: maxTorque,
		measure.Count: maxCount}
	if limit, ok := limits[spec.Type]; ok && max(high, -low) > limit {
		return "more than " + measure.Format(limit, spec.Type)
	}
	return ""
}

// checkFeatures warns, once for the part, of features that the kind asks for and
// nobody gave, and once for each feature of dimensions. What can't be is a fault.
func checkFeatures(w *world, d *partDraft, kind *graph.Kind) {
	var lacks []string
	for _, f := range kind.Features {
		_, inBase := baseFeature(d, f.Name)
		if d.features[f.Name] == nil && !inBase && !f.May {
			lacks = append(lacks, f.Name)
		}
	}
	if len(lacks) > 0 {
		w.Warnf(d.at, "missing-feature", "part %q lacks the %s %s that a %q has", d.id, plural("feature", lacks),
			allQuoted(lacks), kind.ID).
			Hint = "what such a part has: matewell help " + string(kind.ID)
	}
	checkWithin(w, d)
	for _, name := range slices.Sorted(maps.Keys(d.features)) {
		f := d.features[name]
		checkPossible(w, d, f)
		base, _ := baseFeature(d, name)
		var missing, measures []string
		for _, spec := range f.kind.Dims {
			if spec.Must && !f.tried[spec.Name] && len(base.Dims[spec.Name]) == 0 && !f.finish().Needless(spec.Name) {
				missing = append(missing, spec.Name)
				measures = append(measures, spec.Is+", "+spec.Gauge)
			}
		}
		if len(missing) > 0 {
			w.Warnf(f.at, "missing-dimension", "feature %q of %q lacks %s", name, d.id, allQuoted(missing)).
				Hint = "to find out: " + strings.Join(measures, "; ")
		}
	}
}

func plural(word string, of []string) string {
	if len(of) == 1 {
		return word
	}
	return word + "s"
}

func baseFeature(d *partDraft, name string) (graph.Feature, bool) {
	if d.base == nil {
		return graph.Feature{}, false
	}
	return d.base.Feature(name)
}
