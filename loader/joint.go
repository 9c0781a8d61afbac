package loader

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/article"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// rawJoint is a joint as written.
type rawJoint struct {
	at     diag.Pos
	a, b   word
	bolts  []word
	torque []rawReading
	renew  []word
	allow  word
	on     []rawScope
	source []word
	owes   []string
}

func jointForm() form[rawJoint] {
	return owing(mapping("a joint", func(j *rawJoint) *diag.Pos { return &j.at },
		says("assembly/position.feature; must be given, here or in what the model is like", key("a", free().form(),
			func(j *rawJoint) *word { return &j.a })),
		says("assembly/position.feature it meets; must be given, here or in what the model is like", key("b", free().form(),
			func(j *rawJoint) *word { return &j.b })),
		says("positions of its bolts, nuts and washers", key("bolts", oneOrMore("positions", free().form()),
			func(j *rawJoint) *[]word { return &j.bolts })),
		says("tightening torque with its unit", key("torque", readingsForm("readings", measured(measure.Torque)),
			func(j *rawJoint) *[]rawReading { return &j.torque })),
		says("positions to renew when it is opened", key("renew", oneOrMore("positions", free().form()),
			func(j *rawJoint) *[]word { return &j.renew })),
		says("clearance wanted, 0.02-0.30 mm", key("allow", measured(measure.Length).form(),
			func(j *rawJoint) *word { return &j.allow })),
		says("variants that have it; all with both positions when left out", key("on", scopesForm(),
			func(j *rawJoint) *[]rawScope { return &j.on })),
		sourceKey(func(j *rawJoint) *[]word { return &j.source })),
		func(j *rawJoint) *[]string { return &j.owes }, "a", "b")
}

func (j rawJoint) filled(from rawJoint) rawJoint {
	j.a, j.b, j.allow = orWord(j.a, from.a), orWord(j.b, from.b), orWord(j.allow, from.allow)
	j.bolts, j.renew = orList(j.bolts, from.bolts), orList(j.renew, from.renew)
	j.torque, j.on = orList(j.torque, from.torque), orList(j.on, from.on)
	return j
}

func (j rawJoint) bare() rawJoint { j.torque = nil; return j }

func (j rawJoint) movedTo(at diag.Pos) rawJoint {
	return rawJoint{at: at, a: j.a.movedTo(at), b: j.b.movedTo(at), bolts: movedWords(j.bolts, at),
		torque: movedReadings(j.torque, at),
		renew:  movedWords(j.renew, at), allow: j.allow.movedTo(at), on: loose(j.on)}
}

func resolveJoints(w *world) {
	eachModel(w, func(f *dataFile, m *modelInfo, raw *rawModel) {
		for _, j := range raw.joints {
			resolveTaken(w, m, j.taken, "joint", j.name.text, j.item.on, func() { resolveJoint(w, f, m, raw.source, j) })
		}
	})
}

func resolveJoint(w *world, f *dataFile, m *modelInfo, outer []word, raw named[rawJoint]) {
	a, aKnown := feature(w, m, raw.item.a)
	b, bKnown := feature(w, m, raw.item.b)
	j := graph.Joint{ID: graph.JointID(string(m.model.ID) + ":" + raw.name.text), Model: m.model.ID, A: a, B: b,
		Fasteners: positionsOf(w, m, raw.item.bolts), Renew: positionsOf(w, m, raw.item.renew), Allow: raw.item.allow.text,
		Torque: allReadings(w, f, raw.item.torque, raw.item.source, outer), Said: w.cites(f, raw.name.pos, raw.item.source,
			outer)}
	oneValuePerSource(w, j.Torque, measure.Torque, "torque")
	if !aKnown || !bKnown {
		return
	}
	if a == b {
		w.Errorf(raw.item.b.pos, "bad-value", "feature %q meets itself", raw.item.b.text)
		return
	}
	if !meets(w, raw, a, b) {
		return
	}
	j.On = where(w, m, raw.name, raw.item.on, a.Position, b.Position)
	before, known := w.joints.get(j.ID)
	sameEnds := known && (before.A == j.A && before.B == j.B || before.A == j.B && before.B == j.A)
	if known && !sameEnds {
		givenTwice(w, raw.name, "joint", before.Said)
		return
	}
	if !known || w.joints.origin(j.ID).base {
		w.joints.put(j.ID, j, origin{pos: raw.name.pos, layer: f.layer})
		return
	}
	sameLayer := w.joints.origin(j.ID).layer == f.layer
	before.Torque = uniteReadings(w, before.Torque, j.Torque, measure.Torque, "torque", sameLayer)
	before.Fasteners, before.Renew, before.On = unite(before.Fasteners, j.Fasteners), unite(before.Renew, j.Renew),
		unite(before.On, j.On)
	before.Allow = cmp.Or(before.Allow, j.Allow)
	before.Said = addCites(before.Said, j.Said)
}

// meets reports a joint of two features that nothing joins, and warns of one
// that no rule judges. Parts of several kinds may sit at one position: it is
// enough that some of them can meet.
func meets(w *world, raw named[rawJoint], a, b graph.FeatureRef) bool {
	kindsA, kindsB := featuresAt(w, a.Position)[a.Feature], featuresAt(w, b.Position)[b.Feature]
	best := graph.CantMeet
	for _, one := range kindsA {
		for _, other := range kindsB {
			best = max(best, graph.HowMeet(one, other))
		}
	}
	switch {
	case best == graph.CanMeet || len(kindsA) == 0 || len(kindsB) == 0 || w.broken || w.cut:
		return true
	case best == graph.NoRule:
		w.Warnf(raw.item.b.pos, "no-rule", "no rule judges a %q against a %q: what changes here is left to compare by hand",
			kindsA[0], kindsB[0])
		return true
	}
	d := w.Errorf(raw.item.b.pos, "cannot-meet", "joint %q joins a %q and a %q, which never meet", raw.name.text,
		kindsA[0], kindsB[0])
	if mates := graph.Meets(kindsA[0]); len(mates) > 0 {
		d.Hint = article.Sprintf("a %q meets %s", kindsA[0], oneOfQuoted(mates))
	}
	d.Related = []diag.Pos{raw.item.a.pos}
	return false
}

// oneOfQuoted and allQuoted list names for a person: "a", "b" or "c", and with
// an and.
func oneOfQuoted(names []string) string { return listed(names, " or ") }
func allQuoted(names []string) string   { return listed(names, " and ") }

func listed(names []string, last string) string {
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = strconv.Quote(n)
	}
	if len(quoted) < 2 {
		return strings.Join(quoted, "")
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + last + quoted[len(quoted)-1]
}

// givenTwice reports a second thing of one name that is not the same thing.
func givenTwice(w *world, name word, what string, first []graph.Cite) {
	d := w.Errorf(name.pos, "duplicate", "%s %q is given twice", what, name.text)
	d.Hint = "give it another name"
	d.Related = places(first)
}

// unite is both sorted lists as one, sorted.
func unite[K cmp.Ordered](a, b []K) []K {
	return slices.Compact(slices.Sorted(slices.Values(append(slices.Clip(a), b...))))
}

// where gives the variants that have all the positions and lie in the scopes.
func where(w *world, m *modelInfo, name word, scopes []rawScope, positions ...graph.PositionID) []graph.VariantID {
	on, _ := covered(w, m, scopes)
	if len(on) == 0 {
		return nil
	}
	for _, id := range positions {
		if p, ok := w.positions.get(id); ok {
			on = both(on, p.on)
		}
	}
	if len(on) == 0 && !w.broken && !m.damaged {
		w.Errorf(name.pos, "covers-nothing", "no variant has all the positions that %q joins", name.text)
	}
	return on
}

// feature looks up "assembly/position.feature". That some part there has such a
// feature is checked too.
func feature(w *world, m *modelInfo, ref word, kinds ...string) (graph.FeatureRef, bool) {
	if !ref.given() {
		return graph.FeatureRef{}, false
	}
	dot := strings.LastIndexByte(ref.text, '.')
	if dot < 0 {
		w.Errorf(ref.pos, "bad-value", "%q names no feature", ref.text).Hint = `write "assembly/position.feature"`
		return graph.FeatureRef{}, false
	}
	id, known := position(w, m, word{ref.text[:dot], ref.pos})
	if !known {
		return graph.FeatureRef{}, false
	}
	found := graph.FeatureRef{Position: id, Feature: ref.text[dot+1:]}
	at := ref.pos
	at.Col += dot + 1
	here := featuresAt(w, id)
	have, some := here[found.Feature]
	switch {
	case !some && !w.broken && !w.cut:
		d := w.Errorf(at, "joint-without-feature", "no part at %q has a feature %q", id.Local(), found.Feature)
		d.Hint = nearOrList(found.Feature, slices.Sorted(maps.Keys(here)))
		d.Related = placesOf(w, id)
		return found, false
	case some && len(kinds) > 0 && !overlap(have, kinds):
		w.Errorf(at, "wrong-feature-kind", "feature %q is a %q; a %q is wanted here", found.Feature, strings.Join(have,
			`" or "`), strings.Join(kinds, `" or "`))
		return found, false
	}
	return found, true
}

// featuresAt gives the features that parts at a position have, with their
// kinds: those of the kind the position is for, and of parts that fit there.
func featuresAt(w *world, id graph.PositionID) map[string][]string {
	if w.featureCache == nil || w.featuresCached != id.Model() {
		w.featureCache, w.featuresCached = map[graph.PositionID]map[string][]string{}, id.Model()
	}
	if known, ok := w.featureCache[id]; ok {
		return known
	}
	found := map[string][]string{}
	add := func(name, kind string) {
		if !slices.Contains(found[name], kind) {
			found[name] = append(found[name], kind)
		}
	}
	addKind := func(kind graph.KindID) {
		if k, ok := w.kinds.get(kind); ok {
			for _, f := range k.Features {
				add(f.Name, f.Kind)
			}
		}
	}
	if p, ok := w.positions.get(id); ok {
		addKind(p.kind)
	}
	for _, part := range w.fittedAt[id] {
		d, _ := w.parts.get(part)
		addKind(d.kind())
		for name, f := range d.features {
			add(name, f.kind.Name)
		}
		if d.base != nil {
			for _, f := range d.base.Features {
				add(f.Name, f.Kind)
			}
		}
	}
	w.featureCache[id] = found
	return found
}
