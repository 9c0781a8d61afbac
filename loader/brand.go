package loader

import (
	"matewell/graph"
	"matewell/graph/diag"
)

// rawBrand is a brand as written.
type rawBrand struct {
	at     diag.Pos
	form   rawNumberForm
	source []word
}

// rawNumberForm is how a brand writes its numbers, as written.
type rawNumberForm struct {
	at                     diag.Pos
	core, revision, colour word
}

func brandForm() form[rawBrand] {
	number := mapping("a number form", func(n *rawNumberForm) *diag.Pos { return &n.at },
		need(says("mask of the core: 9 is a digit, A or a is a letter", key("core", phrase().form(),
			func(n *rawNumberForm) *word { return &n.core }))),
		says("mask of the revision", key("revision", phrase().form(), func(n *rawNumberForm) *word { return &n.revision })),
		says("mask of the colour", key("colour", phrase().form(), func(n *rawNumberForm) *word { return &n.colour })))
	return mapping("a brand", func(b *rawBrand) *diag.Pos { return &b.at },
		says("how the brand writes its numbers; taken as they stand when left out", key("number", number,
			func(b *rawBrand) *rawNumberForm { return &b.form })),
		sourceKey(func(b *rawBrand) *[]word { return &b.source }))
}

func resolveBrands(w *world) {
	for _, f := range w.files {
		for _, raw := range f.brands {
			n := raw.item.form
			b := graph.Brand{ID: graph.BrandID(raw.name.text), Said: w.cites(f, raw.name.pos, raw.item.source),
				Form: graph.NumberForm{Core: n.core.text, Revision: n.revision.text, Colour: n.colour.text}}
			before, known := w.brands.get(b.ID)
			if known && !sameDefinition(w, f, raw.name, "brand", w.brands.origin(b.ID), before.Form == b.Form) {
				continue
			}
			if known && !w.brands.origin(b.ID).base {
				before.Said = addCites(before.Said, b.Said)
				continue
			}
			w.brands.put(b.ID, b, origin{pos: raw.name.pos, layer: f.layer})
		}
	}
}

// knownBrand looks a brand up and reports one that nothing defines.
func knownBrand(w *world, text string, pos diag.Pos) (graph.BrandID, bool) {
	id := graph.BrandID(text)
	if _, known := w.brands.get(id); known {
		return id, true
	}
	w.unknown(pos, "unknown-brand", "no brand is called %q", text).Hint = nearOrList(text, w.brands.names())
	return id, false
}
