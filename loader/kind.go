package loader

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawKind is a kind of part as written.
type rawKind struct {
	at       diag.Pos
	name     word
	features []named[word] // "port", or "finish, may"
	source   []word
}

// maySuffix marks a feature that a part of the kind may do without.
const maySuffix = "may"

func kindForm() form[rawKind] {
	feature := free()
	feature.schema = func() schema {
		var choices []string
		for _, k := range graph.FeatureKinds() {
			choices = append(choices, k.Name, k.Name+", "+maySuffix)
		}
		return schema{"enum": anyOf(choices)}
	}
	return mapping("a kind", func(k *rawKind) *diag.Pos { return &k.at },
		says("what a person calls it: brake caliper", key("name", phrase().form(), func(k *rawKind) *word { return &k.name })),
		says(`feature name: feature kind; ", may" behind it when a part of the kind may lack it`,
			key("features", byName("features", name(), feature.form()), func(k *rawKind) *[]named[word] { return &k.features })),
		sourceKey(func(k *rawKind) *[]word { return &k.source }))
}

func (w *world) resolveKinds() {
	for _, f := range w.files {
		for _, raw := range f.kinds {
			k := graph.Kind{ID: graph.KindID(raw.name.text), Name: raw.item.name.text, Said: w.cites(f, raw.name.pos, raw.item.source),
				Features: w.kindFeatures(raw.item.features)}
			if k.Name == "" {
				k.Name = strings.ReplaceAll(raw.name.text, "-", " ")
			}
			before, known := w.kinds.get(k.ID)
			same := known && before.Name == k.Name && slices.Equal(before.Features, k.Features)
			if known && !w.sameDefinition(f, raw.name, "kind", w.kinds.origin(k.ID), same) {
				continue
			}
			if known && !w.kinds.origin(k.ID).base {
				before.Said = addCites(before.Said, k.Said)
				continue
			}
			w.kinds.put(k.ID, k, origin{pos: raw.name.pos, layer: f.layer})
		}
	}
}

func (w *world) kindFeatures(raw []named[word]) []graph.KindFeature {
	var features []graph.KindFeature
	for _, feature := range raw {
		if !feature.item.given() {
			continue
		}
		kind, mark, marked := strings.Cut(feature.item.text, ",")
		kind, mark = strings.TrimSpace(kind), strings.TrimSpace(mark)
		if marked && mark != maySuffix {
			w.Errorf(feature.item.pos, "bad-value", "%q behind the feature kind is not %q", mark, maySuffix)
		}
		w.knownFeatureKind(word{kind, feature.item.pos})
		features = append(features, graph.KindFeature{Name: feature.name.text, Kind: kind, May: marked})
	}
	slices.SortFunc(features, func(a, b graph.KindFeature) int { return strings.Compare(a.Name, b.Name) })
	return features
}

func (w *world) knownFeatureKind(kind word) (graph.FeatureKind, bool) {
	k, known := w.featureKinds[kind.text]
	if !known {
		var names []string
		for name := range w.featureKinds {
			names = append(names, name)
		}
		w.Errorf(kind.pos, "unknown-feature-kind", "no kind of feature is called %q", kind.text).Hint = near(kind.text, names)
	}
	return k, known
}

// knownKind looks a kind of part up and reports one that nothing defines.
func (w *world) knownKind(kind word) (*graph.Kind, bool) {
	k, known := w.kinds.get(graph.KindID(kind.text))
	if !known {
		w.unknown(kind.pos, "unknown-kind", "no kind of part is called %q", kind.text).Hint = nearOrList(kind.text, w.kinds.names())
	}
	return k, known
}

// kindFeature finds a feature of a kind by name.
func kindFeature(k *graph.Kind, name string) (graph.KindFeature, bool) {
	if k == nil {
		return graph.KindFeature{}, false
	}
	for _, f := range k.Features {
		if f.Name == name {
			return f, true
		}
	}
	return graph.KindFeature{}, false
}
