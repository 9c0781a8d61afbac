package loader

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawFitment is a row of a list of fitments.
type rawFitment struct {
	at       diag.Pos
	model    word
	position word
	part     word
	quantity number
	scope    rawScope
	scheme   word
	note     word
	source   []word
}

func fitmentTable() table[rawFitment] {
	return table[rawFitment]{at: func(r *rawFitment) *diag.Pos { return &r.at }, columns: []column[rawFitment]{
		needed(cell("model", name(), func(r *rawFitment) *word { return &r.model })),
		needed(cell("position", free(), func(r *rawFitment) *word { return &r.position })),
		needed(cell("part", free(), func(r *rawFitment) *word { return &r.part })),
		cell("quantity", count(), func(r *rawFitment) *number { return &r.quantity }),
		cell("years", years(), func(r *rawFitment) *yearRange { return &r.scope.years }),
		cells("markets", name(), func(r *rawFitment) *[]word { return &r.scope.markets }),
		cells("marks", name(), func(r *rawFitment) *[]word { return &r.scope.marks }),
		cell("frames", frames(), func(r *rawFitment) *frameRange { return &r.scope.frames }),
		cell("scheme", name(), func(r *rawFitment) *word { return &r.scheme }),
		cell("note", free(), func(r *rawFitment) *word { return &r.note }),
		sourceCells(func(r *rawFitment) *[]word { return &r.source }),
	}}
}

func resolveFitments(w *world) {
	told := map[toldKey]toldFitment{}
	noteFeatured(w)
	for _, f := range w.files {
		eachRow(w, f, f.fitments, fitmentList, func(g *grammar) table[rawFitment] { return g.fitments },
			func(raw *rawFitment) { resolveFitment(w, f, raw, told) })
	}
	w.stream.flush()
}

// toldKey is a hash of what one source says of a part at a position; two that
// differ don't share one in practice (128 bits).
type toldKey [16]byte

func toldKeyOf(texts ...string) toldKey {
	sum := sha256.Sum256([]byte(strings.Join(texts, "\x00")))
	return toldKey(sum[:16])
}

// toldFitment is what one source said of a part at a position, in which of the files.
type toldFitment struct{ file, line, col, count int32 }

func (t toldFitment) at(w *world) diag.Pos {
	return diag.Pos{File: w.files[t.file].name, Line: int(t.line), Col: int(t.col)}
}

func resolveFitment(w *world, f *dataFile, raw *rawFitment, told map[toldKey]toldFitment) {
	if !raw.model.given() || !raw.position.given() || !raw.part.given() {
		return
	}
	said := w.cites(f, raw.at, raw.source)
	part, partKnown := partRef(w, raw.part)
	m, known := knownModel(w, raw.model)
	if !known {
		return
	}
	id, known := position(w, m, raw.position)
	if !known {
		return
	}
	position, _ := w.positions.get(id)
	raw.scope.at = raw.at
	covered, sure := covered(w, m, given(raw.scope))
	on := both(position.on, covered)
	checkScheme(w, m, raw.scheme, on)
	if len(on) == 0 && len(covered) > 0 && len(position.on) > 0 {
		w.Errorf(raw.at, "covers-nothing", "no variant in this scope has the position %q",
			raw.position.text).Related = placesOf(w, id)
	}
	if !partKnown || len(on) == 0 {
		return
	}
	if !sure {
		told = map[toldKey]toldFitment{} // other rows may be of other variants
	}
	checkFitmentKind(w, raw.part, part, position)
	fit := graph.Fitment{Position: id, Part: part, Quantity: cmp.Or(raw.quantity.n, int(position.quantity)), On: on,
		Scheme: raw.scheme.text, Note: raw.note.text, Said: said}
	fit.ID = fitmentID(fit)
	addFitment(w, f, raw, fit, told)
}

// given is a list of the one scope, empty when it states nothing.
func given(s rawScope) []rawScope {
	if s.scope().IsZero() {
		return nil
	}
	return []rawScope{s}
}

// fitmentID names a fitment by its content: position, part, and a hash of the
// rest, so that the same row gives the same identity in every run.
func fitmentID(f graph.Fitment) graph.FitmentID {
	return graph.FitmentID(string(f.Position) + "=" + string(f.Part) + "#" +
		contentHash(append(idTexts(f.On), f.Scheme, strconv.Itoa(f.Quantity))...))
}

// contentHash is a short hash of texts; their order and their borders count.
func contentHash(texts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(texts, "\x00")))
	return hex.EncodeToString(sum[:6])
}

func addFitment(w *world, f *dataFile, raw *rawFitment, fit graph.Fitment, told map[toldKey]toldFitment) {
	for _, cite := range fit.Said {
		key := toldKeyOf(append(idTexts(fit.On), string(fit.Position), string(fit.Part), fit.Scheme, string(cite.Source))...)
		before, twice := told[key]
		switch {
		case !twice || w.files[before.file].layer != f.layer:
			told[key] = toldFitment{int32(f.index), int32(raw.at.Line), int32(raw.at.Col), int32(fit.Quantity)}
		case int(before.count) != fit.Quantity:
			d := w.Errorf(raw.at, "two-values", "source %q gives the quantity of %q two values, %d and %d", cite.Source,
				fit.Part, before.count, fit.Quantity)
			d.Related = []diag.Pos{before.at(w)}
		default:
			d := w.Errorf(raw.at, "duplicate", "source %q says this twice", cite.Source)
			d.Hint = "take one of the rows out"
			d.Related = []diag.Pos{before.at(w)}
		}
	}
	if before, known := w.fitments.get(fit.ID); known && !w.fitments.origin(fit.ID).base {
		before.Said = addCites(before.Said, fit.Said)
		before.Note = cmp.Or(before.Note, fit.Note)
		return
	}
	if w.stream != nil {
		w.stream.fitment(fit)
		if !w.stream.featured[fit.Position] {
			return
		}
	} else {
		w.fitments.put(fit.ID, fit, origin{pos: raw.at, layer: f.layer})
	}
	w.fittedAt[fit.Position] = append(w.fittedAt[fit.Position], fit.Part)
}

// checkScheme reports a colour scheme that none of the variants was sold in.
func checkScheme(w *world, m *modelInfo, scheme word, on []graph.VariantID) {
	if !scheme.given() || len(on) == 0 {
		return
	}
	var known []string
	for _, v := range m.unread {
		known = append(known, texts(v.schemes)...)
	}
	for _, id := range on {
		known = append(known, m.variant(id).Schemes...)
	}
	slices.Sort(known)
	if known = slices.Compact(known); !slices.Contains(known, scheme.text) {
		w.unknown(scheme.pos, "unknown-scheme", "no variant in this scope was sold in the scheme %q",
			scheme.text).Hint = nearOrList(scheme.text, known)
	}
}

// checkFitmentKind warns of a part of another kind than the position is for. A
// kit may sit anywhere, since it brings the part with it.
func checkFitmentKind(w *world, at word, id graph.PartID, position *placeDraft) {
	d, _ := w.parts.get(id)
	if kind := d.kind(); kind != "" && kind != position.kind && len(d.contains()) == 0 {
		w.Warnf(at.pos, "other-kind", "part %q is a %q, the position is for a %q", id, kind, position.kind)
	}
}
