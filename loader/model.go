package loader

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawModel is a model, or a part of one, as one file gives it.
type rawModel struct {
	at         diag.Pos
	maker      word
	name       word
	like       []word
	without    []word
	variants   []rawVariant
	assemblies []named[rawAssembly]
	joints     []named[rawJoint]
	runs       []named[rawRun]
	circuits   []named[rawCircuit]
	stacks     []named[rawStack]
	source     []word
}

// patternForm reads a pattern: what a model has but for a maker, a name as sold
// and variants.
func patternForm() form[rawModel] {
	fields := []field[rawModel]{
		says("what machines of this sort have, in a few words", key("name", phrase().form(),
			func(m *rawModel) *word { return &m.name })),
	}
	return mapping("a pattern", func(m *rawModel) *diag.Pos { return &m.at }, append(fields, layoutFields()...)...)
}

func modelForm() form[rawModel] {
	fields := []field[rawModel]{
		says("the brand that made it; once is enough", key("maker", brandName().form(),
			func(m *rawModel) *word { return &m.maker })),
		says("name as sold; once is enough", key("name", phrase().form(), func(m *rawModel) *word { return &m.name })),
		says("model year x market x frame numbers", key("variants", list("variants", variantForm()),
			func(m *rawModel) *[]rawVariant { return &m.variants })),
		sourceKey(func(m *rawModel) *[]word { return &m.source }),
	}
	return mapping("a model", func(m *rawModel) *diag.Pos { return &m.at }, append(fields, layoutFields()...)...)
}

// layoutFields are the keys of what a model and a pattern both have: the places
// and what meets where.
func layoutFields() []field[rawModel] {
	return []field[rawModel]{
		says("patterns, a sister model, or one of its variants (skerry-620/2004/eu), whose places, joints, runs, circuits "+
			"and stacks it has too; "+
			"what is written here adds to them or overrides them", key("like", oneOrMore("names", free().form()),
			func(m *rawModel) *[]word { return &m.like })),
		says("what it has not of that: a position, a whole assembly, or the name of a joint, run, circuit or stack",
			key("without", oneOrMore("names", free().form()), func(m *rawModel) *[]word { return &m.without })),
		says("groups of positions, as a parts list has them", key("assemblies", byName("assemblies", name(), assemblyForm()),
			func(m *rawModel) *[]named[rawAssembly] { return &m.assemblies })),
		says("where features of two positions meet", key("joints", byName("joints", name(), jointForm()),
			func(m *rawModel) *[]named[rawJoint] { return &m.joints })),
		says("paths of hoses, cables and leads", key("runs", byName("runs", name(), runForm()),
			func(m *rawModel) *[]named[rawRun] { return &m.runs })),
		says("positions that share a fluid or a current", key("circuits", byName("circuits", name(), circuitForm()),
			func(m *rawModel) *[]named[rawCircuit] { return &m.circuits })),
		says("what sits in a row along an axle or pivot", key("stacks", byName("stacks", name(), stackForm()),
			func(m *rawModel) *[]named[rawStack] { return &m.stacks })),
	}
}

// modelInfo is a model with all its variants, those of the base included.
type modelInfo struct {
	model    graph.Model
	nameAt   diag.Pos
	makerAt  diag.Pos
	variants []graph.Variant // sorted
	// from is where each variant was first given.
	from map[graph.VariantID]origin
	// said is true when a layer says something of the model itself.
	said bool
	// damaged is true when a variant could not be read; unread are those, as
	// far as they could: what they may have is not missed.
	damaged bool
	unread  []rawVariant
	// ghost is true when files add to the model and none defines it.
	ghost      bool
	assemblies registry[graph.AssemblyID, graph.Assembly]
	// allIDs are the identities of all its variants, made when first asked for:
	// most positions hold on all of them, and share the list.
	allIDs []graph.VariantID
	// localNamesOf are the local names of its positions, for hints.
	localNamesOf []string
}

// variantIDs are all its variants. The list is shared: nobody changes it.
func (m *modelInfo) variantIDs() []graph.VariantID {
	if len(m.allIDs) == len(m.variants) {
		return m.allIDs
	}
	var ids []graph.VariantID
	for _, v := range m.variants {
		ids = append(ids, v.ID)
	}
	m.allIDs = slices.Clip(ids)
	return m.allIDs
}

// span is the first and last model year; 0 without variants.
func (m *modelInfo) span() (first, last int) {
	for _, v := range m.variants {
		if first == 0 || v.Year < first {
			first = v.Year
		}
		last = max(last, v.Year)
	}
	return first, last
}

// mayBeMade reports whether a variant that could not be read may be of the
// year: its year was left out, or is written much like it.
func (m *modelInfo) mayBeMade(year int) bool {
	return slices.ContainsFunc(m.unread, func(v rawVariant) bool {
		text := strconv.Itoa(year)
		switch {
		case v.year.given():
			return v.year.text == text
		case v.year.misread == "":
			return true
		}
		return near(v.year.misread, []string{text}) != ""
	})
}

// words are the markets or the marks of the variants, sorted; nil when one that
// could not be read may have any.
func (m *modelInfo) words(of func(graph.Variant) string, unread func(rawVariant) word) []string {
	known := []string{}
	for _, v := range m.variants {
		known = append(known, of(v))
	}
	for _, v := range m.unread {
		w := unread(v)
		if w.tried() && !w.given() {
			return nil
		}
		known = append(known, w.text)
	}
	slices.Sort(known)
	return slices.DeleteFunc(slices.Compact(known), func(text string) bool { return text == "" })
}

func (m *modelInfo) variant(id graph.VariantID) *graph.Variant {
	for i := range m.variants {
		if m.variants[i].ID == id {
			return &m.variants[i]
		}
	}
	return nil
}

func resolveModels(w *world) {
	for _, f := range w.files {
		for i := range f.models {
			resolveModel(w, f, &f.models[i])
		}
	}
	for _, id := range w.models.keys() {
		m, _ := w.models.get(id)
		m.allIDs = nil
		slices.SortFunc(m.variants, func(a, b graph.Variant) int { return strings.Compare(string(a.ID), string(b.ID)) })
		checkModel(w, m, w.models.origin(id))
	}
	for _, f := range w.files {
		for _, s := range f.sources {
			checkMarkets(w, s.item.scope.markets)
		}
	}
}

func resolveModel(w *world, f *dataFile, raw *named[rawModel]) {
	id := graph.ModelID(raw.name.text)
	m, known := w.models.get(id)
	if !known {
		m = w.models.put(id, modelInfo{model: graph.Model{ID: id}, from: map[graph.VariantID]origin{}},
			origin{pos: raw.name.pos, layer: f.layer})
	}
	if raw.item.maker.tried() || raw.item.name.tried() {
		nameModel(w, f, m, raw)
	}
	for _, v := range raw.item.variants {
		resolveVariant(w, f, m, raw.item.source, v)
	}
	for _, a := range raw.item.assemblies {
		resolveAssembly(w, f, m, raw.item.source, a)
	}
}

// nameModel takes maker and name, which several files may give alike.
func nameModel(w *world, f *dataFile, m *modelInfo, raw *named[rawModel]) {
	if !m.said {
		m.model.Said = nil // those of the base are not the layers' own
	}
	m.said = true
	m.model.Said = addCites(m.model.Said, w.cites(f, raw.name.pos, raw.item.source))
	once := func(have string, haveAt *diag.Pos, given word, what string) string {
		if !given.given() {
			*haveAt = cmp.Or(*haveAt, given.pos)
			return have
		}
		if have != "" && have != given.text {
			d := w.Errorf(given.pos, "duplicate", "model %q has another %s already, %q", m.model.ID, what, have)
			d.Related = origin{pos: *haveAt}.related()
			return have
		}
		*haveAt = given.pos
		return given.text
	}
	m.model.Name = once(m.model.Name, &m.nameAt, raw.item.name, "name")
	m.model.Maker = graph.BrandID(once(string(m.model.Maker), &m.makerAt, raw.item.maker, "maker"))
	if raw.item.maker.given() {
		knownBrand(w, raw.item.maker.text, raw.item.maker.pos)
	}
}

// checkModel checks a model when all files have been heard.
func checkModel(w *world, m *modelInfo, first origin) {
	if !first.base && !m.said && len(m.variants) == 0 && !m.damaged {
		m.ghost = true
		w.unknown(first.pos, "unknown-model", "no file defines model %q", m.model.ID).Hint = near(string(m.model.ID),
			w.models.names())
		return
	}
	if !first.base && !w.broken {
		missing := func(what string) {
			w.Errorf(first.pos, "missing-key", "no file gives model %q its %q", m.model.ID, what)
		}
		if m.makerAt == (diag.Pos{}) {
			missing("maker")
		}
		if m.nameAt == (diag.Pos{}) {
			missing("name")
		}
		if len(m.variants) == 0 && !m.damaged {
			missing("variants")
		}
	}
	for i, a := range m.variants {
		for _, b := range m.variants[i+1:] {
			if a.Market == b.Market && !a.Frames.IsZero() && !b.Frames.IsZero() && a.Frames.Overlaps(b.Frames) {
				framesOverlap(w, m, a, b)
			}
		}
	}
}

// modelFacts fills in models, variants and assemblies.
func modelFacts(w *world, f *graph.Facts) {
	for _, id := range w.models.keys() {
		m, _ := w.models.get(id)
		if m.said {
			f.Models = append(f.Models, m.model)
		}
		for _, v := range m.variants {
			if !m.from[v.ID].base {
				f.Variants = append(f.Variants, v)
			}
		}
		for _, a := range m.assemblies.own() {
			if a.Name == "" {
				a.Name = strings.ReplaceAll(a.ID.Local(), "-", " ")
			}
			f.Assemblies = append(f.Assemblies, a)
		}
	}
	slices.SortFunc(f.Variants, func(a, b graph.Variant) int { return strings.Compare(string(a.ID), string(b.ID)) })
	slices.SortFunc(f.Assemblies, func(a, b graph.Assembly) int { return strings.Compare(string(a.ID), string(b.ID)) })
}

// knownModel looks a model up and reports one that nothing defines.
func knownModel(w *world, id word) (*modelInfo, bool) {
	m, known := w.models.get(graph.ModelID(id.text))
	if known = known && !m.ghost; !known {
		w.unknown(id.pos, "unknown-model", "no model is called %q", id.text).Hint = w.hints.near("model", id.text,
			w.models.names, nearOrList)
	}
	return m, known
}
