package loader

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// taken says from where an item of a model was taken over, in whole or in part.
// What is taken over stands at the name behind "like", not where it is written.
type taken struct {
	from string // in words: pattern "chain"
	at   diag.Pos
}

// layoutItem is what a model may take over: an assembly, a position, a joint, a
// run, a circuit or a stack.
type layoutItem[T any] interface {
	// filled is the item with what it does not say itself taken from another.
	filled(from T) T
	// bare is the item without what was measured on it.
	bare() T
	// movedTo is the item with everything in it standing at one place, and its
	// scopes loose.
	movedTo(at diag.Pos) T
}

// takeOver gives every model that is like a pattern, or like a sister, what
// that has: before anything is resolved, as if it were written there.
func takeOver(w *world) {
	t := layouts{world: w, done: map[string]*rawModel{}, open: map[string]bool{}}
	for _, f := range w.files {
		for i := range f.models {
			if m := &f.models[i]; len(m.item.like)+len(m.item.without) > 0 {
				t.complete(f, m)
			}
		}
	}
	for _, f := range w.files {
		for i := range f.models {
			reportLacks(&f.models[i].item, w.List)
		}
		for i := range f.patterns {
			t.layout(word{f.patterns[i].name.text, f.patterns[i].name.pos}) // for its faults
		}
	}
}

// layouts finds what a pattern or a model has, with all that it is like.
type layouts struct {
	*world
	built []*dataFile // the patterns that ship with the program, once needed
	done  map[string]*rawModel
	open  map[string]bool // being put together, to notice a circle
}

// pieces are all that files say of a model, or of a pattern when no model has
// the name; what files of the user say goes before what ships with the program.
func (t *layouts) pieces(name string) (what string, found []*rawModel) {
	whole := name
	name, _, _ = strings.Cut(name, "/")
	gather := func(files []*dataFile, of func(*dataFile) []named[rawModel]) {
		for _, f := range files {
			list := of(f)
			for i := range list {
				if list[i].name.text == name {
					found = append(found, &list[i].item)
				}
			}
		}
	}
	patterns := func(f *dataFile) []named[rawModel] { return f.patterns }
	if gather(t.files, func(f *dataFile) []named[rawModel] { return f.models }); len(found) > 0 {
		return fmt.Sprintf("model %q", whole), found
	}
	if gather(t.files, patterns); len(found) == 0 {
		if t.built == nil {
			t.built = builtPatterns()
		}
		gather(t.built, patterns)
	}
	return fmt.Sprintf("pattern %q", name), found
}

// layout is what a pattern, a model or a variant of one has, all that it is like
// included; nil when there is none, which is reported at the name.
func (t *layouts) layout(name word) *rawModel {
	model, rest, ofVariant := strings.Cut(name.text, "/")
	whole := t.layoutOf(word{model, name.pos})
	if whole == nil || !ofVariant {
		return whole
	}
	_, pieces := t.pieces(model)
	var variants []string
	for _, p := range pieces {
		for _, raw := range p.variants {
			v := graph.Variant{Year: raw.year.years.From, Market: raw.market.text, Mark: raw.mark.text,
				Frames: raw.frames.frames}
			id := strings.TrimSuffix(fmt.Sprintf("%s/%s/%s", raw.year.text, raw.market.text, raw.mark.text), "/")
			if id == rest {
				return variantModel(whole, v)
			}
			variants = append(variants, model+"/"+id)
		}
	}
	hint := nearOrList(name.text, variants)
	if within := slices.DeleteFunc(variants, func(id string) bool {
		return !strings.HasPrefix(id,
			name.text+"/")
	}); len(within) > 0 {
		hint = "one of: " + strings.Join(within, ", ")
	}
	t.unknown(name.pos, "unknown-variant", "no variant is called %q", name.text).Hint = hint
	return nil
}

func (t *layouts) layoutOf(name word) *rawModel {
	if known, ok := t.done[name.text]; ok {
		return known
	}
	if t.open[name.text] {
		t.Errorf(name.pos, "like-cycle", "%q is like itself, directly or over others",
			name.text).Hint = `take it out of "like"`
		return nil
	}
	_, pieces := t.pieces(name.text)
	if len(pieces) == 0 {
		if d := t.unknown(name.pos, "unknown-pattern", "no pattern and no model is called %q", name.text); d.Hint == "" {
			d.Hint = cmp.Or(near(name.text, t.names()), "see the patterns with: matewell list patterns")
		}
		return nil
	}
	t.open[name.text] = true
	defer delete(t.open, name.text)
	whole := t.inherited(pieces)
	for _, p := range pieces {
		mergeOver(whole, p)
	}
	t.done[name.text] = whole
	return whole
}

// inherited is what the pieces of a model or pattern say that it is like, less
// what they say it is without.
func (t *layouts) inherited(pieces []*rawModel) *rawModel {
	whole := &rawModel{}
	for _, p := range pieces {
		for _, like := range p.like {
			if !like.given() {
				continue
			}
			if base := t.layout(like); base != nil {
				what, _ := t.pieces(like.text)
				mergeOver(whole, takenFrom(base, &taken{what, like.pos}))
			}
		}
	}
	for _, p := range pieces {
		for _, name := range p.without {
			if name.given() && !drop(whole, name.text) && len(p.like) > 0 && !t.broken {
				t.Errorf(name.pos, "unknown-position", "there is no %q in what this is like", name.text).Hint = near(name.text,
					names(whole))
			}
		}
	}
	return whole
}

// complete adds to a model what it is like: what files say of an inherited item
// is filled in, and what none speaks of is added to this piece.
func (t *layouts) complete(f *dataFile, piece *named[rawModel]) {
	_, pieces := t.pieces(piece.name.text)
	first := slices.IndexFunc(pieces, func(p *rawModel) bool { return len(p.like) > 0 })
	if first < 0 {
		for _, name := range piece.item.without {
			t.Errorf(name.pos, "bad-value", `"without" takes out of what a model is like, and %q is like nothing`,
				piece.name.text)
		}
		return
	}
	if pieces[first] != &piece.item {
		for _, like := range piece.item.like {
			d := t.Errorf(like.pos, "duplicate", "another file says already what model %q is like", piece.name.text)
			d.Hint, d.Related = "say it once, as a list", []diag.Pos{pieces[first].like[0].pos}
		}
		return
	}
	t.open[piece.name.text] = true
	base := t.inherited(pieces)
	delete(t.open, piece.name.text)
	for _, p := range pieces {
		takeFrom(p, base, pieces)
	}
	addMissing(&piece.item, base, pieces)
	if !slices.ContainsFunc(pieces, func(p *rawModel) bool { return p.maker.tried() }) {
		piece.item.maker = base.maker
	}
}

// names are those of all patterns and models, sorted.
func (t *layouts) names() []string {
	if t.built == nil {
		t.built = builtPatterns()
	}
	var names []string
	for _, f := range slices.Concat(t.files, t.built) {
		for _, list := range [][]named[rawModel]{f.models, f.patterns} {
			for i := range list {
				names = append(names, list[i].name.text)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// mergeOver adds what another says; of what both say, the other's counts.
func mergeOver(m *rawModel, other *rawModel) {
	if other.maker.tried() {
		m.maker = other.maker
	}
	m.assemblies = mergeItems(m.assemblies, other.assemblies)
	m.joints = mergeItems(m.joints, other.joints)
	m.runs = mergeItems(m.runs, other.runs)
	m.circuits = mergeItems(m.circuits, other.circuits)
	m.stacks = mergeItems(m.stacks, other.stacks)
}

func mergeItems[T layoutItem[T]](base, over []named[T]) []named[T] {
	all := slices.Clone(base)
	at := indexNames(all)
	for _, item := range over {
		i, known := at[item.name.text]
		if !known {
			at[item.name.text] = len(all)
			all = append(all, item)
			continue
		}
		all[i] = named[T]{name: item.name, item: item.item.filled(all[i].item), taken: item.taken}
	}
	return all
}

func indexNames[T any](list []named[T]) map[string]int {
	at := make(map[string]int, len(list))
	for i := range list {
		at[list[i].name.text] = i
	}
	return at
}

// variantModel is what one variant of a model has of its layout.
func variantModel(m *rawModel, v graph.Variant) *rawModel {
	c := &rawModel{maker: m.maker,
		joints:   itemsOn(m.joints, v, func(j *rawJoint) *[]rawScope { return &j.on }),
		runs:     itemsOn(m.runs, v, func(r *rawRun) *[]rawScope { return &r.on }),
		circuits: itemsOn(m.circuits, v, func(c *rawCircuit) *[]rawScope { return &c.on }),
		stacks:   itemsOn(m.stacks, v, func(s *rawStack) *[]rawScope { return &s.on })}
	gone := map[string]bool{}
	for _, a := range m.assemblies {
		all := a.item.positions
		a.item.positions = itemsOn(all, v, func(p *rawPosition) *[]rawScope { return &p.on })
		here := indexNames(a.item.positions)
		for _, p := range all {
			if _, has := here[p.name.text]; !has {
				gone[a.name.text+"/"+p.name.text] = true
			}
		}
		c.assemblies = append(c.assemblies, a)
	}
	dropPlaces(c, gone)
	return c
}

// itemsOn are the items that a variant has; it has them without a scope.
func itemsOn[T any](list []named[T], v graph.Variant, scopes func(*T) *[]rawScope) []named[T] {
	var has []named[T]
	for _, item := range list {
		on := *scopes(&item.item)
		if len(on) > 0 && !slices.ContainsFunc(on, func(s rawScope) bool { return s.scope().Covers(v) }) {
			continue
		}
		*scopes(&item.item) = nil
		has = append(has, item)
	}
	return has
}

// takenFrom is a copy of a layout as another model has it that is like it.
func takenFrom(m *rawModel, t *taken) *rawModel {
	c := &rawModel{assemblies: takenItems(m.assemblies, t), joints: takenItems(m.joints, t), runs: takenItems(m.runs, t),
		circuits: takenItems(m.circuits, t), stacks: takenItems(m.stacks, t)}
	if m.maker.given() {
		c.maker = word{m.maker.text, t.at}
	}
	for i := range c.assemblies {
		c.assemblies[i].item.positions = takenItems(c.assemblies[i].item.positions, t)
	}
	return c
}

func takenItems[T layoutItem[T]](list []named[T], t *taken) []named[T] {
	moved := make([]named[T], len(list))
	for i, item := range list {
		moved[i] = named[T]{name: word{item.name.text, t.at}, item: item.item.movedTo(t.at), taken: t}
	}
	return moved
}

// takeFrom fills in what this piece of a model says of inherited items.
func takeFrom(m *rawModel, base *rawModel, pieces []*rawModel) {
	fillItems(m, base, pieces, func(p *rawModel) *[]named[rawJoint] { return &p.joints })
	fillItems(m, base, pieces, func(p *rawModel) *[]named[rawRun] { return &p.runs })
	fillItems(m, base, pieces, func(p *rawModel) *[]named[rawCircuit] { return &p.circuits })
	fillItems(m, base, pieces, func(p *rawModel) *[]named[rawStack] { return &p.stacks })
	for i := range m.assemblies {
		name := m.assemblies[i].name.text
		fillItems(m, base, pieces, positionsIn(name))
	}
}

// positionsIn gives the positions of an assembly in a layout; an empty list of
// its own when there is none.
func positionsIn(assembly string) func(*rawModel) *[]named[rawPosition] {
	return func(p *rawModel) *[]named[rawPosition] {
		for i := range p.assemblies {
			if p.assemblies[i].name.text == assembly {
				return &p.assemblies[i].item.positions
			}
		}
		return new([]named[rawPosition])
	}
}

// fillItems fills in the items of one sort. What one piece says of an item holds
// in the others too, but for what was measured, which each source says itself.
func fillItems[T layoutItem[T]](m, base *rawModel, pieces []*rawModel, of func(*rawModel) *[]named[T]) {
	inherited := *of(base)
	at := indexNames(inherited)
	for i := range *of(m) {
		mine := &(*of(m))[i]
		k, known := at[mine.name.text]
		if !known {
			continue
		}
		merged, first := inherited[k].item, (*rawModel)(nil)
		for _, p := range pieces {
			for _, other := range *of(p) {
				if other.name.text == mine.name.text {
					merged = other.item.filled(merged)
					if first == nil {
						first = p
					}
				}
			}
		}
		mine.item = mine.item.filled(merged.bare())
		if first == m {
			mine.item = mine.item.filled(inherited[k].item)
		}
	}
}

// addMissing adds the inherited items that no piece of the model speaks of.
func addMissing(m *rawModel, base *rawModel, pieces []*rawModel) {
	m.joints = addItems(m, base, pieces, func(p *rawModel) *[]named[rawJoint] { return &p.joints })
	m.runs = addItems(m, base, pieces, func(p *rawModel) *[]named[rawRun] { return &p.runs })
	m.circuits = addItems(m, base, pieces, func(p *rawModel) *[]named[rawCircuit] { return &p.circuits })
	m.stacks = addItems(m, base, pieces, func(p *rawModel) *[]named[rawStack] { return &p.stacks })
	own := m.assemblies
	for _, a := range base.assemblies {
		add := a
		add.item.positions = addItems(nil, base, pieces, positionsIn(a.name.text))
		for _, p := range pieces {
			for i := range p.assemblies {
				if p.assemblies[i].name.text == a.name.text && p.assemblies[i].item.name.tried() {
					add.item.name = word{} // it is given here
				}
			}
		}
		own = append(own, add)
	}
	m.assemblies = own
}

func addItems[T layoutItem[T]](m, base *rawModel, pieces []*rawModel, of func(*rawModel) *[]named[T]) []named[T] {
	spoken := map[string]bool{}
	for _, p := range pieces {
		for _, item := range *of(p) {
			spoken[item.name.text] = true
		}
	}
	var all []named[T]
	if m != nil {
		all = *of(m)
	}
	for _, item := range *of(base) {
		if !spoken[item.name.text] {
			all = append(all, item)
		}
	}
	return all
}

// drop takes out what a name stands for: an assembly, a position, or a joint,
// run, circuit or stack. What joins a position that is gone goes with it. False
// when nothing has the name.
func drop(m *rawModel, name string) bool {
	gone := map[string]bool{}
	kept := m.assemblies[:0:0]
	for _, a := range m.assemblies {
		positions := a.item.positions[:0:0]
		for _, p := range a.item.positions {
			local := a.name.text + "/" + p.name.text
			if a.name.text == name || local == name {
				gone[local] = true
			} else {
				positions = append(positions, p)
			}
		}
		if a.item.positions = positions; a.name.text != name {
			kept = append(kept, a)
		}
	}
	if m.assemblies = kept; len(gone) > 0 {
		dropPlaces(m, gone)
		return true
	}
	before := len(m.joints) + len(m.runs) + len(m.circuits) + len(m.stacks)
	m.joints = dropNamed(m.joints, name)
	m.runs = dropNamed(m.runs, name)
	m.circuits = dropNamed(m.circuits, name)
	m.stacks = dropNamed(m.stacks, name)
	return len(m.joints)+len(m.runs)+len(m.circuits)+len(m.stacks) < before
}

func dropNamed[T any](list []named[T], name string) []named[T] {
	return slices.DeleteFunc(slices.Clone(list), func(item named[T]) bool { return item.name.text == name })
}

// dropPlaces takes out what needs a position that is gone, and what else names it.
func dropPlaces(m *rawModel, gone map[string]bool) {
	at := func(w word) bool { return gone[w.text] }
	of := func(w word) bool {
		dot := strings.LastIndexByte(w.text, '.')
		return dot > 0 && gone[w.text[:dot]]
	}
	less := func(list []word, lost func(word) bool) []word { return slices.DeleteFunc(slices.Clone(list), lost) }
	for i := range m.assemblies {
		positions := slices.Clone(m.assemblies[i].item.positions)
		for k := range positions {
			positions[k].item.after = less(positions[k].item.after, at)
		}
		m.assemblies[i].item.positions = positions
	}
	m.joints = slices.DeleteFunc(slices.Clone(m.joints), func(j named[rawJoint]) bool {
		return of(j.item.a) ||
			of(j.item.b)
	})
	for i := range m.joints {
		j := &m.joints[i].item
		j.bolts, j.renew = less(j.bolts, at), less(j.renew, at)
	}
	m.runs = slices.DeleteFunc(slices.Clone(m.runs), func(r named[rawRun]) bool {
		return at(r.item.line) || of(r.item.from) || of(r.item.to)
	})
	for i := range m.runs {
		r := &m.runs[i].item
		r.movedBy, r.lengthenedBy = less(r.movedBy, of), less(r.lengthenedBy, of)
	}
	m.circuits = slices.Clone(m.circuits)
	for i := range m.circuits {
		c := &m.circuits[i].item
		c.feeds, c.fed, c.members = less(c.feeds, at), less(c.fed, at), less(c.members, at)
	}
	m.circuits = slices.DeleteFunc(m.circuits, func(c named[rawCircuit]) bool {
		return len(c.item.feeds) == 0 ||
			len(c.item.fed) == 0
	})
	m.stacks = slices.DeleteFunc(slices.Clone(m.stacks), func(s named[rawStack]) bool { return of(s.item.within) })
	for i := range m.stacks {
		s := &m.stacks[i].item
		if s.row = less(s.row, of); of(s.centre) {
			s.centre = word{}
		}
	}
	m.stacks = slices.DeleteFunc(m.stacks, func(s named[rawStack]) bool { return len(s.item.row) == 0 })
}

// names are all that "without" may name.
func names(m *rawModel) []string {
	var names []string
	for _, a := range m.assemblies {
		names = append(names, a.name.text)
		for _, p := range a.item.positions {
			names = append(names, a.name.text+"/"+p.name.text)
		}
	}
	for _, j := range m.joints {
		names = append(names, j.name.text)
	}
	for _, r := range m.runs {
		names = append(names, r.name.text)
	}
	for _, c := range m.circuits {
		names = append(names, c.name.text)
	}
	for _, s := range m.stacks {
		names = append(names, s.name.text)
	}
	return names
}

// resolveTaken resolves an item that may be taken over. A fault in one that is
// stands at the name behind "like" and says what it is about. One that holds on
// none of the model's variants is left out, and told.
func resolveTaken(w *world, m *modelInfo, t *taken, what, name string, scopes []rawScope, resolve func()) {
	if t == nil {
		resolve()
		return
	}
	if on, sure := covered(w, m, scopes); len(on) == 0 && sure {
		leaveOut(w, m, t, what, name)
		return
	}
	faults := w.List
	w.List, w.taking = &diag.List{}, true
	resolve()
	found := w.List.Sorted()
	w.List, w.taking = faults, false
	for _, d := range found {
		if d.Code == "covers-nothing" || d.Code == "no-rule" {
			continue // no variant has both of its places, or it is warned of where it is written
		}
		if d.Pos.File == t.at.File && d.Pos.Line == t.at.Line {
			d.Pos = t.at
			d.Message = fmt.Sprintf("%s %q, which %s has: %s", what, name, t.from, d.Message)
			d.Hint = fmt.Sprintf(`write it anew, or leave it out with "without: [%s]"`, name)
		}
		w.Add(d)
	}
}

// leaveOut notes an item that is not taken over.
func leaveOut(w *world, m *modelInfo, t *taken, what, name string) {
	if what == "position" {
		w.leftOut[graph.PositionID(string(m.model.ID)+":"+name)] = true
	}
	w.leftBy[t] = append(w.leftBy[t], what+" "+name)
}

// maxLeftOut is how many of the items left out a warning names.
const maxLeftOut = 3

// warnLeftOut tells what was not taken over because it holds on no variant.
func warnLeftOut(w *world) {
	for t, names := range w.leftBy {
		slices.Sort(names)
		text := strings.Join(names[:min(len(names), maxLeftOut)], ", ")
		if more := len(names) - maxLeftOut; more > 0 {
			text += " and " + strconv.Itoa(more) + " more"
		}
		w.Warnf(t.at, "left-out", "not taken over from %s, since it holds on no variant here: %s", t.from, text).Hint =
			`say what it is like by year and market, as "model/2004/eu"; or write here what it has too`
	}
}

// orWord is the first word that was written.
func orWord(a, b word) word {
	if a.tried() {
		return a
	}
	return b
}

// orList is the first list that has something in it.
func orList[T any](a, b []T) []T {
	if len(a) > 0 {
		return a
	}
	return b
}

func movedWords(list []word, at diag.Pos) []word {
	var moved []word
	for _, w := range list {
		moved = append(moved, w.movedTo(at))
	}
	return moved
}

func movedReadings(list []rawReading, at diag.Pos) []rawReading {
	var moved []rawReading
	for _, r := range list {
		moved = append(moved, rawReading{at: at, value: r.value.movedTo(at), by: r.by.movedTo(at),
			source: movedWords(r.source, at)})
	}
	return moved
}

// loose are scopes as another model has them.
func loose(scopes []rawScope) []rawScope {
	list := slices.Clone(scopes)
	for i := range list {
		list[i].loose = true
	}
	return list
}

// reportLacks reports the keys that an item must have and has not, here or from
// what the model is like.
func reportLacks(m *rawModel, probs *diag.List) {
	report := func(at diag.Pos, is string, owes []string, given map[string]bool) {
		lacks := slices.DeleteFunc(slices.Clone(owes), func(key string) bool { return given[strings.Trim(key, `"`)] })
		if len(lacks) > 0 {
			probs.Errorf(at, "missing-key", "%s lacks %s", is, strings.Join(lacks, " and "))
		}
	}
	for _, a := range m.assemblies {
		for _, p := range a.item.positions {
			report(p.item.at, "a position", p.item.owes, map[string]bool{"kind": p.item.kind.tried()})
		}
	}
	for _, j := range m.joints {
		report(j.item.at, "a joint", j.item.owes, map[string]bool{"a": j.item.a.tried(), "b": j.item.b.tried()})
	}
	for _, r := range m.runs {
		report(r.item.at, "a run", r.item.owes, map[string]bool{"line": r.item.line.tried(), "from": r.item.from.tried(),
			"to": r.item.to.tried()})
	}
	for _, c := range m.circuits {
		report(c.item.at, "a circuit", c.item.owes, map[string]bool{"carries": c.item.carries.tried(),
			"feeds": len(c.item.feeds) > 0, "fed": len(c.item.fed) > 0})
	}
	for _, s := range m.stacks {
		report(s.item.at, "a stack", s.item.owes, map[string]bool{"within": s.item.within.tried(),
			"row": len(s.item.row) > 0})
	}
}
