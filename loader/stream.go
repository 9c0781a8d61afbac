package loader

import (
	"bytes"
	"context"
	"slices"
	"strings"

	"matewell/graph"
)

// stream hands facts over in pieces while they are checked.
type stream struct {
	ctx     context.Context
	grammar *grammar
	emit    func(graph.Facts) error
	err     error // the first failure; nothing is handed over after it

	piece []graph.Fitment
	// notes keeps the first note of a fitment, which is the one that stays.
	notes map[graph.FitmentID]string
	// featured are the positions at which a feature is looked for.
	featured map[graph.PositionID]bool
}

// fullPiece is how many facts are handed over at a time.
const fullPiece = 2000

func (s *stream) fitment(f graph.Fitment) {
	if f.Note != "" {
		if s.notes == nil {
			s.notes = map[graph.FitmentID]string{}
		}
		if first, known := s.notes[f.ID]; known {
			f.Note = first
		}
		s.notes[f.ID] = f.Note
	}
	if s.piece = append(s.piece, f); len(s.piece) >= fullPiece {
		s.flush()
	}
}

// flush hands over the fitments that were gathered; nothing on a nil stream.
func (s *stream) flush() {
	if s == nil {
		return
	}
	s.hand(graph.Facts{Fitments: s.piece})
	s.piece = nil
}

func (s *stream) hand(f graph.Facts) {
	if s.err == nil {
		s.err = s.ctx.Err()
	}
	if s.err == nil {
		s.err = s.emit(f)
	}
}

// partsOnly reports whether a YAML file holds parts and nothing else, as far as
// the keys at its left edge tell.
func partsOnly(body []byte) bool {
	parts := false
	for line := range bytes.Lines(body) {
		if c := line[0]; c == ' ' || c == '#' || c == '\n' || c == '\r' || c == '-' {
			continue
		}
		switch key, _, _ := bytes.Cut(line, []byte(":")); string(key) {
		case "parts":
			parts = true
		case "source":
		default:
			return false
		}
	}
	return parts
}

// readLater reads the files of parts that were left for now.
func (w *world) readLater() {
	if w.stream == nil {
		return
	}
	var files []*dataFile
	for _, f := range w.files {
		if f.body != nil && !isFitments(f.name) {
			files = append(files, f)
		}
	}
	eachAtOnce(w.stream.ctx, len(files), func(i int) {
		f := files[i]
		w.stream.grammar.readYAML(newReading(f, f.body), f)
		f.body = nil
	})
	for _, f := range files {
		w.Add(f.faults.Sorted()...)
		w.broken, w.cut = w.broken || f.broken, w.cut || f.cut
	}
}

// noteFeatured notes the positions at which joints, runs and stacks look for a
// feature: of others, nobody asks what parts sit there.
func (w *world) noteFeatured() {
	if w.stream == nil {
		return
	}
	w.stream.featured = map[graph.PositionID]bool{}
	w.eachModel(func(_ *dataFile, m *modelInfo, raw *rawModel) {
		note := func(refs ...word) {
			for _, ref := range refs {
				dot := strings.LastIndexByte(ref.text, '.')
				if dot <= 0 {
					continue
				}
				model, local := string(m.model.ID), ref.text[:dot]
				if i := strings.IndexAny(local, ": "); i >= 0 {
					model, local = local[:i], strings.TrimLeft(local[i:], ": ")
				}
				w.stream.featured[graph.PositionID(model+":"+local)] = true
			}
		}
		for _, j := range raw.joints {
			note(j.item.a, j.item.b)
		}
		for _, r := range raw.runs {
			note(slices.Concat([]word{r.item.from, r.item.to}, r.item.movedBy, r.item.lengthenedBy)...)
		}
		for _, s := range raw.stacks {
			note(append([]word{s.item.within, s.item.centre}, s.item.row...)...)
		}
	})
}

// streamFacts hands over everything but the fitments, which went already.
func (w *world) streamFacts() error {
	f := graph.Facts{
		Sources: w.sources.own(), Brands: w.brands.own(), Kinds: w.kinds.own(), Joints: w.joints.own(),
		Runs: w.runs.own(), Circuits: w.circuits.own(), Stacks: w.stacks.own(),
		Supersessions: w.supersessions.own(), Findings: w.findings.own(), Bikes: w.bikes.own(),
	}
	w.modelFacts(&f)
	w.keepUsed(&f)
	w.stream.hand(f)
	var piece graph.Facts
	for id, p := range w.positions.items {
		if w.positions.origins[id].base {
			continue
		}
		if piece.Positions = append(piece.Positions, *p); len(piece.Positions) >= fullPiece {
			w.stream.hand(piece)
			piece = graph.Facts{}
		}
	}
	for _, d := range w.parts.items {
		if piece.Parts = append(piece.Parts, d.finish()); len(piece.Parts) >= fullPiece {
			w.stream.hand(piece)
			piece = graph.Facts{}
		}
	}
	w.stream.hand(piece)
	return w.stream.err
}
