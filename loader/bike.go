package loader

import (
	"errors"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawBike is a bike as written.
type rawBike struct {
	at      diag.Pos
	variant word
	frame   word
	scheme  word
	every   word
	found   []named[rawFitted]
	planned []named[rawFitted]
	moved   []named[rawMoved]
	boxes   []named[[]rawBoxItem]
	bags    []named[rawBag]
	note    word
}

// rawFitted is what is, or is to be, at a position of a bike.
type rawFitted struct {
	at         diag.Pos
	part, note word
	specimen   rawSpecimen
}

// rawSpecimen is what concerns one particular part, as written.
type rawSpecimen struct {
	condition word
	measured  []rawMeasured
}

// rawMoved is what hangs elsewhere than as built, as written.
type rawMoved struct {
	at                    diag.Pos
	on, up, forward, left word
	above, note           word
}

// rawBoxItem is one line of a box.
type rawBoxItem struct {
	at         diag.Pos
	part       word
	quantity   number
	sure, note word
	specimen   rawSpecimen
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

// asBuiltPart is written where the part is there that the book has there.
const asBuiltPart = "as built"

// noCarrier is written where nothing carries a moved part any more.
const noCarrier = "nothing"

func bikeForm() form[rawBike] {
	fitted := byName("positions", free(), fittedForm())
	return mapping("a bike", func(b *rawBike) *diag.Pos { return &b.at },
		says("variant it was built as; once is enough", key("variant", free().form(),
			func(b *rawBike) *word { return &b.variant })),
		says("frame number as stamped", key("frame", phrase().form(), func(b *rawBike) *word { return &b.frame })),
		says("colour scheme it has, one of those its variant was sold in; left out, it is taken from what is noted on it "+
			"and lies in its boxes", key("scheme", name().form(), func(b *rawBike) *word { return &b.scheme })),
		says("missing for a machine in pieces: then nothing is taken to be on it but what stands under found; as built "+
			"when left out",
			key("everything", oneOf(missingPart, asBuiltPart).form(), func(b *rawBike) *word { return &b.every })),
		says("what is really on it, where that differs: by position, or by whole assembly (as built, missing)",
			key("found", fitted, func(b *rawBike) *[]named[rawFitted] { return &b.found })),
		says("what is meant to go on it", key("planned", fitted, func(b *rawBike) *[]named[rawFitted] { return &b.planned })),
		says("what hangs elsewhere than as built, by position", key("moved", byName("positions", free(), movedForm()),
			func(b *rawBike) *[]named[rawMoved] { return &b.moved })),
		says("loose parts, by box", key("boxes", byName("boxes", phrase(), list("items", boxItemForm())),
			func(b *rawBike) *[]named[[]rawBoxItem] { return &b.boxes })),
		says("loose hardware, by bag", key("bags", byName("bags", phrase(), bagForm()),
			func(b *rawBike) *[]named[rawBag] { return &b.bags })),
		says("free text", key("note", free().form(), func(b *rawBike) *word { return &b.note })))
}

func fittedForm() form[rawFitted] {
	part := func(f *rawFitted) *word { return &f.part }
	fields := append([]field[rawFitted]{
		need(says("brand, one space, number; or missing, or as built", key("part", phrase().form(), part))),
		says("free text", key("note", free().form(), func(f *rawFitted) *word { return &f.note })),
	}, specimenFields(func(f *rawFitted) *rawSpecimen { return &f.specimen })...)
	return wordOr(phrase(), part, mapping("a fitted part", func(f *rawFitted) *diag.Pos { return &f.at }, fields...))
}

// specimenFields are the keys of whatever is one particular part.
func specimenFields[T any](of func(*T) *rawSpecimen) []field[T] {
	return []field[T]{
		says("state of this very part; what is cracked or bent is used for nothing",
			key("condition", oneOf(conditionWords()...).form(), func(v *T) *word { return &of(v).condition })),
		says("what was measured on this very part: worn, shortened",
			key("measured", list("measurements", measuredForm()), func(v *T) *[]rawMeasured { return &of(v).measured })),
	}
}

func conditionWords() []string {
	var words []string
	for _, c := range graph.Conditions() {
		words = append(words, c.Word)
	}
	return words
}

func movedForm() form[rawMoved] {
	return mapping("a moved part", func(m *rawMoved) *diag.Pos { return &m.at },
		says("position of what carries it now, or nothing; left out when that is what carried it before",
			key("on", free().form(), func(m *rawMoved) *word { return &m.on })),
		says("how much higher, machine upright; -60 mm for lower", key("up", free().form(),
			func(m *rawMoved) *word { return &m.up })),
		says("how far forward, -20 mm for back", key("forward", free().form(),
			func(m *rawMoved) *word { return &m.forward })),
		says("how far to the left, -20 mm for right", key("left", free().form(), func(m *rawMoved) *word { return &m.left })),
		says("how far the lowest mark of a reservoir stands above the inlet it feeds now, as measured; -15 mm for below",
			key("above", free().form(), func(m *rawMoved) *word { return &m.above })),
		says("free text", key("note", free().form(), func(m *rawMoved) *word { return &m.note })))
}

func boxItemForm() form[rawBoxItem] {
	fields := append([]field[rawBoxItem]{
		need(says("brand, one space, number", key("part", phrase().form(), func(i *rawBoxItem) *word { return &i.part }))),
		says("how many; 1 when left out", key("quantity", count().form(),
			func(i *rawBoxItem) *number { return &i.quantity })),
		says("how it was identified: number read, measured, by eye", key("sure", phrase().form(),
			func(i *rawBoxItem) *word { return &i.sure })),
		says("free text", key("note", free().form(), func(i *rawBoxItem) *word { return &i.note })),
	}, specimenFields(func(i *rawBoxItem) *rawSpecimen { return &i.specimen })...)
	return mapping("an item of a box", func(i *rawBoxItem) *diag.Pos { return &i.at }, fields...)
}

func bagForm() form[rawBag] {
	item := openMapping("an item of a bag", func(i *rawBagItem) *diag.Pos { return &i.at }, []field[rawBagItem]{
		need(says("bolt, nut, washer ...", key("kind", name().form(), func(i *rawBagItem) *word { return &i.kind }))),
		says("how many; 1 when left out", key("quantity", count().form(),
			func(i *rawBagItem) *number { return &i.quantity })),
	}, &further[rawBagItem, word]{free().form(), func() map[string]string {
		return dimensionWords("male-thread",
			"female-thread", "washer")
	},
		func(i *rawBagItem) *[]named[word] { return &i.dims }})
	return mapping("a bag", func(b *rawBag) *diag.Pos { return &b.at },
		says("what somebody wrote on it", key("label", phrase().form(), func(b *rawBag) *word { return &b.label })),
		need(says("what is in it, as measured", key("contents", list("items", item),
			func(b *rawBag) *[]rawBagItem { return &b.contents }))))
}

// resolveBikes takes each bike where its variant is given, then what other files
// say of its boxes and bags, and of what was found on it.
func resolveBikes(w *world) {
	for _, pieces := range []bool{false, true} {
		for _, f := range w.files {
			for i := range f.bikes {
				raw := &f.bikes[i]
				if !pieces {
					for _, source := range f.source { // who says what lies there
						useSource(w, f, source)
					}
				}
				switch {
				case raw.item.variant.tried() == pieces:
				case pieces:
					resolveLoose(w, raw)
				default:
					resolveBike(w, f, raw)
				}
			}
		}
	}
}

func resolveBike(w *world, f *dataFile, raw *named[rawBike]) {
	b := graph.Bike{ID: graph.BikeID(raw.name.text), Frame: raw.item.frame.text, Note: raw.item.note.text,
		Pos: raw.name.pos}
	if before := w.bikes.origin(b.ID); before.pos != (diag.Pos{}) && !before.base {
		d := w.Errorf(raw.name.pos, "duplicate", "bike %q is given twice", b.ID)
		d.Related = before.related()
		return
	}
	if raw.item.variant.given() {
		resolveBuilt(w, &b, raw.item)
	}
	addLoose(w, &b, raw.item)
	w.bikes.put(b.ID, b, origin{pos: raw.name.pos, layer: f.layer})
}

// resolveLoose adds boxes, bags and what was found to a bike that another file describes.
func resolveLoose(w *world, raw *named[rawBike]) {
	before := w.bikes.origin(graph.BikeID(raw.name.text))
	b, known := w.bikes.get(graph.BikeID(raw.name.text))
	more := len(raw.item.planned)+len(raw.item.moved) > 0 || raw.item.frame.given() || raw.item.every.given() ||
		raw.item.scheme.given()
	switch {
	case !known && !w.broken, more, before.base:
		d := w.Errorf(raw.name.pos, "missing-key", "bike %q lacks %q", raw.name.text, "variant")
		d.Hint = "one file says what it was built as; others may add boxes, bags and what was found"
	case known:
		addLoose(w, b, raw.item)
		addFound(w, b, raw.item.found)
	}
}

// addFound adds what another file found at places of a bike, an imported list perhaps. What the
// bike's own file says of a place goes before it.
func addFound(w *world, b *graph.Bike, raw []named[rawFitted]) {
	m, known := w.models.get(b.Variant.Model())
	if !known || m.ghost {
		return
	}
	for _, more := range fitted(w, m, b.Variant, raw) {
		at, found := slices.BinarySearchFunc(b.Found, more, byPosition)
		switch {
		case !found:
			b.Found = slices.Insert(b.Found, at, more)
		case b.Found[at].Pos.File == b.Pos.File:
		case b.Found[at].Part != more.Part || b.Found[at].AsBuilt != more.AsBuilt:
			d := w.Errorf(more.Pos, "duplicate", "what was found at %q of bike %q is given twice", more.Position.Local(), b.ID)
			d.Related = []diag.Pos{b.Found[at].Pos}
		}
	}
}

func byPosition(x, y graph.Fitted) int {
	return strings.Compare(string(x.Position), string(y.Position))
}

// addLoose adds boxes and bags; a name that the bike has already is reported.
func addLoose(w *world, b *graph.Bike, raw rawBike) {
	for _, box := range raw.boxes {
		if i := slices.IndexFunc(b.Boxes, func(x graph.Box) bool { return x.Name == box.name.text }); i >= 0 {
			w.Errorf(box.name.pos, "duplicate", "box %q is given twice", box.name.text).Related = []diag.Pos{b.Boxes[i].Pos}
			continue
		}
		b.Boxes = append(b.Boxes, readBox(w, box))
	}
	for _, bag := range raw.bags {
		if i := slices.IndexFunc(b.Bags, func(x graph.Bag) bool { return x.Name == bag.name.text }); i >= 0 {
			w.Errorf(bag.name.pos, "duplicate", "bag %q is given twice", bag.name.text).Related = []diag.Pos{b.Bags[i].Pos}
			continue
		}
		b.Bags = append(b.Bags, readBag(w, bag))
	}
	slices.SortFunc(b.Boxes, func(x, y graph.Box) int { return strings.Compare(x.Name, y.Name) })
	slices.SortFunc(b.Bags, func(x, y graph.Bag) int { return strings.Compare(x.Name, y.Name) })
}

// resolveBuilt reads what hangs on the variant of a bike. With the model known
// and the variant not, positions and parts are checked all the same.
func resolveBuilt(w *world, b *graph.Bike, raw rawBike) {
	if ids := knownVariant(w, raw.variant, false); len(ids) == 1 {
		b.Variant = ids[0]
	}
	model, _, _ := strings.Cut(raw.variant.text, "/")
	m, known := w.models.get(graph.ModelID(model))
	if !known || m.ghost {
		return
	}
	if b.Variant != "" {
		checkFrame(w, m, *b, raw.frame)
		checkScheme(w, m, raw.scheme, []graph.VariantID{b.Variant})
	}
	b.Scheme = raw.scheme.text
	b.Apart = raw.every.text == missingPart
	var places []named[rawFitted]
	for _, r := range raw.found {
		if a, ok := m.assemblies.get(graph.AssemblyID(string(m.model.ID) + ":" + r.name.text)); ok {
			noteAssembly(w, b, a.ID, r)
			continue
		}
		places = append(places, r)
	}
	slices.SortFunc(b.Assemblies, func(x, y graph.AssemblyNote) int {
		return strings.Compare(string(x.Assembly),
			string(y.Assembly))
	})
	b.Found = fitted(w, m, b.Variant, places)
	b.Planned = fitted(w, m, b.Variant, raw.planned)
	b.Moved = moved(w, m, b.Variant, raw.moved)
}

// noteAssembly notes of a whole assembly that it is as built, or missing.
func noteAssembly(w *world, b *graph.Bike, id graph.AssemblyID, raw named[rawFitted]) {
	words := []string{asBuiltPart, missingPart}
	part := raw.item.part
	switch {
	case !part.given():
	case !slices.Contains(words, part.text):
		w.Errorf(part.pos, "bad-value", "%q is no value for the whole assembly %q", part.text,
			raw.name.text).Hint = nearOrList(part.text, words)
	case raw.item.specimen.condition.given() || len(raw.item.specimen.measured) > 0:
		w.Errorf(raw.item.at, "bad-value", "assembly %q has no condition or size of its own",
			raw.name.text).Hint = "name the position of the part"
	default:
		b.Assemblies = append(b.Assemblies, graph.AssemblyNote{Assembly: id, AsBuilt: part.text == asBuiltPart,
			Note: raw.item.note.text, Pos: raw.name.pos})
	}
}

// onVariant looks up a position that a bike speaks of, and reports one that its
// variant has not.
func onVariant(w *world, m *modelInfo, on graph.VariantID, name word) (graph.PositionID, bool) {
	id, known := position(w, m, name)
	if p, _ := w.positions.get(id); known && on != "" && !slices.Contains(p.on, on) {
		w.Errorf(name.pos, "covers-nothing", "position %q is not on %q", name.text, on).Related = placesOf(w, id)
	}
	return id, known
}

func moved(w *world, m *modelInfo, on graph.VariantID, raw []named[rawMoved]) []graph.Moved {
	var list []graph.Moved
	for _, r := range raw {
		id, known := onVariant(w, m, on, r.name)
		if !known {
			continue
		}
		moved := graph.Moved{Position: id, Nothing: r.item.on.text == noCarrier, Up: offset(w, r.item.up),
			Forward: offset(w, r.item.forward), Left: offset(w, r.item.left), Above: offset(w, r.item.above),
			Note: r.item.note.text, Pos: r.name.pos}
		if r.item.on.given() && !moved.Nothing {
			moved.On, _ = onVariant(w, m, on, r.item.on)
		}
		if moved.On == id {
			w.Errorf(r.item.on.pos, "bad-value", "%q does not carry itself", r.item.on.text)
		}
		if it := r.item; !it.on.tried() && !it.up.tried() && !it.forward.tried() && !it.left.tried() {
			w.Errorf(r.item.at, "missing-key", "a moved part lacks %q, or how far it moved",
				"on").Hint = `write "on: nothing", or "up: -60 mm"`
		}
		list = append(list, moved)
	}
	slices.SortFunc(list, func(a, b graph.Moved) int { return strings.Compare(string(a.Position), string(b.Position)) })
	return list
}

// offset checks how far something moved: a length that may be below zero.
func offset(w *world, raw word) string {
	if !raw.given() {
		return ""
	}
	if _, err := measure.ParseQuantity(raw.text, measure.Length); err != nil {
		code := "bad-value"
		if unit := (*measure.UnitError)(nil); errors.As(err, &unit) {
			code = "wrong-unit"
		}
		w.Errorf(raw.pos, code, "%s", inner(err))
		return ""
	}
	return raw.text
}

// specimen reads what concerns one particular part. kind is what belongs at its
// place, for a part as built.
func specimen(w *world, part graph.PartID, kind graph.KindID, raw rawSpecimen) graph.Specimen {
	s := graph.Specimen{Condition: raw.condition.text}
	d, known := w.parts.get(part)
	for _, m := range raw.measured {
		switch k, ok := w.kinds.get(kind); {
		case known:
			measuredOn(w, d, "this very part", &s.Measured, m)
		case ok && m.feature.given() && m.dim.given() && m.value.given():
			f, has := k.Feature(m.feature.text)
			spec, known := w.featureKinds[f.Kind]
			if !has || !known {
				w.unknown(m.feature.pos, "unknown-feature", "a %s has no feature %q", k.Name, m.feature.text).Hint =
					nearOrList(m.feature.text, featureNames(k))
				continue
			}
			measuredDim(w, spec, "this very part", &s.Measured, m)
		}
	}
	return s
}

func featureNames(k *graph.Kind) []string {
	var names []string
	for _, f := range k.Features {
		names = append(names, f.Name)
	}
	return names
}

// checkFrame reports a frame number that its variant does not have.
func checkFrame(w *world, m *modelInfo, b graph.Bike, frame word) {
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

func fitted(w *world, m *modelInfo, on graph.VariantID, raw []named[rawFitted]) []graph.Fitted {
	var list []graph.Fitted
	for _, r := range raw {
		id, known := onVariant(w, m, on, r.name)
		if !known || !r.item.part.given() {
			continue
		}
		fitted := graph.Fitted{Position: id, AsBuilt: r.item.part.text == asBuiltPart, Note: r.item.note.text,
			Pos: r.name.pos}
		if r.item.part.text != missingPart && !fitted.AsBuilt {
			fitted.Part, _ = partRef(w, r.item.part)
		}
		if p, ok := w.positions.get(id); ok {
			fitted.Specimen = specimen(w, fitted.Part, p.kind, r.item.specimen)
			if fitted.Condition == "" && (fitted.AsBuilt || fitted.Part != "") {
				fitted.Condition = graph.ConditionTold(fitted.Note)
			}
		}
		list = append(list, fitted)
	}
	slices.SortFunc(list, byPosition)
	return list
}

func readBox(w *world, raw named[[]rawBoxItem]) graph.Box {
	box := graph.Box{Name: raw.name.text, Pos: raw.name.pos}
	for _, item := range raw.item {
		if !item.part.given() {
			continue
		}
		id, _ := partRef(w, item.part)
		of := specimen(w, id, "", item.specimen)
		if of.Condition == "" {
			of.Condition = graph.ConditionTold(item.note.text)
		}
		box.Items = append(box.Items, graph.BoxItem{Part: id, Quantity: max(1, item.quantity.n), Sure: item.sure.text,
			Specimen: of, Note: item.note.text, Pos: item.at})
	}
	return box
}

func readBag(w *world, raw named[rawBag]) graph.Bag {
	bag := graph.Bag{Name: raw.name.text, Label: raw.item.label.text, Pos: raw.name.pos}
	for _, item := range raw.item.contents {
		if !item.kind.given() {
			continue
		}
		line := graph.BagItem{Kind: graph.KindID(item.kind.text), Dims: map[string]string{}, Quantity: max(1,
			item.quantity.n), Pos: item.at}
		if kind, known := knownKind(w, item.kind); known {
			bagDims(w, kind, item, line.Dims)
		}
		bag.Contents = append(bag.Contents, line)
	}
	return bag
}

// bagDims checks the dimensions of loose hardware against the feature that its
// kind has: the thread of a bolt, the ring of a washer.
func bagDims(w *world, kind *graph.Kind, item rawBagItem, into map[string]string) {
	if len(item.dims) == 0 {
		return
	}
	feature, found := hardwareFeature(w, kind, item.kind, item.dims)
	if !found {
		return
	}
	spec := w.featureKinds[feature.Kind]
	for _, dim := range item.dims {
		if !dim.item.given() {
			continue
		}
		name := dim.name.text
		_, long := spec.Dim(name)
		if _, thick := spec.Dim("thickness"); thick && !long && name == "length" {
			name = "thickness" // of a collar people say how long it is
		}
		switch d, known := spec.Dim(name); {
		case !known:
			unknownDim(w, spec, dim.name)
		case into[name] != "":
			w.Errorf(dim.name.pos, "duplicate", "length and thickness of a %q are one, and both are given",
				kind.ID).Hint = "write one of them"
		default:
			if _, ok := dimValue(w, dim.item, d); ok {
				into[name] = dim.item.text
			}
		}
	}
}

// knownBike looks a bike up and reports one that nothing defines.
func knownBike(w *world, id word) (*graph.Bike, bool) {
	b, known := w.bikes.get(graph.BikeID(id.text))
	if !known {
		w.unknown(id.pos, "unknown-bike", "no bike is called %q", id.text).Hint = nearOrList(id.text, w.bikes.names())
	}
	return b, known
}
