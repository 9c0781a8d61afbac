package loader

import (
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawSource is a source as written.
type rawSource struct {
	at     diag.Pos
	kind   word
	title  word
	date   word
	origin word
	scope  rawScope
}

func sourceForm() form[rawSource] {
	return mapping("a source", func(s *rawSource) *diag.Pos { return &s.at },
		need(says("what sort of source it is; this decides its rank", key("kind", oneOf(graph.SourceKinds()...).form(), func(s *rawSource) *word { return &s.kind }))),
		need(says("title, as one would cite it", key("title", phrase().form(), func(s *rawSource) *word { return &s.title }))),
		says("when it was published: 2003, 2003-02 or 2003-02-17", key("date", date().form(), func(s *rawSource) *word { return &s.date })),
		says("for which machines it speaks; all when left out", key("scope", scopeForm(), func(s *rawSource) *rawScope { return &s.scope })),
		says("the source it was reprinted or copied from", key("origin", name().form(), func(s *rawSource) *word { return &s.origin })))
}

// sourcesForm reads the identity of a source, or a list of them.
func sourcesForm() form[[]word] { return defined("sources", oneOrMore("sources", name().form())) }

// sourceKey is the key that names the sources of an item.
func sourceKey[T any](at func(*T) *[]word) field[T] {
	return says("the source that says so, or several", key("source", sourcesForm(), at))
}

func (w *world) resolveSources() {
	for _, f := range w.files {
		for _, raw := range f.sources {
			s := graph.Source{ID: graph.SourceID(raw.name.text), Kind: graph.SourceKind(raw.item.kind.text), Title: raw.item.title.text,
				Date: raw.item.date.text, Scope: raw.item.scope.scope(), Origin: graph.SourceID(raw.item.origin.text), Pos: raw.name.pos}
			before, known := w.sources.get(s.ID)
			if known && !w.sameDefinition(f, raw.name, "source", w.sources.origin(s.ID), sourceContent(*before) == sourceContent(s)) {
				continue
			}
			if !known || w.sources.origin(s.ID).base {
				w.sources.put(s.ID, s, origin{pos: raw.name.pos, layer: f.layer})
			}
		}
	}
	for _, f := range w.files {
		for _, word := range f.source {
			w.checkSource(word)
		}
		for _, raw := range f.sources {
			if o := raw.item.origin; o.given() {
				w.useSource(o)
			}
		}
	}
	w.checkOrigins()
}

func sourceContent(s graph.Source) string {
	return fmt.Sprint(s.Kind, "|", s.Title, "|", s.Date, "|", s.Scope, "|", s.Origin)
}

// sameDefinition says whether a second definition of a name may stand: in the
// same layer it may not, in another one only when it says the same.
func (w *world) sameDefinition(f *dataFile, at word, what string, first origin, same bool) bool {
	if same && (first.base || first.layer != f.layer) {
		return true
	}
	d := w.Errorf(at.pos, "duplicate", "%s %q is given twice", what, at.text)
	d.Hint = "take one of them out, or give it another name"
	if first.base || first.layer != f.layer {
		d.Message = fmt.Sprintf("%s %q is given otherwise elsewhere", what, at.text)
	}
	d.Related = first.related()
	return false
}

// useSource looks up a source and notes that it was needed.
func (w *world) useSource(name word) {
	if name.given() {
		w.usedSources[graph.SourceID(name.text)] = true
		w.checkSource(name)
	}
}

// checkSource reports a source that nothing defines, once for each place.
func (w *world) checkSource(name word) {
	if _, known := w.sources.get(graph.SourceID(name.text)); known || !name.given() {
		return
	}
	if !w.toldSources[name.pos] {
		w.toldSources[name.pos] = true
		w.unknown(name.pos, "unknown-source", "no source is called %q", name.text).Hint =
			nearOrList(name.text, w.sources.names())
	}
}

// checkOrigins reports sources that are, over others, their own origin.
func (w *world) checkOrigins() {
	next := func(id graph.SourceID) []graph.SourceID {
		if s, ok := w.sources.get(id); ok && s.Origin != "" {
			return []graph.SourceID{s.Origin}
		}
		return nil
	}
	for _, cycle := range cycles(w.sources.keys(), next) {
		var at []diag.Pos
		for _, id := range cycle {
			s, _ := w.sources.get(id)
			at = append(at, s.Pos)
		}
		d := w.Errorf(at[0], "source-cycle", "source %q is its own origin: %s", cycle[0], circle(cycle))
		d.Related = at[1:]
	}
}

// circle prints a cycle with its start at both ends.
func circle[K ~string](cycle []K) string {
	var b strings.Builder
	for _, k := range cycle {
		b.WriteString(string(k) + " -> ")
	}
	return b.String() + string(cycle[0])
}

// warnUnused reports sources that nothing cites.
func (w *world) warnUnused() {
	if w.broken || w.cut {
		return
	}
	for _, id := range w.sources.keys() {
		if o := w.sources.origin(id); !o.base && !w.usedSources[id] {
			w.Warnf(o.pos, "unused-source", "nothing cites source %q", id)
		}
	}
}
