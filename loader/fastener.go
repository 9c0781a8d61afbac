package loader

import (
	"cmp"
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
		"inside", "outside", "thickness", "finish", "torque"}
}

func fastenerTable() table[rawFastener] {
	columns := []column[rawFastener]{
		needed(cell("part", free(), func(r *rawFastener) *word { return &r.part })),
		needed(cell("kind", name(), func(r *rawFastener) *word { return &r.kind })),
		cell("name", free(), func(r *rawFastener) *word { return &r.name }),
		cells("source", name(), func(r *rawFastener) *[]word { return &r.source }),
	}
	for _, title := range fastenerDims() {
		dim := strings.ReplaceAll(title, "_", "-")
		columns = append(columns, column[rawFastener]{name: title, read: func(_ reading, w word, into *rawFastener) {
			into.dims = append(into.dims, named[word]{word{dim, w.pos}, w})
		}})
	}
	return table[rawFastener]{at: func(r *rawFastener) *diag.Pos { return &r.at }, columns: columns}
}

// resolveFastener adds the one feature of a fastener: the thread of a bolt or
// nut, the ring of a washer.
func (w *world) resolveFastener(f *dataFile, raw *rawFastener) {
	d := w.declared(raw.part)
	if d == nil {
		return
	}
	d.part.Said = addCites(d.part.Said, w.cites(f, raw.at, raw.source))
	d.part.Name = cmp.Or(d.part.Name, raw.name.text)
	kind, known := w.kinds.get(d.kind())
	if !known || len(raw.dims) == 0 {
		return
	}
	feature, found := fastenerFeature(kind)
	if !found {
		w.Errorf(raw.kind.pos, "unknown-feature", "a %q has neither a feature \"thread\" nor a feature \"ring\"", kind.ID).Hint =
			"give the kind one of them, or write the part in a YAML file"
		return
	}
	item := rawFeature{at: raw.at}
	spec := w.featureKinds[feature.Kind]
	for _, dim := range raw.dims {
		if _, has := spec.Dim(dim.name.text); !has {
			w.Errorf(dim.name.pos, "unknown-dimension", "a %q has no %q", spec.Name, dim.name.text).Hint = "leave the cell empty"
			continue
		}
		item.dims = append(item.dims, named[[]rawReading]{dim.name, []rawReading{{at: dim.item.pos, value: dim.item}}})
	}
	w.resolveFeature(f, d, raw.source, named[rawFeature]{word{feature.Name, raw.at}, item})
}

// fastenerFeature is the feature that the columns of the list describe.
func fastenerFeature(kind *graph.Kind) (graph.KindFeature, bool) {
	if thread, ok := kindFeature(kind, "thread"); ok {
		return thread, true
	}
	return kindFeature(kind, "ring")
}
