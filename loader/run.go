package loader

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawRun is a run as written.
type rawRun struct {
	at           diag.Pos
	line         word
	from, to     word
	needs        rawNeeds
	inner        []rawReading
	spare        []rawReading
	movedBy      []word
	lengthenedBy []word
	guides       []word
	hot          []word
	gap          []rawReading
	leastGap     []rawReading
	on           []rawScope
	source       []word
	owes         []string
}

// rawNeeds are the lengths a run needs, in the order of attitudes.
type rawNeeds struct {
	at       diag.Pos
	readings [6][]rawReading
}

// attitude is how the machine stands when a length is taken.
type attitude struct{ lock, fork string }

// attitudes are all, in the order graph.Run keeps them.
func attitudes() [6]attitude {
	return [6]attitude{{"left", "extended"}, {"left", "compressed"}, {"centre", "extended"},
		{"centre", "compressed"}, {"right", "extended"}, {"right", "compressed"}}
}

func runForm() form[rawRun] {
	length := readingsForm("readings", measured(measure.Length))
	var needs []field[rawNeeds]
	for i, a := range attitudes() {
		needs = append(needs, says("steering "+a.lock+", fork "+a.fork,
			key(a.lock+"-"+a.fork, length, func(n *rawNeeds) *[]rawReading { return &n.readings[i] })))
	}
	return owing(mapping("a run", func(r *rawRun) *diag.Pos { return &r.at },
		says("position of the hose, cable or lead; must be given, here or in what the model is like", key("line",
			free().form(), func(r *rawRun) *word { return &r.line })),
		says("assembly/position.feature it starts at; must be given, here or in what the model is like", key("from",
			free().form(), func(r *rawRun) *word { return &r.from })),
		says("assembly/position.feature it ends at; must be given, here or in what the model is like", key("to",
			free().form(), func(r *rawRun) *word { return &r.to })),
		says("length it needs, by steering lock and fork", key("needs", mapping("needs",
			func(n *rawNeeds) *diag.Pos { return &n.at }, needs...), func(r *rawRun) *rawNeeds { return &r.needs })),
		says("free inner length a cable needs", key("inner", length, func(r *rawRun) *[]rawReading { return &r.inner })),
		says("how much longer than its longest need it must be", key("spare", length,
			func(r *rawRun) *[]rawReading { return &r.spare })),
		says("features of kind place that move an end", key("moved-by", oneOrMore("features", free().form()),
			func(r *rawRun) *[]word { return &r.movedBy })),
		says("features of kind fork-length that move an end", key("lengthened-by", oneOrMore("features", free().form()),
			func(r *rawRun) *[]word { return &r.lengthenedBy })),
		says("what holds it on its way, from start to end", key("guides", oneOrMore("guides", phrase().form()),
			func(r *rawRun) *[]word { return &r.guides })),
		says("positions of the exhaust parts it passes", key("hot", oneOrMore("positions", free().form()),
			func(r *rawRun) *[]word { return &r.hot })),
		says("least distance from them on the machine as built, at both locks, fork in and out", key("gap", length,
			func(r *rawRun) *[]rawReading { return &r.gap })),
		says("least distance from them that the maker's book wants", key("least-gap", length,
			func(r *rawRun) *[]rawReading { return &r.leastGap })),
		says("variants that have it; all with its positions when left out", key("on", scopesForm(),
			func(r *rawRun) *[]rawScope { return &r.on })),
		sourceKey(func(r *rawRun) *[]word { return &r.source })),
		func(r *rawRun) *[]string { return &r.owes }, "line", "from", "to")
}

func (r rawRun) filled(from rawRun) rawRun {
	r.line, r.from, r.to = orWord(r.line, from.line), orWord(r.from, from.from), orWord(r.to, from.to)
	for i := range r.needs.readings {
		r.needs.readings[i] = orList(r.needs.readings[i], from.needs.readings[i])
	}
	r.inner, r.spare = orList(r.inner, from.inner), orList(r.spare, from.spare)
	r.movedBy, r.lengthenedBy = orList(r.movedBy, from.movedBy), orList(r.lengthenedBy, from.lengthenedBy)
	r.guides, r.on = orList(r.guides, from.guides), orList(r.on, from.on)
	r.hot, r.gap, r.leastGap = orList(r.hot, from.hot), orList(r.gap, from.gap), orList(r.leastGap, from.leastGap)
	return r
}

func (r rawRun) bare() rawRun {
	r.needs, r.inner, r.spare, r.gap, r.leastGap = rawNeeds{}, nil, nil, nil, nil
	return r
}

func (r rawRun) movedTo(at diag.Pos) rawRun {
	moved := rawRun{at: at, line: r.line.movedTo(at), from: r.from.movedTo(at), to: r.to.movedTo(at),
		inner: movedReadings(r.inner, at),
		spare: movedReadings(r.spare, at), movedBy: movedWords(r.movedBy, at), lengthenedBy: movedWords(r.lengthenedBy, at),
		guides: movedWords(r.guides, at), hot: movedWords(r.hot, at), gap: movedReadings(r.gap, at),
		leastGap: movedReadings(r.leastGap, at), on: loose(r.on)}
	for i, readings := range r.needs.readings {
		moved.needs.readings[i] = movedReadings(readings, at)
	}
	return moved
}

func resolveRuns(w *world) {
	eachModel(w, func(f *dataFile, m *modelInfo, raw *rawModel) {
		for _, r := range raw.runs {
			resolveTaken(w, m, r.taken, "run", r.name.text, r.item.on, func() { resolveRun(w, f, m, raw.source, r) })
		}
	})
}

func resolveRun(w *world, f *dataFile, m *modelInfo, outer []word, raw named[rawRun]) {
	item := raw.item
	from, fromKnown := feature(w, m, item.from)
	to, toKnown := feature(w, m, item.to)
	r := graph.Run{ID: graph.RunID(string(m.model.ID) + ":" + raw.name.text), Model: m.model.ID, From: from, To: to,
		Needs: needs(w, f, item, outer), Inner: length(w, f, item.inner, item.source, outer, "inner"), Spare: length(w, f,
			item.spare, item.source, outer, "spare"),
		MovedBy: features(w, m, item.movedBy, "place"), LengthenedBy: features(w, m, item.lengthenedBy, "fork-length"),
		Guides: texts(item.guides), Hot: positionsOf(w, m, item.hot), Gap: length(w, f, item.gap, item.source, outer, "gap"),
		LeastGap: length(w, f, item.leastGap, item.source, outer, "least-gap"),
		Said:     w.cites(f, raw.name.pos, item.source, outer)}
	gapOf(w, raw.name, item)
	if !item.line.given() {
		return
	}
	line, lineKnown := position(w, m, item.line)
	if !lineKnown || !fromKnown || !toKnown {
		return
	}
	r.Line = line
	r.On = where(w, m, raw.name, item.on, line, from.Position, to.Position)
	before, known := w.runs.get(r.ID)
	if known && (before.Line != r.Line || before.From != r.From || before.To != r.To || len(r.Guides) > 0 &&
		len(before.Guides) > 0 && !slices.Equal(before.Guides, r.Guides)) {
		givenTwice(w, raw.name, "run", before.Said)
		return
	}
	if !known || w.runs.origin(r.ID).base {
		w.runs.put(r.ID, r, origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	uniteRuns(w, before, r, w.runs.origin(r.ID).layer == f.layer)
}

// gapOf finds distances that are from nothing: of a run that passes no hot part.
func gapOf(w *world, name word, item rawRun) {
	if len(item.hot) == 0 && len(item.gap)+len(item.leastGap) > 0 {
		d := w.Errorf(name.pos, "missing-key", "run %q keeps a gap, and nothing says from what", name.text)
		d.Hint = "add \"hot\" with the positions of the exhaust parts it passes"
	}
}

func uniteRuns(w *world, into *graph.Run, r graph.Run, sameLayer bool) {
	into.Inner = uniteReadings(w, into.Inner, r.Inner, measure.Length, "inner", sameLayer)
	into.Spare = uniteReadings(w, into.Spare, r.Spare, measure.Length, "spare", sameLayer)
	for _, need := range r.Needs {
		i := slices.IndexFunc(into.Needs, func(n graph.RunNeed) bool { return n.Lock == need.Lock && n.Fork == need.Fork })
		if i < 0 {
			into.Needs = append(into.Needs, need)
			continue
		}
		into.Needs[i].Length = uniteReadings(w, into.Needs[i].Length, need.Length, measure.Length,
			"the need "+need.Lock+"-"+need.Fork, sameLayer)
	}
	order := func(n graph.RunNeed) int {
		all := attitudes()
		return slices.Index(all[:], attitude{n.Lock, n.Fork})
	}
	slices.SortFunc(into.Needs, func(a, b graph.RunNeed) int { return cmp.Compare(order(a), order(b)) })
	into.MovedBy = uniteFeatures(into.MovedBy, r.MovedBy)
	into.LengthenedBy = uniteFeatures(into.LengthenedBy, r.LengthenedBy)
	if len(into.Guides) == 0 {
		into.Guides = r.Guides
	}
	into.Hot = unite(into.Hot, r.Hot)
	into.Gap = uniteReadings(w, into.Gap, r.Gap, measure.Length, "gap", sameLayer)
	into.LeastGap = uniteReadings(w, into.LeastGap, r.LeastGap, measure.Length, "least-gap", sameLayer)
	into.On = unite(into.On, r.On)
	into.Said = addCites(into.Said, r.Said)
}

func needs(w *world, f *dataFile, item rawRun, outer []word) []graph.RunNeed {
	var needs []graph.RunNeed
	for i, a := range attitudes() {
		if readings := length(w, f, item.needs.readings[i], item.source, outer,
			"the need "+a.lock+"-"+a.fork); len(readings) > 0 {
			needs = append(needs, graph.RunNeed{Lock: a.lock, Fork: a.fork, Length: readings})
		}
	}
	return needs
}

// length is a list of readings of a length, checked for two values.
func length(w *world, f *dataFile, raw []rawReading, own, outer []word, what string) []graph.Reading {
	list := allReadings(w, f, raw, own, outer)
	oneValuePerSource(w, list, measure.Length, what)
	return list
}

// features looks up several features, each of one of the kinds, sorted.
func features(w *world, m *modelInfo, refs []word, kinds ...string) []graph.FeatureRef {
	var list []graph.FeatureRef
	for _, ref := range refs {
		if f, ok := feature(w, m, ref, kinds...); ok {
			list = append(list, f)
		}
	}
	return uniteFeatures(list, nil)
}

func uniteFeatures(a, b []graph.FeatureRef) []graph.FeatureRef {
	all := append(slices.Clip(a), b...)
	slices.SortFunc(all, func(a, b graph.FeatureRef) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), strings.Compare(a.Feature, b.Feature))
	})
	return slices.Compact(all)
}
