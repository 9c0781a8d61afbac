package loader

import (
	"slices"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawScope is a scope as written.
type rawScope struct {
	at      diag.Pos
	years   yearRange
	markets []word
	marks   []word
	frames  frameRange
	// loose is true where the scope is that of another model: what it names and
	// this model has not is no fault.
	loose bool
}

func scopeForm() form[rawScope] {
	return defined("scope", mapping("a scope", func(s *rawScope) *diag.Pos { return &s.at },
		says("model years, 2003 or 2001-2004", key("years", years().form(),
			func(s *rawScope) *yearRange { return &s.years })),
		says("markets, such as eu", key("markets", oneOrMore("markets", name().form()),
			func(s *rawScope) *[]word { return &s.markets })),
		says("marks of variants, such as early", key("marks", oneOrMore("marks", name().form()),
			func(s *rawScope) *[]word { return &s.marks })),
		says("frame numbers", key("frames", frames().form(), func(s *rawScope) *frameRange { return &s.frames }))))
}

// scopesForm reads one scope or a list of them.
func scopesForm() form[[]rawScope] { return defined("scopes", oneOrMore("scopes", scopeForm())) }

// scope is the domain's scope.
func (s rawScope) scope() graph.Scope {
	return graph.Scope{Years: s.years.years, Markets: sortedTexts(s.markets), Marks: sortedTexts(s.marks),
		Frames: s.frames.frames}
}

func sortedTexts(words []word) []string {
	return slices.Compact(slices.Sorted(slices.Values(texts(words))))
}

func texts(words []word) []string {
	var list []string
	for _, w := range words {
		list = append(list, w.text)
	}
	return list
}

// covered gives the variants of a model that one of the scopes covers, sorted;
// without a scope, all of them. What the scopes name and the model has not is
// reported. Where a fault hides what a scope covers, sure is false and the
// variants are all: nothing further may be made of them.
func covered(w *world, m *modelInfo, scopes []rawScope) (on []graph.VariantID, sure bool) {
	if len(scopes) == 0 {
		return m.variantIDs(), !m.damaged && !w.broken
	}
	sure = true
	for _, s := range scopes {
		some, clear := coveredByOne(w, m, s)
		on, sure = append(on, some...), sure && clear
	}
	slices.Sort(on)
	return slices.Compact(on), sure
}

func coveredByOne(w *world, m *modelInfo, s rawScope) (on []graph.VariantID, sure bool) {
	if s.loose {
		for _, v := range m.variants {
			if s.scope().Covers(v) {
				on = append(on, v.ID)
			}
		}
		return on, !m.damaged && !w.broken
	}
	if w.broken || !checkScope(w, m, s) || m.damaged {
		return m.variantIDs(), false
	}
	scope := s.scope()
	split := false
	for _, v := range m.variants {
		if scope.Covers(v) {
			on = append(on, v.ID)
		} else if scope.Touches(v) {
			split = true
			splitFault(w, s, v)
		}
	}
	if len(on) == 0 && !split {
		w.Errorf(s.at, "covers-nothing", "no variant of %q lies in this scope", m.model.ID)
	}
	return on, len(on) > 0
}

func splitFault(w *world, s rawScope, v graph.Variant) {
	d := w.Errorf(s.frames.pos, "splits-variant", "frame numbers %q cut through variant %q", s.frames.text, v.ID)
	d.Hint = "divide the variant in two, each with its mark and frame numbers"
	if v.Frames.IsZero() {
		d.Hint = "give the variant its frame numbers"
	}
	d.Related = places(v.Said)
}

// checkScope reports years, markets and marks that the model has not, and that
// no variant which could not be read may have.
func checkScope(w *world, m *modelInfo, s rawScope) bool {
	ok := true
	if first, last := m.span(); s.years.given() && first > 0 &&
		(s.years.years.From < first && !m.mayBeMade(s.years.years.From) || s.years.years.To > last &&
			!m.mayBeMade(s.years.years.To)) {
		w.Errorf(s.years.pos, "outside-years", "years %q are outside of those %q was made, %d-%d",
			s.years.text, m.model.ID, first, last)
		ok = false
	}
	check := func(words []word, code, what string, of func(graph.Variant) string, unread func(rawVariant) word) {
		known := m.words(of, unread)
		if known == nil {
			return // one that could not be read may be any
		}
		for _, given := range words {
			if !slices.Contains(known, given.text) {
				w.unknown(given.pos, code, "%q is no %s of %q", given.text, what, m.model.ID).Hint = nearOrList(given.text, known)
				ok = false
			}
		}
	}
	check(s.markets, "unknown-market", "market", func(v graph.Variant) string { return v.Market },
		func(v rawVariant) word { return v.market })
	check(s.marks, "unknown-mark", "mark", func(v graph.Variant) string { return v.Mark },
		func(v rawVariant) word { return v.mark })
	return ok
}

// checkMarkets reports markets that no model is sold in. Over a base it can't
// know them all and reports none.
func checkMarkets(w *world, markets []word) {
	if len(markets) == 0 || w.base != nil {
		return
	}
	sold := map[string]bool{}
	for _, id := range w.models.keys() {
		m, _ := w.models.get(id)
		for _, v := range m.variants {
			sold[v.Market] = true
		}
	}
	for _, market := range markets {
		if market.given() && !sold[market.text] {
			w.unknown(market.pos, "unknown-market", "no model is sold in a market %q",
				market.text).Hint = nearOrList(market.text, sortedKeys(sold))
		}
	}
}

// places are where cites were read from.
func places(cites []graph.Cite) []diag.Pos {
	var list []diag.Pos
	for _, c := range cites {
		if c.Pos != (diag.Pos{}) {
			list = append(list, c.Pos)
		}
	}
	return list
}
