package loader

import (
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawCircuit is a circuit as written.
type rawCircuit struct {
	at      diag.Pos
	carries word
	wheel   word
	feeds   []word
	fed     []word
	members []word
	fill    []rawReading
	on      []rawScope
	source  []word
	owes    []string
}

// carried is what a circuit may carry.
func carried() []string {
	return []string{"brake fluid", "clutch fluid", "current", "fuel", "coolant", "oil"}
}

func circuitForm() form[rawCircuit] {
	positions := oneOrMore("positions", free().form())
	return owing(mapping("a circuit", func(c *rawCircuit) *diag.Pos { return &c.at },
		says("what flows in it; must be given, here or in what the model is like", key("carries", oneOf(carried()...).form(),
			func(c *rawCircuit) *word { return &c.carries })),
		says("the wheel a brake stops", key("wheel", oneOf("front", "rear").form(),
			func(c *rawCircuit) *word { return &c.wheel })),
		says("positions of the master cylinders, or of the source of the current; must be given, here or in what the "+
			"model is like",
			key("feeds", positions, func(c *rawCircuit) *[]word { return &c.feeds })),
		says("positions of the calipers and slave cylinders, or of the consumers; must be given, here or in what the "+
			"model is like",
			key("fed", positions, func(c *rawCircuit) *[]word { return &c.fed })),
		says("all else it flows through", key("members", positions, func(c *rawCircuit) *[]word { return &c.members })),
		says("how much of the fluid filling and bleeding it takes",
			key("fill", readingsForm("readings", measured(measure.Volume)),
				func(c *rawCircuit) *[]rawReading { return &c.fill })),
		says("variants that have it; all with its positions when left out", key("on", scopesForm(),
			func(c *rawCircuit) *[]rawScope { return &c.on })),
		sourceKey(func(c *rawCircuit) *[]word { return &c.source })),
		func(c *rawCircuit) *[]string { return &c.owes }, "carries", "feeds", "fed")
}

func (c rawCircuit) filled(from rawCircuit) rawCircuit {
	c.carries, c.wheel = orWord(c.carries, from.carries), orWord(c.wheel, from.wheel)
	c.feeds, c.fed, c.members = orList(c.feeds, from.feeds), orList(c.fed, from.fed), orList(c.members, from.members)
	c.fill, c.on = orList(c.fill, from.fill), orList(c.on, from.on)
	return c
}

func (c rawCircuit) bare() rawCircuit { c.fill = nil; return c }

func (c rawCircuit) movedTo(at diag.Pos) rawCircuit {
	return rawCircuit{at: at, carries: c.carries.movedTo(at), wheel: c.wheel.movedTo(at), feeds: movedWords(c.feeds, at),
		fed: movedWords(c.fed, at), members: movedWords(c.members, at), fill: movedReadings(c.fill, at), on: loose(c.on)}
}

func resolveCircuits(w *world) {
	eachModel(w, func(f *dataFile, m *modelInfo, raw *rawModel) {
		for _, c := range raw.circuits {
			resolveTaken(w, m, c.taken, "circuit", c.name.text, c.item.on, func() { resolveCircuit(w, f, m, raw.source, c) })
		}
	})
}

func resolveCircuit(w *world, f *dataFile, m *modelInfo, outer []word, raw named[rawCircuit]) {
	item := raw.item
	c := graph.Circuit{ID: graph.CircuitID(string(m.model.ID) + ":" + raw.name.text), Model: m.model.ID,
		Carries: item.carries.text, Wheel: item.wheel.text,
		Feeds: positionsOf(w, m, item.feeds), Fed: positionsOf(w, m, item.fed), Said: w.cites(f, raw.name.pos, item.source,
			outer),
		Fill: allReadings(w, f, item.fill, item.source, outer)}
	oneValuePerSource(w, c.Fill, measure.Volume, "fill")
	c.Members = unite(unite(c.Feeds, c.Fed), positionsOf(w, m, item.members))
	// Feeds and fed must be there; a member may be on some variants only.
	c.On = where(w, m, raw.name, item.on, append(append([]graph.PositionID{}, c.Feeds...), c.Fed...)...)
	before, known := w.circuits.get(c.ID)
	if known && (before.Carries != c.Carries || before.Wheel != c.Wheel) {
		givenTwice(w, raw.name, "circuit", before.Said)
		return
	}
	if !known || w.circuits.origin(c.ID).base {
		w.circuits.put(c.ID, c, origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	before.Feeds, before.Fed, before.Members = unite(before.Feeds, c.Feeds), unite(before.Fed, c.Fed),
		unite(before.Members, c.Members)
	before.Fill = uniteReadings(w, before.Fill, c.Fill, measure.Volume, "fill", w.circuits.origin(c.ID).layer == f.layer)
	before.On, before.Said = unite(before.On, c.On), addCites(before.Said, c.Said)
}
