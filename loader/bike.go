package loader

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawBike is a bike as written.
type rawBike struct {
	at      diag.Pos
	variant word
	frame   word
	found   []named[rawFitted]
	planned []named[rawFitted]
	boxes   []named[[]rawBoxItem]
	bags    []named[rawBag]
	note    word
}

// rawFitted is what is, or is to be, at a position of a bike.
type rawFitted struct {
	at         diag.Pos
	part, note word
}

// rawBoxItem is one line of a box.
type rawBoxItem struct {
	at         diag.Pos
	part       word
	quantity   number
	sure, note word
}

// rawBag is a bag of hardware.
type rawBag struct {
	at       diag.Pos
	label    word
	contents []rawBagItem
}

// rawBagItem is one sort of fastener in a bag.
type rawBagItem struct {
	at       diag.Pos
	kind     word
	quantity number
	dims     []named[word]
}

// missingPart is written where a position of a bike is empty.
const missingPart = "missing"

func bikeForm() form[rawBike] {
	fitted := byName("positions", free(), fittedForm())
	return mapping("a bike", func(b *rawBike) *diag.Pos { return &b.at },
		says("variant it was built as; once is enough", key("variant", free().form(), func(b *rawBike) *word { return &b.variant })),
		says("frame number as stamped", key("frame", phrase().form(), func(b *rawBike) *word { return &b.frame })),
		says("what is really on it, where that differs", key("found", fitted, func(b *rawBike) *[]named[rawFitted] { return &b.found })),
		says("what is meant to go on it", key("planned", fitted, func(b *rawBike) *[]named[rawFitted] { return &b.planned })),
		says("loose parts, by box", key("boxes", byName("boxes", phrase(), list("items", boxItemForm())), func(b *rawBike) *[]named[[]rawBoxItem] { return &b.boxes })),
		says("loose hardware, by bag", key("bags", byName("bags", phrase(), bagForm()), func(b *rawBike) *[]named[rawBag] { return &b.bags })),
		says("free text", key("note", free().form(), func(b *rawBike) *word { return &b.note })))
}

func fittedForm() form[rawFitted] {
	part := func(f *rawFitted) *word { return &f.part }
	return wordOr(phrase(), part, mapping("a fitted part", func(f *rawFitted) *diag.Pos { return &f.at },
		need(says("brand, one space, number; or missing", key("part", phrase().form(), part))),
		says("free text", key("note", free().form(), func(f *rawFitted) *word { return &f.note }))))
}

func boxItemForm() form[rawBoxItem] {
	return mapping("an item of a box", func(i *rawBoxItem) *diag.Pos { return &i.at },
		need(says("brand, one space, number", key("part", phrase().form(), func(i *rawBoxItem) *word { return &i.part }))),
		says("how many; 1 when left out", key("quantity", count().form(), func(i *rawBoxItem) *number { return &i.quantity })),
		says("how it was identified: number read, measured, by eye", key("sure", phrase().form(), func(i *rawBoxItem) *word { return &i.sure })),
		says("free text", key("note", free().form(), func(i *rawBoxItem) *word { return &i.note })))
}

func bagForm() form[rawBag] {
	item := openMapping("an item of a bag", func(i *rawBagItem) *diag.Pos { return &i.at }, []field[rawBagItem]{
		need(says("bolt, nut, washer ...", key("kind", name().form(), func(i *rawBagItem) *word { return &i.kind }))),
		says("how many; 1 when left out", key("quantity", count().form(), func(i *rawBagItem) *number { return &i.quantity })),
	}, &further[rawBagItem, word]{free().form(), func() map[string]string { return dimensionWords("male-thread", "female-thread", "washer") },
		func(i *rawBagItem) *[]named[word] { return &i.dims }})
	return mapping("a bag", func(b *rawBag) *diag.Pos { return &b.at },
		says("what somebody wrote on it", key("label", phrase().form(), func(b *rawBag) *word { return &b.label })),
		need(says("what is in it, as measured", key("contents", list("items", item), func(b *rawBag) *[]rawBagItem { return &b.contents }))))
}

// resolveBikes takes each bike where its variant is given, then what other files
// say of its boxes and bags.
func (w *world) resolveBikes() {
	for _, pieces := range []bool{false, true} {
		for _, f := range w.files {
			for i := range f.bikes {
				raw := &f.bikes[i]
				switch {
				case raw.item.variant.tried() == pieces:
				case pieces:
					w.resolveLoose(raw)
				default:
					w.resolveBike(f, raw)
				}
			}
		}
	}
}

func (w *world) resolveBike(f *dataFile, raw *named[rawBike]) {
	b := graph.Bike{ID: graph.BikeID(raw.name.text), Frame: raw.item.frame.text, Note: raw.item.note.text, Pos: raw.name.pos}
	if before := w.bikes.origin(b.ID); before.pos != (diag.Pos{}) && !before.base {
		d := w.Errorf(raw.name.pos, "duplicate", "bike %q is given twice", b.ID)
		d.Related = before.related()
		return
	}
	if raw.item.variant.given() {
		w.resolveBuilt(&b, raw.item)
	}
	w.addLoose(&b, raw.item)
	w.bikes.put(b.ID, b, origin{pos: raw.name.pos, layer: f.layer})
}

// resolveLoose adds boxes and bags to a bike that another file describes.
func (w *world) resolveLoose(raw *named[rawBike]) {
	before := w.bikes.origin(graph.BikeID(raw.name.text))
	b, known := w.bikes.get(graph.BikeID(raw.name.text))
	switch more := len(raw.item.found)+len(raw.item.planned) > 0 || raw.item.frame.given(); {
	case !known && !w.broken, more, before.base:
		d := w.Errorf(raw.name.pos, "missing-key", "bike %q lacks %q", raw.name.text, "variant")
		d.Hint = "one file says what it was built as; others may add boxes and bags to it"
	case known:
		w.addLoose(b, raw.item)
	}
}

// addLoose adds boxes and bags; a name that the bike has already is reported.
func (w *world) addLoose(b *graph.Bike, raw rawBike) {
	for _, box := range raw.boxes {
		if i := slices.IndexFunc(b.Boxes, func(x graph.Box) bool { return x.Name == box.name.text }); i >= 0 {
			w.Errorf(box.name.pos, "duplicate", "box %q is given twice", box.name.text).Related = []diag.Pos{b.Boxes[i].Pos}
			continue
		}
		b.Boxes = append(b.Boxes, w.box(box))
	}
	for _, bag := range raw.bags {
		if i := slices.IndexFunc(b.Bags, func(x graph.Bag) bool { return x.Name == bag.name.text }); i >= 0 {
			w.Errorf(bag.name.pos, "duplicate", "bag %q is given twice", bag.name.text).Related = []diag.Pos{b.Bags[i].Pos}
			continue
		}
		b.Bags = append(b.Bags, w.bag(bag))
	}
	slices.SortFunc(b.Boxes, func(x, y graph.Box) int { return strings.Compare(x.Name, y.Name) })
	slices.SortFunc(b.Bags, func(x, y graph.Bag) int { return strings.Compare(x.Name, y.Name) })
}

// resolveBuilt reads what hangs on the variant of a bike. With the model known
// and the variant not, positions and parts are checked all the same.
func (w *world) resolveBuilt(b *graph.Bike, raw rawBike) {
	if ids := w.knownVariant(raw.variant, false); len(ids) == 1 {
		b.Variant = ids[0]
	}
	model, _, _ := strings.Cut(raw.variant.text, "/")
	m, known := w.models.get(graph.ModelID(model))
	if !known || m.ghost {
		return
	}
	if b.Variant != "" {
		w.checkFrame(m, *b, raw.frame)
	}
	b.Found = w.fitted(m, b.Variant, raw.found)
	b.Planned = w.fitted(m, b.Variant, raw.planned)
}

// checkFrame reports a frame number that its variant does not have.
func (w *world) checkFrame(m *modelInfo, b graph.Bike, frame word) {
	if !frame.given() {
		return
	}
	v := m.variant(b.Variant)
	has, err := v.Frames.Has(frame.text)
	switch {
	case err != nil:
		w.Errorf(frame.pos, "bad-frames", "%s", inner(err))
	case !has:
		d := w.Errorf(frame.pos, "frame-outside", "frame number %q is not one of %q (%s)", frame.text, v.ID, v.Frames)
		for _, other := range m.variants {
			if in, err := other.Frames.Has(frame.text); err == nil && in && !other.Frames.IsZero() {
				d.Hint = "it belongs to " + string(other.ID)
			}
		}
		d.Related = places(v.Said)
	}
}

func (w *world) fitted(m *modelInfo, on graph.VariantID, raw []named[rawFitted]) []graph.Fitted {
	var list []graph.Fitted
	for _, r := range raw {
		id, known := w.position(m, r.name)
		if !known || !r.item.part.given() {
			continue
		}
		if p, _ := w.positions.get(id); on != "" && !slices.Contains(p.On, on) {
			w.Errorf(r.name.pos, "covers-nothing", "position %q is not on %q", r.name.text, on).Related = places(p.Said)
		}
		fitted := graph.Fitted{Position: id, Note: r.item.note.text, Pos: r.name.pos}
		if r.item.part.text != missingPart {
			fitted.Part, _ = w.partRef(r.item.part)
		}
		list = append(list, fitted)
	}
	slices.SortFunc(list, func(a, b graph.Fitted) int { return strings.Compare(string(a.Position), string(b.Position)) })
	return list
}

func (w *world) box(raw named[[]rawBoxItem]) graph.Box {
	box := graph.Box{Name: raw.name.text, Pos: raw.name.pos}
	for _, item := range raw.item {
		if !item.part.given() {
			continue
		}
		id, _ := w.partRef(item.part)
		box.Items = append(box.Items, graph.BoxItem{Part: id, Quantity: max(1, item.quantity.n), Sure: item.sure.text, Note: item.note.text, Pos: item.at})
	}
	return box
}

func (w *world) bag(raw named[rawBag]) graph.Bag {
	bag := graph.Bag{Name: raw.name.text, Label: raw.item.label.text, Pos: raw.name.pos}
	for _, item := range raw.item.contents {
		if !item.kind.given() {
			continue
		}
		line := graph.BagItem{Kind: graph.KindID(item.kind.text), Dims: map[string]string{}, Quantity: max(1, item.quantity.n), Pos: item.at}
		if kind, known := w.knownKind(item.kind); known {
			w.bagDims(kind, item, line.Dims)
		}
		bag.Contents = append(bag.Contents, line)
	}
	return bag
}

// bagDims checks the dimensions of loose hardware against the feature that its
// kind has: the thread of a bolt, the ring of a washer.
func (w *world) bagDims(kind *graph.Kind, item rawBagItem, into map[string]string) {
	if len(item.dims) == 0 {
		return
	}
	feature, found := w.hardwareFeature(kind, item.kind, item.dims)
	if !found {
		return
	}
	spec := w.featureKinds[feature.Kind]
	for _, dim := range item.dims {
		if !dim.item.given() {
			continue
		}
		if d, known := spec.Dim(dim.name.text); !known {
			w.unknownDim(spec, dim.name)
		} else if _, ok := w.dimValue(dim.item, d); ok {
			into[dim.name.text] = dim.item.text
		}
	}
}

// knownBike looks a bike up and reports one that nothing defines.
func (w *world) knownBike(id word) (*graph.Bike, bool) {
	b, known := w.bikes.get(graph.BikeID(id.text))
	if !known {
		w.unknown(id.pos, "unknown-bike", "no bike is called %q", id.text).Hint = nearOrList(id.text, w.bikes.names())
	}
	return b, known
}
