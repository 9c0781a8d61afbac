package loader

import (
	"matewell/graph"
	"matewell/graph/diag"
)

// rawCircuit is a circuit as written.
type rawCircuit struct {
	at      diag.Pos
	carries word
	wheel   word
	feeds   []word
	fed     []word
	members []word
	on      []rawScope
	source  []word
}

// carried is what a circuit may carry.
func carried() []string {
	return []string{"brake fluid", "clutch fluid", "current", "fuel", "coolant", "oil"}
}

func circuitForm() form[rawCircuit] {
	positions := oneOrMore("positions", free().form())
	return mapping("a circuit", func(c *rawCircuit) *diag.Pos { return &c.at },
		need(says("what flows in it", key("carries", oneOf(carried()...).form(), func(c *rawCircuit) *word { return &c.carries }))),
		says("the wheel a brake stops", key("wheel", oneOf("front", "rear").form(), func(c *rawCircuit) *word { return &c.wheel })),
		need(says("positions of the master cylinders, or of the source of the current", key("feeds", positions, func(c *rawCircuit) *[]word { return &c.feeds }))),
		need(says("positions of the calipers and slave cylinders, or of the consumers", key("fed", positions, func(c *rawCircuit) *[]word { return &c.fed }))),
		says("all else it flows through", key("members", positions, func(c *rawCircuit) *[]word { return &c.members })),
		says("variants that have it; all with its positions when left out", key("on", scopesForm(), func(c *rawCircuit) *[]rawScope { return &c.on })),
		sourceKey(func(c *rawCircuit) *[]word { return &c.source }))
}

func (w *world) resolveCircuits() {
	w.eachModel(func(f *dataFile, m *modelInfo, raw *rawModel) {
		for _, c := range raw.circuits {
			w.resolveCircuit(f, m, raw.source, c)
		}
	})
}

func (w *world) resolveCircuit(f *dataFile, m *modelInfo, outer []word, raw named[rawCircuit]) {
	item := raw.item
	c := graph.Circuit{ID: graph.CircuitID(string(m.model.ID) + ":" + raw.name.text), Model: m.model.ID, Carries: item.carries.text, Wheel: item.wheel.text,
		Feeds: w.positionsOf(m, item.feeds), Fed: w.positionsOf(m, item.fed), Said: w.cites(f, raw.name.pos, item.source, outer)}
	c.Members = unite(unite(c.Feeds, c.Fed), w.positionsOf(m, item.members))
	// Feeds and fed must be there; a member may be on some variants only.
	c.On = w.where(m, raw.name, item.on, append(append([]graph.PositionID{}, c.Feeds...), c.Fed...)...)
	before, known := w.circuits.get(c.ID)
	if known && (before.Carries != c.Carries || before.Wheel != c.Wheel) {
		w.givenTwice(raw.name, "circuit", before.Said)
		return
	}
	if !known || w.circuits.origin(c.ID).base {
		w.circuits.put(c.ID, c, origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	before.Feeds, before.Fed, before.Members = unite(before.Feeds, c.Feeds), unite(before.Fed, c.Fed), unite(before.Members, c.Members)
	before.On, before.Said = unite(before.On, c.On), addCites(before.Said, c.Said)
}
