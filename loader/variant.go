package loader

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

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

func variantForm() form[rawVariant] {
	return mapping("a variant", func(v *rawVariant) *diag.Pos { return &v.at },
		need(says("model year", key("year", oneYear().form(), func(v *rawVariant) *yearRange { return &v.year }))),
		need(says("market, such as eu", key("market", name().form(), func(v *rawVariant) *word { return &v.market }))),
		says("tells variants of one year and market apart: early", key("mark", name().form(),
			func(v *rawVariant) *word { return &v.mark })),
		says("TK6A-000101 to TK6A-004120", key("frames", frames().form(),
			func(v *rawVariant) *frameRange { return &v.frames })),
		says("colour schemes it was sold in", key("schemes", oneOrMore("schemes", name().form()),
			func(v *rawVariant) *[]word { return &v.schemes })),
		sourceKey(func(v *rawVariant) *[]word { return &v.source }))
}

func resolveVariant(w *world, f *dataFile, m *modelInfo, outer []word, raw rawVariant) {
	if !raw.year.given() || !raw.market.given() {
		m.damaged, m.unread = true, append(m.unread, raw)
		return
	}
	id := fmt.Sprintf("%s/%s/%s", m.model.ID, raw.year.text, raw.market.text)
	if raw.mark.given() {
		id += "/" + raw.mark.text
	}
	v := graph.Variant{ID: graph.VariantID(id), Model: m.model.ID, Year: raw.year.years.From, Market: raw.market.text,
		Mark:   raw.mark.text,
		Frames: raw.frames.frames, Schemes: sortedTexts(raw.schemes), Said: w.cites(f, raw.at, raw.source, outer)}
	addVariant(w, f, m, raw, v)
}

// addVariant adds a variant, or what another source says of one already there.
func addVariant(w *world, f *dataFile, m *modelInfo, raw rawVariant, v graph.Variant) {
	before, first := m.variant(v.ID), m.from[v.ID]
	if before == nil {
		m.variants = append(m.variants, v)
		m.from[v.ID] = origin{pos: raw.at, layer: f.layer}
		return
	}
	sameLayer := !first.base && first.layer == f.layer
	if before.Frames != v.Frames && !before.Frames.IsZero() && !v.Frames.IsZero() || sameLayer &&
		sharesSource(before.Said, v.Said) {
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

// framesOverlap reports two variants that share frame numbers, at the one that
// was given later.
func framesOverlap(w *world, m *modelInfo, a, b graph.Variant) {
	first, second := m.from[a.ID], m.from[b.ID]
	if first.base && second.base {
		return
	}
	if !first.base && (second.base || second.pos.Compare(first.pos) < 0) {
		a, b, first, second = b, a, second, first
	}
	w.Errorf(second.pos, "frames-overlap", "frame numbers of %q (%s) overlap those of %q (%s)", b.ID, b.Frames, a.ID,
		a.Frames).Related = first.related()
}

// knownVariant looks a variant up. With many, a model year such as
// "skerry-620/2004" stands for all its variants.
func knownVariant(w *world, id word, many bool) []graph.VariantID {
	model, _, _ := strings.Cut(id.text, "/")
	m, known := knownModel(w, word{model, id.pos})
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
	if mayHave(m, id.text) {
		return nil
	}
	d := w.unknown(id.pos, "unknown-variant", "no variant is called %q", id.text)
	d.Hint = near(id.text, idTexts(m.variantIDs()))
	if len(within) > 0 {
		d.Hint = "one of: " + strings.Join(idTexts(within), ", ")
	}
	return nil
}

// mayHave reports whether a variant that could not be read may be the one of an
// identity, model/year/market/mark.
func mayHave(m *modelInfo, id string) bool {
	fields := append(strings.Split(id, "/"), "", "")
	year, err := strconv.Atoi(fields[1])
	if err != nil || !m.mayBeMade(year) {
		return false
	}
	return slices.ContainsFunc(m.unread, func(v rawVariant) bool {
		return fields[2] == "" || !v.market.given() || v.market.text == fields[2]
	})
}

func idTexts[K ~string](ids []K) []string {
	var list []string
	for _, id := range ids {
		list = append(list, string(id))
	}
	return list
}
