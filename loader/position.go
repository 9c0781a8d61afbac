package loader

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawAssembly is an assembly, or a part of one, as one file gives it.
type rawAssembly struct {
	at        diag.Pos
	name      word
	positions []named[rawPosition]
	source    []word
}

// rawPosition is a position as written.
type rawPosition struct {
	at       diag.Pos
	kind     word
	name     word
	side     word
	index    number
	quantity number
	safety   word
	renew    flag
	road     []word
	after    []word
	takes    []rawConsumable
	on       []rawScope
	source   []word
	owes     []string
}

// rawConsumable is what a part is fitted with, as written.
type rawConsumable struct {
	at          diag.Pos
	what, grade word
	amount      []rawReading
}

// placeDraft is a position while files add to it. A large set has many, and most of what
// is said of one is asked no more once all were heard.
type placeDraft struct {
	kind graph.KindID
	on   []graph.VariantID // sorted
	// said is nil once the position was handed over: see placesOf.
	said     []graph.Cite
	whole    *wholePlace // nil once the position was handed over
	quantity int32
	// cited is true for one that was handed over and is said where it was first given.
	cited bool
}

// wholePlace is what of a position nothing else hangs on.
type wholePlace struct {
	name, side string
	index      int32
	renew      bool
	safety     graph.Safety
	road       []string
	after      []graph.PositionID
	takes      []graph.Consumable
}

func placeFor(p graph.Position) placeDraft {
	return placeDraft{kind: p.Kind, on: p.On, said: p.Said, quantity: int32(p.Quantity), whole: &wholePlace{name: p.Name,
		side: p.Side, index: int32(p.Index), renew: p.Renew, safety: p.Safety, road: p.Road, after: p.After, takes: p.Takes}}
}

// finish is the position of an identity.
func (d *placeDraft) finish(id graph.PositionID) graph.Position {
	p := d.whole
	return graph.Position{ID: id, Assembly: id.Assembly(), Model: id.Model(), Name: p.name, Kind: d.kind, Side: p.side,
		Index: int(p.index), Quantity: int(d.quantity), Safety: p.safety, Renew: p.renew, Road: p.road, After: p.after,
		Takes: p.takes, On: d.on, Said: d.said}
}

// placesOf is where a position is given.
func placesOf(w *world, id graph.PositionID) []diag.Pos {
	d, known := w.positions.get(id)
	switch {
	case !known:
		return nil
	case d.cited:
		return w.positions.origin(id).related()
	}
	return places(d.said)
}

// noSafety is written where a place has no safety class though its kind has.
const noSafety graph.Safety = "none"

func assemblyForm() form[rawAssembly] {
	return mapping("an assembly", func(a *rawAssembly) *diag.Pos { return &a.at },
		says("name as a parts list prints it; once is enough", key("name", phrase().form(),
			func(a *rawAssembly) *word { return &a.name })),
		says("places where a part sits", key("positions", byName("positions", name(), positionForm()),
			func(a *rawAssembly) *[]named[rawPosition] { return &a.positions })),
		sourceKey(func(a *rawAssembly) *[]word { return &a.source }))
}

func positionForm() form[rawPosition] {
	return owing(mapping("a position", func(p *rawPosition) *diag.Pos { return &p.at },
		says("kind of part that sits here; must be given, here or in what the model is like", key("kind", name().form(),
			func(p *rawPosition) *word { return &p.kind })),
		says("name; kind and side when left out", key("name", phrase().form(),
			func(p *rawPosition) *word { return &p.name })),
		says("left, right, front, rear ...", key("side", phrase().form(), func(p *rawPosition) *word { return &p.side })),
		says("number among several alike, from 1", key("index", countOf("index").form(),
			func(p *rawPosition) *number { return &p.index })),
		says("how many of the part sit here; 1 when left out", key("quantity", count().form(),
			func(p *rawPosition) *number { return &p.quantity })),
		says("safety class; that of the kind when left out, none for a place that has none", key("safety",
			oneOf(append(graph.SafetyClasses(), noSafety)...).form(), func(p *rawPosition) *word { return &p.safety })),
		says("yes when it must be new every time", key("renew", yesNo().form(),
			func(p *rawPosition) *flag { return &p.renew })),
		says("what sits here does that the machine needs on the road; what its kind does when left out", key("road",
			roadForm(), func(p *rawPosition) *[]word { return &p.road })),
		says("positions that must be on before", key("after", oneOrMore("positions", free().form()),
			func(p *rawPosition) *[]word { return &p.after })),
		says("what goes on or in each time: oil, grease, thread-lock", key("takes", list("consumables", consumableForm()),
			func(p *rawPosition) *[]rawConsumable { return &p.takes })),
		says("variants that have it; all when left out", key("on", scopesForm(),
			func(p *rawPosition) *[]rawScope { return &p.on })),
		sourceKey(func(p *rawPosition) *[]word { return &p.source })),
		func(p *rawPosition) *[]string { return &p.owes }, "kind")
}

func consumableForm() form[rawConsumable] {
	return mapping("a consumable", func(c *rawConsumable) *diag.Pos { return &c.at },
		need(says("what it is: fork oil, grease, thread-lock", key("what", phrase().form(),
			func(c *rawConsumable) *word { return &c.what }))),
		says("which sort of it: SAE 10W, medium strength", key("grade", phrase().form(),
			func(c *rawConsumable) *word { return &c.grade })),
		says("how much for each piece of the part; left out for a smear",
			key("amount", readingsForm("readings", measured(measure.Volume)),
				func(c *rawConsumable) *[]rawReading { return &c.amount })))
}

func (a rawAssembly) filled(from rawAssembly) rawAssembly {
	a.name = orWord(a.name, from.name)
	a.positions = mergeItems(from.positions, a.positions)
	return a
}

func (a rawAssembly) bare() rawAssembly { return a }

func (a rawAssembly) movedTo(at diag.Pos) rawAssembly {
	return rawAssembly{at: at, name: a.name.movedTo(at), positions: a.positions}
}

func (p rawPosition) filled(from rawPosition) rawPosition {
	p.kind, p.name, p.side = orWord(p.kind, from.kind), orWord(p.name, from.name), orWord(p.side, from.side)
	if !p.index.tried() {
		p.index = from.index
	}
	if !p.quantity.tried() {
		p.quantity = from.quantity
	}
	if !p.renew.tried() {
		p.renew = from.renew
	}
	p.safety = orWord(p.safety, from.safety)
	p.road = orList(p.road, from.road)
	p.after, p.takes, p.on = orList(p.after, from.after), orList(p.takes, from.takes), orList(p.on, from.on)
	return p
}

func (p rawPosition) bare() rawPosition { p.takes = nil; return p }

func (p rawPosition) movedTo(at diag.Pos) rawPosition {
	return rawPosition{at: at, kind: p.kind.movedTo(at), name: p.name.movedTo(at), side: p.side.movedTo(at),
		index: number{p.index.word.movedTo(at), p.index.n}, quantity: number{p.quantity.word.movedTo(at), p.quantity.n},
		safety: p.safety.movedTo(at), renew: flag{p.renew.word.movedTo(at), p.renew.yes},
		road: movedWords(p.road, at), after: movedWords(p.after, at), takes: movedConsumables(p.takes, at), on: loose(p.on)}
}

func movedConsumables(list []rawConsumable, at diag.Pos) []rawConsumable {
	moved := make([]rawConsumable, len(list))
	for i, c := range list {
		moved[i] = rawConsumable{at: at, what: c.what.movedTo(at), grade: c.grade.movedTo(at),
			amount: movedReadings(c.amount, at)}
	}
	return moved
}

func resolveAssembly(w *world, f *dataFile, m *modelInfo, outer []word, raw named[rawAssembly]) {
	id := graph.AssemblyID(string(m.model.ID) + ":" + raw.name.text)
	a, known := m.assemblies.get(id)
	if !known {
		a = m.assemblies.put(id, graph.Assembly{ID: id, Model: m.model.ID}, origin{pos: raw.name.pos, layer: f.layer})
	} else if m.assemblies.origin(id).base && raw.item.name.given() {
		// The layer says something of the assembly itself: what it says is its own.
		name := a.Name
		a = m.assemblies.put(id, graph.Assembly{ID: id, Model: m.model.ID, Name: name}, origin{pos: raw.name.pos,
			layer: f.layer})
	}
	if name := raw.item.name; name.given() && a.Name != "" && a.Name != name.text {
		w.Errorf(name.pos, "duplicate", "assembly %q has another name already, %q", id, a.Name).Related = places(a.Said)
	} else if name.given() {
		a.Name = name.text
	}
	if !m.assemblies.origin(id).base {
		a.Said = addCites(a.Said, w.cites(f, raw.name.pos, raw.item.source, outer))
	}
}

// resolvePositions runs when all variants are known.
func resolvePositions(w *world) {
	eachModelWhole(w, func(f *dataFile, m *modelInfo, raw *rawModel) {
		beside := sync.OnceValue(func() neighbours { return neighboursOf(w, raw) })
		for _, a := range raw.assemblies {
			for _, p := range a.item.positions {
				resolveTaken(w, m, p.taken, "position", a.name.text+"/"+p.name.text, p.item.on, func() {
					resolvePosition(w, f, m, beside, a.name.text, firstGiven(a.item.source, raw.source), p)
				})
			}
		}
		for i, a := range raw.assemblies {
			if w.stream != nil {
				raw.assemblies[i].item.positions = thatFollow(a.item.positions)
			}
		}
	})
	eachModel(w, func(_ *dataFile, m *modelInfo, raw *rawModel) {
		for _, a := range raw.assemblies {
			for _, p := range a.item.positions {
				resolveTaken(w, m, p.taken, "position", a.name.text+"/"+p.name.text, nil, func() {
					resolveAfter(w, m, a.name.text,
						p)
				})
			}
		}
	})
	checkOrder(w)
	handPositions(w)
}

// handPositions hands all positions over, and keeps of each what rows and joints ask.
func handPositions(w *world) {
	if w.stream == nil {
		return
	}
	var piece graph.Facts
	for id, item := range w.positions.items {
		d := &item.value
		if piece.Positions = append(piece.Positions, d.finish(id)); len(piece.Positions) >= fullPiece {
			w.stream.hand(piece)
			piece = graph.Facts{}
		}
		d.whole = nil
		if d.cited = len(d.said) == 1 && d.said[0].Pos == item.origin.pos; d.cited {
			d.said = nil
		}
	}
	w.stream.hand(piece)
}

// thatFollow are the positions that must come after others: of them more is to
// be checked.
func thatFollow(list []named[rawPosition]) (kept []named[rawPosition]) {
	for _, p := range list {
		if len(p.item.after) > 0 {
			kept = append(kept, p)
		}
	}
	return kept
}

// eachModel visits each file's piece of each model that is defined.
func eachModel(w *world, visit func(f *dataFile, m *modelInfo, raw *rawModel)) {
	for _, f := range w.files {
		eachModelOf(w, f, visit)
	}
}

func eachModelOf(w *world, f *dataFile, visit func(f *dataFile, m *modelInfo, raw *rawModel)) {
	for i := range f.models {
		if m, ok := w.models.get(graph.ModelID(f.models[i].name.text)); ok && !m.ghost {
			visit(f, m, &f.models[i].item)
		}
	}
}

func positionID(m *modelInfo, assembly, position string) graph.PositionID {
	return graph.PositionID(string(m.model.ID) + ":" + assembly + "/" + position)
}

func resolvePosition(w *world, f *dataFile, m *modelInfo, beside func() neighbours, assembly string, outer []word,
	raw named[rawPosition]) {
	on, sure := covered(w, m, raw.item.on)
	p := graph.Position{ID: positionID(m, assembly, raw.name.text), Model: m.model.ID,
		Kind: graph.KindID(raw.item.kind.text),
		Name: raw.item.name.text, Side: raw.item.side.text, Index: raw.item.index.n, Quantity: max(1, raw.item.quantity.n),
		Safety: graph.Safety(raw.item.safety.text), Renew: raw.item.renew.yes,
		Road: roadOf(raw.item.road),
		On:   on, Said: w.cites(f, raw.name.pos, raw.item.source, outer)}
	p.Assembly = p.ID.Assembly()
	for _, c := range raw.item.takes {
		one := graph.Consumable{What: c.what.text, Grade: c.grade.text,
			Amount: allReadings(w, f, c.amount, raw.item.source, outer)}
		if oneValuePerSource(w, one.Amount, measure.Volume, "amount"); one.What != "" {
			p.Takes = append(p.Takes, one)
		}
	}
	if raw.item.kind.given() {
		if kind, known := knownKind(w, raw.item.kind); known {
			p.Name = cmp.Or(p.Name, positionName(kind.Name, p))
			p.Safety = cmp.Or(p.Safety, kind.Safety)
			if len(p.Road) == 0 {
				p.Road = slices.Clone(kind.Road)
			}
		}
	}
	var before graph.Position
	first, known := w.positions.get(p.ID)
	if known {
		before = first.finish(p.ID)
	}
	switch {
	case p.Safety == noSafety:
		p.Safety = graph.SafetyNone
	case p.Safety != graph.SafetyNone || !isClassedByPlace(p.Kind):
	case known:
		p.Safety = before.Safety
	default:
		p.Safety = beside().class(assembly, raw.name.text)
	}
	if !sure {
		w.unsure[p.ID] = true
	}
	if !known {
		w.positions.put(p.ID, placeFor(p), origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	from := w.positions.origin(p.ID)
	sameLayer := !from.base && from.layer == f.layer
	if !samePosition(before, p) || sameLayer && !w.unsure[p.ID] && sharesSource(before.Said, p.Said) &&
		overlap(before.On, p.On) {
		d := w.Errorf(raw.name.pos, "duplicate", "position %q is given twice", p.ID.Local())
		d.Hint = "give it once; \"on\" may list several scopes"
		d.Related = places(before.Said)
		return
	}
	if from.base {
		w.positions.put(p.ID, placeFor(p), origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	if len(before.Takes) == 0 {
		first.whole.takes = p.Takes
	}
	first.on = slices.Compact(slices.Sorted(slices.Values(append(slices.Clip(before.On), p.On...))))
	first.said = addCites(before.Said, p.Said)
}

// positionName is the name of a position that was given none.
func positionName(kind string, p graph.Position) string {
	name := kind
	if p.Side != "" {
		name += ", " + p.Side
	}
	if p.Index > 0 {
		name += ", no. " + strconv.Itoa(p.Index)
	}
	return name
}

// samePosition says whether two descriptions of a position agree on all but
// where they hold.
func samePosition(a, b graph.Position) bool {
	return a.Kind == b.Kind && a.Name == b.Name && a.Side == b.Side && a.Index == b.Index &&
		a.Quantity == b.Quantity && a.Safety == b.Safety && a.Renew == b.Renew &&
		slices.Equal(a.Road, b.Road)
}

func overlap[K comparable](a, b []K) bool {
	for _, x := range a {
		if slices.Contains(b, x) {
			return true
		}
	}
	return false
}

// both are the identities in both sorted lists.
func both[K comparable](a, b []K) []K {
	var list []K
	for _, x := range a {
		if slices.Contains(b, x) {
			list = append(list, x)
		}
	}
	return list
}

func resolveAfter(w *world, m *modelInfo, assembly string, raw named[rawPosition]) {
	own := positionID(m, assembly, raw.name.text)
	p, known := w.positions.get(own)
	if !known {
		return
	}
	for _, before := range raw.item.after {
		id, ok := position(w, m, before)
		switch {
		case ok && id == own:
			w.Errorf(before.pos, "order-cycle", "position %q comes after itself", id.Local())
		case ok && id.Model() != m.model.ID:
			w.Errorf(before.pos, "unknown-position", "position %q is on another model", before.text)
		case ok && !slices.Contains(p.whole.after, id):
			p.whole.after = append(p.whole.after, id)
		}
	}
	slices.Sort(p.whole.after)
}

// checkOrder reports positions that, over others, come after themselves.
func checkOrder(w *world) {
	after := func(id graph.PositionID) []graph.PositionID {
		if p, ok := w.positions.get(id); ok {
			return p.whole.after
		}
		return nil
	}
	var follow []graph.PositionID // others are in no circle
	for id, item := range w.positions.items {
		if len(item.value.whole.after) > 0 {
			follow = append(follow, id)
		}
	}
	slices.Sort(follow)
	for _, cycle := range cycles(follow, after) {
		var at []diag.Pos
		var local []string
		for _, id := range cycle {
			given := placesOf(w, id)
			at = append(at, given[:min(1, len(given))]...)
			local = append(local, id.Local())
		}
		if len(at) > 0 {
			w.Errorf(at[0], "order-cycle", "position %q comes after itself: %s", local[0], circle(local)).Related = at[1:]
		}
	}
}

// position looks up a position as written: "front-brake/caliper-left" within a
// model, "skerry-620:front-brake/caliper-left" or with a space anywhere. m is
// nil where no model is given by the place.
func position(w *world, m *modelInfo, ref word) (graph.PositionID, bool) {
	local := ref.text
	if i := strings.IndexAny(ref.text, ": "); i >= 0 {
		other, known := knownModel(w, word{ref.text[:i], ref.pos})
		if !known {
			return "", false
		}
		m, local = other, strings.TrimLeft(ref.text[i:], ": ")
	}
	if m == nil {
		w.Errorf(ref.pos, "bad-value", "position %q names no model", ref.text).Hint = `write "model:assembly/position"`
		return "", false
	}
	id := graph.PositionID(string(m.model.ID) + ":" + local)
	if _, known := w.positions.get(id); known {
		return id, true
	}
	if w.taking && w.leftOut[id] {
		return id, false // what it is like has it on other variants
	}
	d := w.unknown(ref.pos, "unknown-position", "model %q has no position %q", m.model.ID, local)
	d.Hint = w.hints.near(string(m.model.ID), local, func() []string { return localNames(w, m) }, near)
	if d.Hint == "" && !strings.Contains(local, "/") {
		d.Hint = `a position is written "assembly/position"`
	}
	return id, false
}

// positionsOf looks up several positions and gives those that are known, sorted.
func positionsOf(w *world, m *modelInfo, refs []word) []graph.PositionID {
	var ids []graph.PositionID
	for _, ref := range refs {
		if id, ok := position(w, m, ref); ok {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}
