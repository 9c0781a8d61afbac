package loader

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawKind is a kind of part as written.
type rawKind struct {
	at       diag.Pos
	name     word
	is       word
	safety   word
	road     []word
	joins    flag
	features []named[rawKindFeature]
	source   []word
}

// rawKindFeature is a feature of a kind: "port", "finish, may", or written out.
type rawKindFeature struct {
	at      diag.Pos
	kind    word
	may     flag
	direct  flag
	informs []named[word]
}

// maySuffix marks a feature that a part of the kind may do without, directSuffix one
// that meets its other side itself.
const (
	maySuffix    = "may"
	directSuffix = "direct"
)

func kindForm() form[rawKind] {
	return mapping("a kind", func(k *rawKind) *diag.Pos { return &k.at },
		says("what a person calls it: brake caliper", key("name", phrase().form(),
			func(k *rawKind) *word { return &k.name })),
		says("what it does and where it sits", key("is", phrase().form(), func(k *rawKind) *word { return &k.is })),
		says("safety class of the places where it sits, unless a place gives its own",
			key("safety", oneOf(graph.SafetyClasses()...).form(), func(k *rawKind) *word { return &k.safety })),
		says("what it does that a machine needs on the road, unless a place gives its own", key("road", roadForm(),
			func(k *rawKind) *[]word { return &k.road })),
		says("yes when it is made to go between two parts that do not meet each other, as an adapter or a bracket is",
			key("joins", yesNo().form(), func(k *rawKind) *flag { return &k.joins })),
		says(`feature name: feature kind; ", may" behind it when a part of the kind may lack it, ", direct" when nothing `+
			`is made to go between it and what it meets`,
			key("features", byName("features", name(), kindFeatureForm()),
				func(k *rawKind) *[]named[rawKindFeature] { return &k.features })),
		sourceKey(func(k *rawKind) *[]word { return &k.source }))
}

// roadForm is a list of duties that the road asks for.
func roadForm() form[[]word] { return oneOrMore("duties", oneOf(graph.RoadDuties()...).form()) }

// roadOf are duties as they are kept: sorted, each once.
func roadOf(raw []word) []string {
	duties := texts(raw)
	slices.Sort(duties)
	return slices.Compact(duties)
}

func kindFeatureForm() form[rawKindFeature] {
	short := free()
	short.schema = func() schema {
		var choices []string
		for _, k := range graph.FeatureKinds() {
			for _, marks := range []string{"", ", " + maySuffix, ", " + directSuffix, ", " + maySuffix + ", " + directSuffix} {
				choices = append(choices, k.Name+marks)
			}
		}
		return schema{"enum": anyOf(choices)}
	}
	full := mapping("a feature of a kind", func(f *rawKindFeature) *diag.Pos { return &f.at },
		need(says("kind of feature", key("kind", short.form(), func(f *rawKindFeature) *word { return &f.kind }))),
		says("yes when a part of the kind may lack it", key("may", yesNo().form(),
			func(f *rawKindFeature) *flag { return &f.may })),
		says("yes when nothing is made to go between it and what it meets", key("direct", yesNo().form(),
			func(f *rawKindFeature) *flag { return &f.direct })),
		says("dimensions that decide nothing for this kind of part, each with why",
			key("informs", byName("dimensions", name(), phrase().form()),
				func(f *rawKindFeature) *[]named[word] { return &f.informs })))
	return wordOr(short, func(f *rawKindFeature) *word { return &f.kind }, full)
}

// resolveKinds makes one kind of what the layers say of it. A later layer adds
// features, and may give a feature that the kind has already another "may", a
// kind another name. Within one layer a kind is given once.
func resolveKinds(w *world) {
	givenAt := map[graph.KindID]map[int]diag.Pos{}
	for _, f := range w.files {
		for _, raw := range f.kinds {
			id := graph.KindID(raw.name.text)
			if first, twice := givenAt[id][f.layer]; twice {
				sameDefinition(w, f, raw.name, "kind", origin{pos: first, layer: f.layer}, false)
				continue
			}
			if givenAt[id] == nil {
				givenAt[id] = map[int]diag.Pos{}
			}
			givenAt[id][f.layer] = raw.name.pos
			k := graph.Kind{ID: id, Name: raw.item.name.text, Is: raw.item.is.text, Safety: graph.Safety(raw.item.safety.text),
				Road: roadOf(raw.item.road), Joins: raw.item.joins.yes,
				Features: kindFeatures(w, raw.item.features), Said: w.cites(f, raw.name.pos, raw.item.source)}
			before, known := w.kinds.get(id)
			if known {
				k = unitedKind(w, f, raw, *before, k)
			}
			if k.Name == "" {
				k.Name = strings.ReplaceAll(raw.name.text, "-", " ")
			}
			w.kinds.put(id, k, origin{pos: raw.name.pos, layer: f.layer})
		}
	}
}

// unitedKind is a kind with what a later layer says of it. A feature that it
// has as another sort of feature keeps the first; the layer's own parts are
// read as the layer means it, so that nobody's files clash with others'.
func unitedKind(w *world, f *dataFile, raw named[rawKind], before, later graph.Kind) graph.Kind {
	k := before
	k.Name, k.Is = cmp.Or(later.Name, before.Name), cmp.Or(later.Is, before.Is)
	k.Safety = cmp.Or(later.Safety, before.Safety)
	k.Joins = before.Joins
	if raw.item.joins.given() {
		k.Joins = later.Joins
	}
	if len(later.Road) > 0 {
		k.Road = later.Road
	}
	k.Features = slices.Clone(before.Features)
	for _, feature := range later.Features {
		i := slices.IndexFunc(k.Features, func(has graph.KindFeature) bool { return has.Name == feature.Name })
		switch {
		case i < 0:
			k.Features = append(k.Features, feature)
		case k.Features[i].Kind != feature.Kind:
			ownMeaning(w, f, raw, feature, k.Features[i].Kind)
		default:
			informs := slices.DeleteFunc(slices.Clone(k.Features[i].Informs), func(old graph.Informing) bool {
				return slices.ContainsFunc(feature.Informs, func(new graph.Informing) bool { return new.Dim == old.Dim })
			})
			feature.Informs = append(informs, feature.Informs...)
			feature.Direct = feature.Direct || k.Features[i].Direct
			slices.SortFunc(feature.Informs, func(a, b graph.Informing) int { return strings.Compare(a.Dim, b.Dim) })
			k.Features[i] = feature
		}
	}
	slices.SortFunc(k.Features, func(a, b graph.KindFeature) int { return strings.Compare(a.Name, b.Name) })
	if k.Said = later.Said; !w.kinds.origin(k.ID).base {
		k.Said = addCites(before.Said, later.Said)
	}
	return k
}

// ownMeaning keeps what a feature means to the parts of one layer, and warns.
func ownMeaning(w *world, f *dataFile, raw named[rawKind], feature graph.KindFeature, elsewhere string) {
	id := graph.KindID(raw.name.text)
	if w.ownFeatures[f.layer] == nil {
		w.ownFeatures[f.layer] = map[graph.KindID]map[string]string{}
	}
	if w.ownFeatures[f.layer][id] == nil {
		w.ownFeatures[f.layer][id] = map[string]string{}
	}
	w.ownFeatures[f.layer][id][feature.Name] = feature.Kind
	i := slices.IndexFunc(raw.item.features, func(r named[rawKindFeature]) bool { return r.name.text == feature.Name })
	d := w.Warnf(raw.item.features[i].name.pos, "other-meaning", "feature %q of a %q is a %q elsewhere, not a %q",
		feature.Name, id, elsewhere, feature.Kind)
	d.Hint = "the parts of this set are read as written here; another name for the feature or the kind would keep the " +
		"two apart"
	d.Related = w.kinds.origin(id).related()
}

func kindFeatures(w *world, raw []named[rawKindFeature]) []graph.KindFeature {
	var features []graph.KindFeature
	for _, feature := range raw {
		if !feature.item.kind.given() {
			continue
		}
		kind, may, direct := marksOf(w, feature.item.kind)
		spec, known := knownFeatureKind(w, word{kind, feature.item.kind.pos})
		f := graph.KindFeature{Name: feature.name.text, Kind: kind, May: may || feature.item.may.yes,
			Direct: direct || feature.item.direct.yes}
		for _, i := range feature.item.informs {
			if _, has := spec.Dim(i.name.text); known && !has {
				unknownDim(w, spec, i.name)
				continue
			}
			f.Informs = append(f.Informs, graph.Informing{Dim: i.name.text, Why: i.item.text})
		}
		slices.SortFunc(f.Informs, func(a, b graph.Informing) int { return strings.Compare(a.Dim, b.Dim) })
		features = append(features, f)
	}
	slices.SortFunc(features, func(a, b graph.KindFeature) int { return strings.Compare(a.Name, b.Name) })
	return features
}

// marksOf is a kind of feature with the marks behind it: "bore, may, direct".
func marksOf(w *world, at word) (kind string, may, direct bool) {
	kind, rest, marked := strings.Cut(at.text, ",")
	for mark := ""; marked; {
		mark, rest, marked = strings.Cut(rest, ",")
		switch mark = strings.TrimSpace(mark); mark {
		case maySuffix:
			may = true
		case directSuffix:
			direct = true
		default:
			may = true // as it was most likely meant
			w.Errorf(at.pos, "bad-value", "%q behind the feature kind is not %q or %q", mark, maySuffix, directSuffix)
		}
	}
	return strings.TrimSpace(kind), may, direct
}

func knownFeatureKind(w *world, kind word) (graph.FeatureKind, bool) {
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
func knownKind(w *world, kind word) (*graph.Kind, bool) {
	k, known := w.kinds.get(graph.KindID(kind.text))
	if !known {
		w.unknown(kind.pos, "unknown-kind", "no kind of part is called %q", kind.text).Hint = nearOrList(kind.text,
			w.kinds.names())
	}
	return k, known
}

// kindFeature finds a feature of a kind by name, as the files of a layer mean
// it; layer is negative where no file is asked for.
func kindFeature(w *world, k *graph.Kind, name string, layer int) (graph.KindFeature, bool) {
	if k == nil {
		return graph.KindFeature{}, false
	}
	f, ok := k.Feature(name)
	if own := w.ownFeatures[layer][k.ID][name]; own != "" {
		f.Kind = own
	}
	return f, ok
}
