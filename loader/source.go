package loader

import (
	"cmp"
	"fmt"
	"slices"
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
		need(says("what sort of source it is; this decides its rank", key("kind", oneOf(graph.SourceKinds()...).form(),
			func(s *rawSource) *word { return &s.kind }))),
		need(says("title, as one would cite it", key("title", phrase().form(),
			func(s *rawSource) *word { return &s.title }))),
		says("when it was published: 2003, 2003-02 or 2003-02-17", key("date", date().form(),
			func(s *rawSource) *word { return &s.date })),
		says("for which machines it speaks; all when left out", key("scope", scopeForm(),
			func(s *rawSource) *rawScope { return &s.scope })),
		says("the source it was reprinted or copied from", key("origin", name().form(),
			func(s *rawSource) *word { return &s.origin })))
}

// sourcesForm reads the identity of a source, or a list of them.
func sourcesForm() form[[]word] { return defined("sources", oneOrMore("sources", name().form())) }

// sourceKey is the key that names the sources of an item.
func sourceKey[T any](at func(*T) *[]word) field[T] {
	return says("the source that says so, or several", key("source", sourcesForm(), at))
}

// resolveSources takes each layer's sources. A name that an earlier layer, or
// the base, has given to another source stands for the layer's own one in the
// layer's files, so that nobody's sources clash: see sourceID.
func resolveSources(w *world) {
	for _, f := range w.files {
		for _, raw := range f.sources {
			resolveSource(w, f, raw)
		}
	}
	for _, f := range w.files {
		for _, word := range f.source {
			checkSource(w, f, word)
		}
		for _, raw := range f.sources {
			if o := raw.item.origin; o.given() {
				useSource(w, f, o)
				if s, known := w.sources.get(sourceID(w, f, raw.name)); known && w.sources.origin(s.ID).layer == f.layer {
					s.Origin = sourceID(w, f, o)
				}
			}
		}
	}
	checkOrigins(w)
}

func resolveSource(w *world, f *dataFile, raw named[rawSource]) {
	s := graph.Source{ID: graph.SourceID(raw.name.text), Kind: graph.SourceKind(raw.item.kind.text),
		Title: raw.item.title.text,
		Date:  raw.item.date.text, Scope: raw.item.scope.scope(), Origin: graph.SourceID(raw.item.origin.text),
		Pos: raw.name.pos}
	before, known := w.sources.get(s.ID)
	first := w.sources.origin(s.ID)
	same := known && sourceContent(*before) == sourceContent(s)
	switch {
	case known && !first.base && first.layer == f.layer:
		sameDefinition(w, f, raw.name, "source", first, same)
		return
	case known && !same:
		s.ID = ownSource(w, f, raw.name)
		if twin := w.sources.origin(s.ID); twin.layer == f.layer && twin.pos.Line > 0 && !twin.base {
			sameDefinition(w, f, raw.name, "source", twin, false)
			return
		}
	case known && !first.base:
		return
	}
	w.sources.put(s.ID, s, origin{pos: raw.name.pos, layer: f.layer})
}

// ownSource names a source of a layer whose own name means another source
// elsewhere: the name of the layer's folder in front of it.
func ownSource(w *world, f *dataFile, name word) graph.SourceID {
	folder := cmp.Or(strings.Trim(notName.compile().ReplaceAllString(strings.ToLower(f.folder), "-"), "-"), "other")
	id := graph.SourceID(folder + "-" + name.text)
	for n := 2; w.ownSources[f.layer][name.text] != id; n++ {
		if _, known := w.sources.get(id); !known {
			break
		}
		id = graph.SourceID(fmt.Sprintf("%s-%s-%d", folder, name.text, n))
	}
	if w.ownSources[f.layer] == nil {
		w.ownSources[f.layer] = map[string]graph.SourceID{}
	}
	w.ownSources[f.layer][name.text] = id
	return id
}

// sourceID is the source that a name stands for in a file: that of its own
// layer, else that of any.
func sourceID(w *world, f *dataFile, name word) graph.SourceID {
	if own := w.ownSources[f.layer][name.text]; own != "" {
		return own
	}
	return graph.SourceID(name.text)
}

func sourceContent(s graph.Source) string {
	return fmt.Sprint(s.Kind, "|", s.Title, "|", s.Date, "|", s.Scope, "|", s.Origin)
}

// sameDefinition says whether a second definition of a name may stand: in the
// same layer it may not, in another one only when it says the same.
func sameDefinition(w *world, f *dataFile, at word, what string, first origin, same bool) bool {
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
func useSource(w *world, f *dataFile, name word) {
	if name.given() {
		w.usedSources[sourceID(w, f, name)] = true
		checkSource(w, f, name)
	}
}

// checkSource reports a source that nothing defines, once for each place.
func checkSource(w *world, f *dataFile, name word) {
	if _, known := w.sources.get(sourceID(w, f, name)); known || !name.given() {
		return
	}
	if !w.toldSources[name.pos] {
		w.toldSources[name.pos] = true
		w.unknown(name.pos, "unknown-source", "no source is called %q", name.text).Hint = w.hints.near("source", name.text,
			func() []string { return slices.DeleteFunc(w.sources.names(), isStandardSource) }, nearOrList)
	}
}

// checkOrigins reports sources that are, over others, their own origin.
func checkOrigins(w *world) {
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
func warnUnused(w *world) {
	if w.broken || w.cut {
		return
	}
	for _, id := range w.sources.keys() {
		if o := w.sources.origin(id); !o.base && !w.usedSources[id] {
			w.Warnf(o.pos, "unused-source", "nothing cites source %q", id)
		}
	}
}
