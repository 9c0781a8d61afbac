package loader

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawFastener is a row of a list of fasteners: a part with one feature.
type rawFastener struct {
	at     diag.Pos
	part   word
	kind   word
	name   word
	dims   []named[word]
	source []word
}

// fastenerDims are the columns that hold dimensions; a dimension is spelled
// with a hyphen where the column has an underscore.
func fastenerDims() []string {
	return []string{"thread", "length", "grip", "depth", "hole", "material", "head", "across_flats", "class",
		"inside", "outside", "thickness", "diameter", "finish", "torque"}
}

func fastenerTable() table[rawFastener] {
	columns := []column[rawFastener]{
		needed(cell("part", free(), func(r *rawFastener) *word { return &r.part })),
		needed(cell("kind", name(), func(r *rawFastener) *word { return &r.kind })),
		cell("name", free(), func(r *rawFastener) *word { return &r.name }),
		sourceCells(func(r *rawFastener) *[]word { return &r.source }),
	}
	for _, title := range fastenerDims() {
		dim := strings.ReplaceAll(title, "_", "-")
		columns = append(columns, column[rawFastener]{name: title, schema: scalarSchema, read: func(_ reading, w word,
			into *rawFastener) {
			into.dims = append(into.dims, named[word]{name: word{dim, w.pos}, item: w})
		}})
	}
	return table[rawFastener]{at: func(r *rawFastener) *diag.Pos { return &r.at }, columns: columns}
}

// resolveFastener adds the one feature of a fastener: the thread of a bolt or
// nut, the ring of a washer.
func resolveFastener(w *world, f *dataFile, raw *rawFastener) {
	d := declared(w, raw.part)
	if d == nil {
		return
	}
	p := d.saying()
	p.Said = addCites(p.Said, w.cites(f, raw.at, raw.source))
	p.Name = cmp.Or(p.Name, raw.name.text)
	kind, known := w.kinds.get(d.kind())
	if !known || len(raw.dims) == 0 {
		return
	}
	feature, found := hardwareFeature(w, kind, raw.kind, raw.dims)
	if !found {
		return
	}
	item := rawFeature{at: raw.at}
	spec := w.featureKinds[feature.Kind]
	for _, dim := range raw.dims {
		if _, has := spec.Dim(dim.name.text); !has {
			w.Errorf(dim.name.pos, "unknown-dimension", "the %q of a %q has no %q", feature.Name, kind.ID,
				dim.name.text).Hint = "leave the cell empty"
			continue
		}
		item.dims = append(item.dims, named[[]rawReading]{name: dim.name, item: []rawReading{{at: dim.item.pos,
			value: dim.item}}})
	}
	resolveFeature(w, f, d, raw.source, named[rawFeature]{name: word{feature.Name, raw.at}, item: item})
}

// hardwareFeature is the feature that dimensions of loose hardware describe:
// the thread or the ring of its kind, else the first that has all of them. A
// kind without any is reported.
func hardwareFeature(w *world, kind *graph.Kind, at word, dims []named[word]) (graph.KindFeature, bool) {
	for _, name := range []string{"thread", "ring"} {
		if f, ok := kindFeature(w, kind, name, -1); ok {
			return f, true
		}
	}
	for _, f := range kind.Features {
		spec := w.featureKinds[f.Kind]
		lacks := func(dim named[word]) bool { _, has := spec.Dim(dim.name.text); return !has }
		if !slices.ContainsFunc(dims, lacks) {
			return f, true
		}
	}
	var given []string
	for _, dim := range dims {
		given = append(given, dim.name.text)
	}
	w.unknown(at.pos, "unknown-feature", "a %q has no feature that measures %s", kind.ID, strings.Join(given, ", ")).Hint =
		"give the kind a feature \"thread\" or \"ring\", or leave the cells empty"
	return graph.KindFeature{}, false
}
