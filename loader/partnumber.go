package loader

import (
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// partText is what a written part number stands for.
type partText struct {
	id    graph.PartID // empty when it can't be read
	fault *partFault   // what is wrong with it; nil when ok
}

func (t partText) ok() bool { return t.id != "" }

// partFault is told at each place where the number is written.
type partFault struct{ code, message, hint string }

// partTextOf reads a part number as written: brand, one space, number.
func partTextOf(w *world, text string) partText {
	if t, known := w.partTexts[text]; known {
		return t
	}
	var t partText
	n, fault := readNumber(w, text)
	if t.fault = fault; fault == nil {
		brand, _, _ := strings.Cut(text, " ")
		t.id = graph.PartID(brand + " " + n.Text)
	}
	w.partTexts[text] = t
	return t
}

// readNumber is the number of a part as written, in the form of its brand.
func readNumber(w *world, text string) (graph.Number, *partFault) {
	brand, number, found := strings.Cut(text, " ")
	number = strings.TrimSpace(number)
	if !found || number == "" {
		return graph.Number{}, &partFault{"bad-number", fmt.Sprintf("part %q is not a brand and a number", text),
			`write the brand, one space and the number`}
	}
	b, known := w.brands.get(graph.BrandID(brand))
	if !known {
		return graph.Number{}, &partFault{"unknown-brand", fmt.Sprintf("no brand is called %q", brand), nearOrList(brand,
			w.brands.names())}
	}
	n, err := b.Form.Parse(number)
	if err != nil {
		return graph.Number{}, &partFault{"bad-number", inner(err), ""}
	}
	return n, nil
}

// key is what all spellings of a part number share.
func (t partText) key() string { return keyOf(t.id) }

func reportPartText(w *world, number word, f *partFault) {
	report := w.Errorf
	if f.code == "unknown-brand" {
		report = w.unknown
	}
	report(number.pos, f.code, "%s", f.message).Hint = f.hint
}

// declareParts gives every part its identity and its kind, so that the order
// of files does not matter.
func declareParts(w *world) {
	for _, f := range w.files {
		eachPart(w, f, true, func(raw *rawPart) {
			declarePart(w, f, raw.number, raw.kind)
			mention(w, raw.number)
		})
		for i := range f.fasteners {
			declarePart(w, f, f.fasteners[i].part, f.fasteners[i].kind)
			mention(w, f.fasteners[i].part)
		}
	}
}

func declarePart(w *world, f *dataFile, number, kind word) {
	if !number.given() {
		return
	}
	t := partTextOf(w, number.text)
	if !t.ok() {
		reportPartText(w, number, t.fault)
		return
	}
	d, known := w.parts.get(t.id)
	if !known || w.parts.origin(t.id).base {
		checkSpelling(w, number, t)
		draft := partDraft{id: t.id, written: number.text, at: number.pos}
		if known {
			draft.base = d.base
		}
		d = w.parts.put(t.id, draft, origin{pos: number.pos, layer: f.layer})
		w.partKeys[t.key()] = t.id
	} else if d.written != number.text && w.parts.origin(t.id).layer == f.layer {
		sameNumber(w, number, d.written, d.id, d.at)
	}
	declareKind(w, d, kind)
}

// checkSpelling reports a part whose number another one has, spelled otherwise.
func checkSpelling(w *world, number word, t partText) {
	other, taken := w.partKeys[t.key()]
	if !taken || other == t.id {
		return
	}
	d, _ := w.parts.get(other)
	sameNumber(w, number, d.written, other, d.at)
}

func sameNumber(w *world, number word, first string, id graph.PartID, at diag.Pos) {
	d := w.Errorf(number.pos, "same-number", "%q is %q written another way", number.text, first)
	d.Hint = fmt.Sprintf("write %q in both places", id)
	d.Related = origin{pos: at}.related()
}

func declareKind(w *world, d *partDraft, kind word) {
	if !kind.given() {
		d.kindLost = d.kindLost || kind.tried()
		return
	}
	if _, known := knownKind(w, kind); !known {
		d.kindLost = true
		return
	}
	if have := d.kind(); have != "" && have != graph.KindID(kind.text) {
		f := w.Errorf(kind.pos, "duplicate", "part %q is a %q already, not a %q", d.id, have, kind.text)
		f.Related = origin{pos: d.kindAt}.related()
		return
	}
	d.own = graph.KindID(kind.text)
	if d.kindAt == (diag.Pos{}) {
		d.kindAt = kind.pos
	}
}

// partRef looks up a part as written, in any spelling of its number, and
// reports one that nothing defines.
func partRef(w *world, number word) (graph.PartID, bool) {
	t := partTextOf(w, number.text)
	if !t.ok() {
		reportPartText(w, number, t.fault)
		return "", false
	}
	if _, known := w.parts.get(t.id); known {
		return t.id, true
	}
	if id, known := w.partKeys[t.key()]; known {
		return id, true
	}
	d := w.unknown(number.pos, "unknown-part", "no part has the number %q", number.text)
	d.Hint = w.hints.near("part", number.text, func() []string { return partNames(w) }, near)
	return t.id, false
}

// partNames are all parts, for near names.
func partNames(w *world) []string {
	if w.allParts == nil {
		w.allParts = w.parts.names() // kept, since each name costs a little
	}
	return w.allParts
}
