package loader

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawModel is a model, or a part of one, as one file gives it.
type rawModel struct {
	at         diag.Pos
	maker      word
	name       word
	variants   []rawVariant
	assemblies []named[rawAssembly]
	joints     []named[rawJoint]
	runs       []named[rawRun]
	circuits   []named[rawCircuit]
	stacks     []named[rawStack]
	source     []word
}

// rawVariant is a variant as written.
type rawVariant struct {
	at      diag.Pos
	year    yearRange
	market  word
	mark    word
	frames  frameRange
	schemes []word
	source  []word
}

func modelForm() form[rawModel] {
	return mapping("a model", func(m *rawModel) *diag.Pos { return &m.at },
		says("the brand that made it; once is enough", key("maker", brandName().form(), func(m *rawModel) *word { return &m.maker })),
		says("name as sold; once is enough", key("name", phrase().form(), func(m *rawModel) *word { return &m.name })),
		says("model year x market x frame numbers", key("variants", list("variants", variantForm()), func(m *rawModel) *[]rawVariant { return &m.variants })),
		says("groups of positions, as a parts list has them", key("assemblies", byName("assemblies", name(), assemblyForm()), func(m *rawModel) *[]named[rawAssembly] { return &m.assemblies })),
		says("where features of two positions meet", key("joints", byName("joints", name(), jointForm()), func(m *rawModel) *[]named[rawJoint] { return &m.joints })),
		says("paths of hoses, cables and leads", key("runs", byName("runs", name(), runForm()), func(m *rawModel) *[]named[rawRun] { return &m.runs })),
		says("positions that share a fluid or a current", key("circuits", byName("circuits", name(), circuitForm()), func(m *rawModel) *[]named[rawCircuit] { return &m.circuits })),
		says("what sits in a row along an axle or pivot", key("stacks", byName("stacks", name(), stackForm()), func(m *rawModel) *[]named[rawStack] { return &m.stacks })),
		sourceKey(func(m *rawModel) *[]word { return &m.source }))
}

func variantForm() form[rawVariant] {
	return mapping("a variant", func(v *rawVariant) *diag.Pos { return &v.at },
		need(says("model year", key("year", oneYear().form(), func(v *rawVariant) *yearRange { return &v.year }))),
		need(says("market, such as eu", key("market", name().form(), func(v *rawVariant) *word { return &v.market }))),
		says("tells variants of one year and market apart: early", key("mark", name().form(), func(v *rawVariant) *word { return &v.mark })),
		says("TK6A-000101 to TK6A-004120", key("frames", frames().form(), func(v *rawVariant) *frameRange { return &v.frames })),
		says("colour schemes it was sold in", key("schemes", oneOrMore("schemes", name().form()), func(v *rawVariant) *[]word { return &v.schemes })),
		sourceKey(func(v *rawVariant) *[]word { return &v.source }))
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
	// damaged is true when a variant could not be read: years, markets and
	// marks are then not missed.
	damaged    bool
	assemblies registry[graph.AssemblyID, graph.Assembly]
	// localNamesOf are the local names of its positions, for hints.
	localNamesOf []string
}

func (m *modelInfo) variantIDs() []graph.VariantID {
	var ids []graph.VariantID
	for _, v := range m.variants {
		ids = append(ids, v.ID)
	}
	return ids
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

func (m *modelInfo) variant(id graph.VariantID) *graph.Variant {
	for i := range m.variants {
		if m.variants[i].ID == id {
			return &m.variants[i]
		}
	}
	return nil
}

func (w *world) resolveModels() {
	for _, f := range w.files {
		for i := range f.models {
			w.resolveModel(f, &f.models[i])
		}
	}
	for _, id := range w.models.keys() {
		m, _ := w.models.get(id)
		slices.SortFunc(m.variants, func(a, b graph.Variant) int { return strings.Compare(string(a.ID), string(b.ID)) })
		w.checkModel(m, w.models.origin(id))
	}
}

func (w *world) resolveModel(f *dataFile, raw *named[rawModel]) {
	id := graph.ModelID(raw.name.text)
	m, known := w.models.get(id)
	if !known {
		m = w.models.put(id, modelInfo{model: graph.Model{ID: id}, from: map[graph.VariantID]origin{}}, origin{pos: raw.name.pos, layer: f.layer})
	}
	if raw.item.maker.tried() || raw.item.name.tried() {
		w.nameModel(f, m, raw)
	}
	for _, v := range raw.item.variants {
		w.resolveVariant(f, m, raw.item.source, v)
	}
	for _, a := range raw.item.assemblies {
		w.resolveAssembly(f, m, raw.item.source, a)
	}
}

// nameModel takes maker and name, which several files may give alike.
func (w *world) nameModel(f *dataFile, m *modelInfo, raw *named[rawModel]) {
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
		w.knownBrand(raw.item.maker.text, raw.item.maker.pos)
	}
}

func (w *world) resolveVariant(f *dataFile, m *modelInfo, outer []word, raw rawVariant) {
	if !raw.year.given() || !raw.market.given() {
		m.damaged = true
		return
	}
	id := fmt.Sprintf("%s/%s/%s", m.model.ID, raw.year.text, raw.market.text)
	if raw.mark.given() {
		id += "/" + raw.mark.text
	}
	v := graph.Variant{ID: graph.VariantID(id), Model: m.model.ID, Year: raw.year.years.From, Market: raw.market.text, Mark: raw.mark.text,
		Frames: raw.frames.frames, Schemes: sortedTexts(raw.schemes), Said: w.cites(f, raw.at, raw.source, outer)}
	w.addVariant(f, m, raw, v)
}

// addVariant adds a variant, or what another source says of one already there.
func (w *world) addVariant(f *dataFile, m *modelInfo, raw rawVariant, v graph.Variant) {
	before, first := m.variant(v.ID), m.from[v.ID]
	if before == nil {
		m.variants = append(m.variants, v)
		m.from[v.ID] = origin{pos: raw.at, layer: f.layer}
		return
	}
	sameLayer := !first.base && first.layer == f.layer
	if before.Frames != v.Frames && !before.Frames.IsZero() && !v.Frames.IsZero() || sameLayer && sharesSource(before.Said, v.Said) {
		d := w.Errorf(raw.at, "duplicate", "variant %q is given twice", v.ID)
		d.Hint = "give each a mark when the model year has two"
		d.Related = places(before.Said)
		return
	}
	if before.Frames.IsZero() {
		before.Frames = v.Frames
	}
	before.Schemes = slices.Compact(slices.Sorted(slices.Values(append(before.Schemes, v.Schemes...))))
	if first.base {
		before.Said = nil
		m.from[v.ID] = origin{pos: raw.at, layer: f.layer}
	}
	before.Said = addCites(before.Said, v.Said)
}

func sharesSource(a, b []graph.Cite) bool {
	for _, x := range a {
		for _, y := range b {
			if x.Source == y.Source {
				return true
			}
		}
	}
	return false
}

// checkModel checks a model when all files have been heard.
func (w *world) checkModel(m *modelInfo, first origin) {
	if first.base || w.broken {
		return
	}
	if m.makerAt == (diag.Pos{}) {
		w.Errorf(first.pos, "missing-key", "no file gives model %q its %q", m.model.ID, "maker")
	}
	if m.nameAt == (diag.Pos{}) {
		w.Errorf(first.pos, "missing-key", "no file gives model %q its %q", m.model.ID, "name")
	}
	if len(m.variants) == 0 && !m.damaged {
		w.Errorf(first.pos, "missing-key", "no file gives model %q its %q", m.model.ID, "variants")
	}
	for i, a := range m.variants {
		for _, b := range m.variants[i+1:] {
			if a.Market == b.Market && !a.Frames.IsZero() && !b.Frames.IsZero() && a.Frames.Overlaps(b.Frames) {
				w.framesOverlap(a, b)
			}
		}
	}
}

func (w *world) framesOverlap(a, b graph.Variant) {
	at, other := places(b.Said), places(a.Said)
	if len(at) == 0 || len(other) > 0 && at[0].Compare(other[0]) < 0 {
		at, other = other, at
	}
	if len(at) > 0 {
		w.Errorf(at[0], "frames-overlap", "frame numbers of %q (%s) overlap those of %q (%s)", b.ID, b.Frames, a.ID, a.Frames).Related = other
	}
}

// modelFacts fills in models, variants and assemblies.
func (w *world) modelFacts(f *graph.Facts) {
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
func (w *world) knownModel(id word) (*modelInfo, bool) {
	m, known := w.models.get(graph.ModelID(id.text))
	if !known {
		w.unknown(id.pos, "unknown-model", "no model is called %q", id.text).Hint = nearOrList(id.text, w.models.names())
	}
	return m, known
}

// knownVariant looks a variant up. With many, a model year such as
// "skerry-620/2004" stands for all its variants.
func (w *world) knownVariant(id word, many bool) []graph.VariantID {
	model, _, _ := strings.Cut(id.text, "/")
	m, known := w.knownModel(word{model, id.pos})
	if !known {
		return nil
	}
	if m.variant(graph.VariantID(id.text)) != nil {
		return []graph.VariantID{graph.VariantID(id.text)}
	}
	var within []graph.VariantID
	for _, v := range m.variants {
		if strings.HasPrefix(string(v.ID), id.text+"/") {
			within = append(within, v.ID)
		}
	}
	if many && len(within) > 0 {
		return within
	}
	if m.damaged {
		return nil
	}
	d := w.unknown(id.pos, "unknown-variant", "no variant is called %q", id.text)
	d.Hint = near(id.text, idTexts(m.variantIDs()))
	if len(within) > 0 {
		d.Hint = "one of: " + strings.Join(idTexts(within), ", ")
	}
	return nil
}

func idTexts[K ~string](ids []K) []string {
	var list []string
	for _, id := range ids {
		list = append(list, string(id))
	}
	return list
}
