package loader

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawSupersession is a row of a list of supersessions.
type rawSupersession struct {
	at         diag.Pos
	old, new   word
	newOnOld   flag
	oldOnNew   flag
	scope      rawScope
	companions []rawContent
	reason     word
	date       word
	source     []word
}

func supersessionTable() table[rawSupersession] {
	return table[rawSupersession]{at: func(r *rawSupersession) *diag.Pos { return &r.at },
		columns: []column[rawSupersession]{
			needed(cell("old", free(), func(r *rawSupersession) *word { return &r.old })),
			needed(cell("new", free(), func(r *rawSupersession) *word { return &r.new })),
			cell("new_on_old", yesNo(), func(r *rawSupersession) *flag { return &r.newOnOld }),
			cell("old_on_new", yesNo(), func(r *rawSupersession) *flag { return &r.oldOnNew }),
			cell("years", years(), func(r *rawSupersession) *yearRange { return &r.scope.years }),
			cells("markets", name(), func(r *rawSupersession) *[]word { return &r.scope.markets }),
			cell("frames", frames(), func(r *rawSupersession) *frameRange { return &r.scope.frames }),
			cells("companions", companion(), func(r *rawSupersession) *[]rawContent { return &r.companions }),
			cell("reason", free(), func(r *rawSupersession) *word { return &r.reason }),
			cell("date", date(), func(r *rawSupersession) *word { return &r.date }),
			sourceCells(func(r *rawSupersession) *[]word { return &r.source }),
		}}
}

var timesSuffix = lazily(`^(.*\S)\s+x\s*(-?\d+)$`)

// companion takes a part, with how many behind it when more than one:
// "Tarnholt 207.9001 x2".
func companion() scalar[rawContent] {
	return scalar[rawContent]{check: func(r reading, w word) (rawContent, bool) {
		c := rawContent{at: w.pos, part: w}
		m := timesSuffix.compile().FindStringSubmatch(w.text)
		if m == nil {
			return c, true
		}
		c.part.text = m[1]
		times := word{m[2], w.pos}
		times.pos.Col += len(w.text) - len(m[2])
		c.quantity, _ = count().check(r, times)
		return c, true // the part is looked up, whatever the count
	}}
}

func resolveSupersessions(w *world) {
	told := map[string]origin{}
	for _, f := range w.files {
		eachRow(w, f, f.supersessions, supersessionList, func(g *grammar) table[rawSupersession] { return g.supersessions },
			func(raw *rawSupersession) { resolveSupersession(w, f, raw, told) })
	}
	checkSupersessionCycles(w)
	handSupersessions(w)
}

func resolveSupersession(w *world, f *dataFile, raw *rawSupersession, told map[string]origin) {
	said := w.cites(f, raw.at, raw.source)
	companions := companions(w, raw.companions)
	checkMarkets(w, raw.scope.markets)
	if !raw.old.given() || !raw.new.given() {
		return
	}
	old, oldKnown := partRef(w, raw.old)
	newer, newKnown := partRef(w, raw.new)
	if !oldKnown || !newKnown {
		return
	}
	if old == newer {
		w.Errorf(raw.new.pos, "supersedes-itself", "part %q supersedes itself", raw.new.text)
		return
	}
	s := graph.Supersession{Old: old, New: newer, NewOnOld: usable(raw.newOnOld), OldOnNew: usable(raw.oldOnNew),
		Scope:      raw.scope.scope(),
		Companions: companions, Reason: raw.reason.text, Date: raw.date.text, Said: said}
	s.ID = supersessionID(s)
	for _, cite := range said {
		key := string(s.ID) + "\x00" + string(cite.Source)
		if before, twice := told[key]; twice && before.layer == f.layer {
			d := w.Errorf(raw.at, "duplicate", "source %q says this twice", cite.Source)
			d.Hint = "take one of the rows out"
			d.Related = before.related()
		}
		told[key] = origin{pos: raw.at, layer: f.layer}
	}
	if before, known := w.supersessions.get(s.ID); known && !w.supersessions.origin(s.ID).base {
		before.Said = addCites(before.Said, s.Said)
		before.Reason, before.Date = cmp.Or(before.Reason, s.Reason), cmp.Or(before.Date, s.Date)
		return
	}
	w.supersessions.put(s.ID, s, origin{pos: raw.at, layer: f.layer})
}

func usable(f flag) graph.Usable {
	switch {
	case !f.given():
		return graph.NotStated
	case f.yes:
		return graph.Yes
	}
	return graph.No
}

func companions(w *world, raw []rawContent) []graph.Content {
	var list []graph.Content
	first := map[graph.PartID]diag.Pos{}
	for _, c := range raw {
		id, known := partRef(w, c.part)
		if !known {
			continue
		}
		if before, twice := first[id]; twice {
			w.Errorf(c.at, "duplicate", "companion %q is given twice", id).Related = []diag.Pos{before}
			continue
		}
		first[id] = c.at
		list = append(list, graph.Content{Part: id, Quantity: max(1, c.quantity.n)})
	}
	slices.SortFunc(list, func(a, b graph.Content) int { return cmp.Compare(a.Part, b.Part) })
	return list
}

// supersessionID names an edge by its content: the two parts, and a hash of
// where and how it holds.
func supersessionID(s graph.Supersession) graph.SupersessionID {
	rest := []string{s.NewOnOld.String(), s.OldOnNew.String(), s.Scope.Years.String(), strings.Join(s.Scope.Markets, ";"),
		s.Scope.Frames.String()}
	for _, c := range s.Companions {
		rest = append(rest, string(c.Part), strconv.Itoa(c.Quantity))
	}
	return graph.SupersessionID(string(s.Old) + ">" + string(s.New) + "#" + contentHash(rest...))
}

// checkSupersessionCycles reports numbers that lead back to themselves. An edge
// that may be used both ways is still one edge, from old to new.
func checkSupersessionCycles(w *world) {
	edges := map[graph.PartID][]*graph.Supersession{} // by old number; one for each new one
	for _, id := range w.supersessions.keys() {       // those of the same two numbers follow one another
		s, _ := w.supersessions.get(id)
		if same := edges[s.Old]; len(same) == 0 || same[len(same)-1].New != s.New {
			edges[s.Old] = append(same, s)
		}
	}
	next := func(id graph.PartID) (newer []graph.PartID) {
		for _, s := range edges[id] {
			newer = append(newer, s.New)
		}
		slices.Sort(newer)
		return newer
	}
	for _, cycle := range cycles(sortedKeys(edges), next) {
		var at []diag.Pos
		for i, id := range cycle {
			to := cycle[(i+1)%len(cycle)]
			edge := slices.IndexFunc(edges[id], func(e *graph.Supersession) bool { return e.New == to })
			at = append(at, places(edges[id][edge].Said)...)
		}
		if len(at) == 0 {
			continue
		}
		d := w.Errorf(at[0], "supersession-cycle", "numbers supersede each other in a circle: %s", circle(cycle))
		d.Hint = "a change that may be used both ways is one row with new_on_old and old_on_new"
		d.Related = at[1:]
	}
}
