package loader

import (
	"slices"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawStack is a stack as written.
type rawStack struct {
	at     diag.Pos
	within word
	row    []word
	centre word
	on     []rawScope
	source []word
	owes   []string
}

func stackForm() form[rawStack] {
	return owing(mapping("a stack", func(s *rawStack) *diag.Pos { return &s.at },
		says("feature of kind gap that the row fills; must be given, here or in what the model is like", key("within",
			free().form(), func(s *rawStack) *word { return &s.within })),
		says("features of kind row-width, left to right; must be given, here or in what the model is like",
			key("row", list("features", free().form()), func(s *rawStack) *[]word { return &s.row })),
		says("the member that must be central", key("centre", free().form(), func(s *rawStack) *word { return &s.centre })),
		says("variants that have it; all with its positions when left out", key("on", scopesForm(),
			func(s *rawStack) *[]rawScope { return &s.on })),
		sourceKey(func(s *rawStack) *[]word { return &s.source })),
		func(s *rawStack) *[]string { return &s.owes }, "within", "row")
}

func (s rawStack) filled(from rawStack) rawStack {
	s.within, s.centre = orWord(s.within, from.within), orWord(s.centre, from.centre)
	s.row, s.on = orList(s.row, from.row), orList(s.on, from.on)
	return s
}

func (s rawStack) bare() rawStack { return s }

func (s rawStack) movedTo(at diag.Pos) rawStack {
	return rawStack{at: at, within: s.within.movedTo(at), row: movedWords(s.row, at), centre: s.centre.movedTo(at),
		on: loose(s.on)}
}

func resolveStacks(w *world) {
	eachModel(w, func(f *dataFile, m *modelInfo, raw *rawModel) {
		for _, s := range raw.stacks {
			resolveTaken(w, m, s.taken, "stack", s.name.text, s.item.on, func() { resolveStack(w, f, m, raw.source, s) })
		}
	})
}

func resolveStack(w *world, f *dataFile, m *modelInfo, outer []word, raw named[rawStack]) {
	item := raw.item
	within, ok := feature(w, m, item.within, "gap")
	s := graph.Stack{ID: graph.StackID(string(m.model.ID) + ":" + raw.name.text), Model: m.model.ID, Within: within,
		Said: w.cites(f, raw.name.pos, item.source, outer)}
	positions := []graph.PositionID{within.Position}
	for _, ref := range item.row {
		member, known := feature(w, m, ref, "row-width")
		ok = ok && known
		s.Row = append(s.Row, member)
		positions = append(positions, member.Position)
	}
	if item.centre.given() {
		centre, known := feature(w, m, item.centre, "row-width")
		if known && !slices.Contains(s.Row, centre) {
			w.Errorf(item.centre.pos, "bad-value", "centre %q is not in the row", item.centre.text)
		}
		s.Centre, ok = centre, ok && known
	}
	if !ok {
		return
	}
	s.On = where(w, m, raw.name, item.on, positions...)
	before, known := w.stacks.get(s.ID)
	if known && (before.Within != s.Within || before.Centre != s.Centre || !slices.Equal(before.Row, s.Row)) {
		givenTwice(w, raw.name, "stack", before.Said)
		return
	}
	if !known || w.stacks.origin(s.ID).base {
		w.stacks.put(s.ID, s, origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	before.On, before.Said = unite(before.On, s.On), addCites(before.Said, s.Said)
}
