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
	parts []graph.Part
	// bareFeatures and featureSets are what is kept of the features of parts that
	// were handed over: each once, since most parts of a kind have the same.
	bareFeatures map[string]*featureDraft
	featureSets  map[string]map[string]*featureDraft
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

// eachRow visits the rows of a list, which are read once more when they were
// not kept.
func eachRow[T any](w *world, f *dataFile, kept []T, list string, of func(*grammar) table[T], visit func(*T)) {
	for i := range kept {
		visit(&kept[i])
	}
	if f.body == nil || w.stream == nil || !isList(f.name, list) || w.stream.err != nil {
		return
	}
	again := &dataFile{name: f.name} // its faults were reported when it was read first
	r := newReading(again, f.body)
	r.blanked = f.blanked
	of(w.stream.grammar).each(r, visit)
	f.body = nil
}

// strip leaves out the positions of models, but for those that owe something,
// of which a fault may have to tell.
func strip(models []named[rawModel]) {
	for i := range models {
		for j := range models[i].item.assemblies {
			a := &models[i].item.assemblies[j].item
			var owing []named[rawPosition]
			for _, p := range a.positions {
				if len(p.item.owes) > 0 {
					owing = append(owing, p)
				}
			}
			a.positions = owing
		}
	}
}

// unstrip reads again what strip left out.
func unstrip(w *world, f *dataFile) {
	now := &dataFile{name: f.name, layer: f.layer}
	r := newReading(now, f.body)
	r.blanked = r.blanked || f.blanked
	w.stream.grammar.readYAML(r, now)
	f.models, f.body, f.stripped = now.models, nil, false
}

// eachModelWhole is eachModel for pieces with their positions: of a file that
// was stripped they are read just before.
func eachModelWhole(w *world, visit func(f *dataFile, m *modelInfo, raw *rawModel)) {
	for _, f := range w.files {
		if f.stripped {
			unstrip(w, f)
		}
		eachModelOf(w, f, visit)
	}
}

// wholeForLikes reads all positions before models take over from one another,
// when any does.
func wholeForLikes(w *world) {
	likes := slices.ContainsFunc(w.files, func(f *dataFile) bool {
		return len(f.patterns) > 0 || slices.ContainsFunc(f.models, func(m named[rawModel]) bool {
			return len(m.item.like)+len(m.item.without) > 0
		})
	})
	for _, f := range w.files {
		if likes && f.stripped {
			unstrip(w, f)
		}
	}
}

// eachPart visits the parts of a file. Those of a file that was left for later
// are read now, once to declare them, when its faults are reported, and once
// more to take what it says of them.
func eachPart(w *world, f *dataFile, declaring bool, visit func(*rawPart)) {
	for i := range f.parts {
		visit(&f.parts[i])
	}
	if f.body == nil || w.stream == nil || f.stripped || readTwice(f.name) {
		return
	}
	now := &dataFile{name: f.name, layer: f.layer}
	r := newReading(now, f.body)
	r.blanked = r.blanked || f.blanked
	w.stream.grammar.readYAML(r, now)
	if declaring {
		w.Add(now.faults.Sorted()...)
		w.broken, w.cut = w.broken || now.broken, w.cut || now.cut
		f.blanked, f.source = r.blanked, now.source
	} else {
		f.body = nil
	}
	for i := range now.parts {
		visit(&now.parts[i])
	}
}

// mention counts that a file says something of a part; heard that it was taken.
// When all was taken the part is checked and handed over, and only what others
// may ask of it is kept.
func mention(w *world, number word) {
	if d := declared(w, number); d != nil {
		d.mentions++
	}
}

func heard(w *world, number word) {
	d := declared(w, number)
	if d == nil || w.stream == nil {
		return
	}
	if d.mentions--; d.mentions > 0 {
		return
	}
	checkPart(w, d)
	w.stream.part(d.finish(w))
	features := make(map[string]*featureDraft, len(d.features))
	for name, f := range d.features {
		features[name] = w.stream.bare(f)
	}
	d.features = w.stream.alike(features)
	d.said = nil
	delete(w.matchedAt, d)
}

// part hands over a part, with others.
func (s *stream) part(p graph.Part) {
	if s.parts = append(s.parts, p); len(s.parts) >= fullPiece {
		s.hand(graph.Facts{Parts: s.parts})
		s.parts = nil
	}
}

// bare is a feature without its dimensions, one for all of its name and kind.
func (s *stream) bare(f *featureDraft) *featureDraft {
	key := f.name + "\x00" + f.kind.Name
	if s.bareFeatures[key] == nil {
		if s.bareFeatures == nil {
			s.bareFeatures = map[string]*featureDraft{}
		}
		s.bareFeatures[key] = &featureDraft{name: f.name, kind: f.kind}
	}
	return s.bareFeatures[key]
}

// alike is one map for all that hold the same bare features.
func (s *stream) alike(features map[string]*featureDraft) map[string]*featureDraft {
	var key strings.Builder
	for _, name := range sortedKeys(features) {
		key.WriteString(name + "\x00" + features[name].kind.Name + "\x00")
	}
	if s.featureSets == nil {
		s.featureSets = map[string]map[string]*featureDraft{}
	}
	if known := s.featureSets[key.String()]; known != nil {
		return known
	}
	s.featureSets[key.String()] = features
	return features
}

// noteFeatured notes the positions at which joints, runs and stacks look for a
// feature: of others, nobody asks what parts sit there.
func noteFeatured(w *world) {
	if w.stream == nil {
		return
	}
	w.stream.featured = map[graph.PositionID]bool{}
	eachModel(w, func(_ *dataFile, m *modelInfo, raw *rawModel) {
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

// handConnections hands over what joins positions, once all of it is resolved, and
// forgets it as it was written.
func handConnections(w *world) {
	if w.stream == nil {
		return
	}
	w.stream.hand(graph.Facts{Joints: w.joints.own(), Runs: w.runs.own(), Circuits: w.circuits.own(),
		Stacks: w.stacks.own()})
	w.joints.items, w.runs.items, w.circuits.items, w.stacks.items = nil, nil, nil, nil
	w.fittedAt, w.featureCache, w.stream.featured = nil, nil, nil
	eachModel(w, func(_ *dataFile, _ *modelInfo, raw *rawModel) {
		raw.joints, raw.runs, raw.circuits, raw.stacks = nil, nil, nil, nil
	})
}

// handSupersessions hands over what takes whose place.
func handSupersessions(w *world) {
	if w.stream != nil {
		w.stream.hand(graph.Facts{Supersessions: w.supersessions.own()})
		w.supersessions.items = nil
	}
}

// streamFacts hands over what did not go before.
func streamFacts(w *world) error {
	f := graph.Facts{
		Sources: w.sources.own(), Brands: w.brands.own(), Kinds: w.kinds.own(), Parts: w.stream.parts,
		Findings: w.findings.own(), Bikes: w.bikes.own(), Jobs: w.jobs.own(),
	}
	modelFacts(w, &f)
	keepUsed(w, &f)
	w.stream.hand(f)
	return w.stream.err
}
