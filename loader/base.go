package loader

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
)

// baseGraph reads what the layers mention out of the graph below them: few
// reads, each for many identities. The first failure is kept and ends it.
type baseGraph struct {
	ctx    context.Context
	reader graph.Reader
	err    error
}

// ask reads one batch. With no identity nothing is read, since some methods of
// the Reader take that for all.
func ask[K, V any](b *baseGraph, read func(context.Context, ...K) ([]V, error), ids []K) []V {
	if b == nil || b.err != nil || len(ids) == 0 {
		return nil
	}
	found, err := read(b.ctx, ids...)
	b.fail(err)
	return found
}

// all reads everything of a sort.
func all[K, V any](b *baseGraph, read func(context.Context, ...K) ([]V, error)) []V {
	if b == nil || b.err != nil {
		return nil
	}
	found, err := read(b.ctx)
	b.fail(err)
	return found
}

func (b *baseGraph) fail(err error) {
	if err != nil && b.err == nil {
		b.err = fmt.Errorf("loader: read the graph below: %w", err)
	}
}

// basePlace is the origin of something that the base holds.
func basePlace(said []graph.Cite) origin {
	o := origin{base: true}
	if at := places(said); len(at) > 0 {
		o.pos = at[0]
	}
	return o
}

// nearNames tells registries where more names are, for hints.
func nearNames[K ~string, V, V2 any](b *baseGraph, r *registry[K, V], read func(context.Context, ...K) ([]V2, error),
	id func(V2) K) {
	r.more = func() []string {
		var names []string
		for _, v := range all(b, read) {
			names = append(names, string(id(v)))
		}
		return names
	}
}

// fetchDefinitions reads sources, brands and kinds, before the layers' own are
// resolved.
func fetchDefinitions(w *world) {
	b := w.base
	if b == nil {
		return
	}
	w.refs = collectRefs(w.files)
	for _, s := range ask(b, b.reader.Sources, sorted(w.refs.sources)) {
		w.sources.put(s.ID, s, origin{pos: s.Pos, base: true})
	}
	for _, brand := range all(b, b.reader.Brands) {
		w.brands.put(brand.ID, brand, basePlace(brand.Said))
	}
	fetchKinds(w, sorted(w.refs.kinds))
	nearNames(b, &w.sources, b.reader.Sources, func(s graph.Source) graph.SourceID { return s.ID })
	nearNames(b, &w.kinds, b.reader.Kinds, func(k graph.Kind) graph.KindID { return k.ID })
	nearNames(b, &w.bikes, b.reader.Bikes, func(k graph.Bike) graph.BikeID { return k.ID })
	nearNames(b, &w.models, b.reader.Models, func(m graph.Model) graph.ModelID { return m.ID })
	w.parts.more = func() []string {
		ids, err := b.reader.PartIDs(b.ctx)
		b.fail(err)
		return idTexts(ids)
	}
}

func fetchKinds(w *world, ids []graph.KindID) {
	missing := slices.DeleteFunc(ids, func(id graph.KindID) bool { _, known := w.kinds.get(id); return known })
	for _, k := range ask(w.base, w.base.reader.Kinds, missing) {
		w.kinds.put(k.ID, k, basePlace(k.Said))
	}
	fetchStandard(w, missing)
}

// fetchRest reads models, positions, parts, findings and bikes, when the number
// forms of the brands are known.
func fetchRest(w *world) {
	b := w.base
	if b == nil {
		return
	}
	for _, bike := range ask(b, b.reader.Bikes, sorted(w.refs.bikes)) {
		w.bikes.put(bike.ID, bike, origin{pos: bike.Pos, base: true})
		w.refs.models[bike.Variant.Model()] = true
	}
	for _, f := range ask(b, b.reader.Findings, sorted(w.refs.findings)) {
		w.findings.put(f.ID, f, origin{pos: f.Pos, base: true})
	}
	fetchModels(w)
	fetchParts(w, writtenParts(w))
	fetchKits(w)
	fetchSupersessions(w)
	var kinds []graph.KindID
	for _, id := range w.parts.keys() {
		d, _ := w.parts.get(id)
		kinds = append(kinds, d.kind())
	}
	for _, id := range w.positions.keys() {
		p, _ := w.positions.get(id)
		kinds = append(kinds, p.kind)
	}
	slices.Sort(kinds)
	fetchKinds(w, slices.Compact(kinds))
}

// fetchStandard takes the kinds that neither the base nor a layer has from the
// standard set, with the jobs on them. That set is read only then, since most layers
// need none.
func fetchStandard(w *world, ids []graph.KindID) {
	lacks := func(id graph.KindID) bool { _, known := w.kinds.get(id); return !known }
	if w.base.err != nil || !slices.ContainsFunc(ids, lacks) {
		return
	}
	set, err := StandardSet(w.base.ctx)
	w.base.fail(err)
	for _, k := range set.Kinds {
		if slices.Contains(ids, k.ID) && lacks(k.ID) {
			w.kinds.put(k.ID, k, origin{layer: -1})
		}
	}
	for _, j := range set.Jobs {
		fetched := func(id graph.KindID) bool { return w.kinds.origin(id).layer == -1 }
		if _, known := w.jobs.get(j.ID); !known && slices.ContainsFunc(j.Kinds, fetched) {
			w.jobs.put(j.ID, j, origin{layer: -1})
		}
	}
	for _, s := range set.Sources {
		if _, known := w.sources.get(s.ID); !known {
			w.sources.put(s.ID, s, origin{pos: s.Pos, layer: -1})
			w.usedSources[s.ID] = true
		}
	}
}

func fetchModels(w *world) {
	b := w.base
	ids := sorted(w.refs.models)
	for _, m := range ask(b, b.reader.Models, ids) {
		w.models.put(m.ID, modelInfo{model: m, from: map[graph.VariantID]origin{}}, basePlace(m.Said))
	}
	for _, v := range ask(b, b.reader.VariantsOf, ids) {
		if m, known := w.models.get(v.Model); known {
			m.variants = append(m.variants, v)
			m.from[v.ID] = basePlace(v.Said)
		}
	}
	whole := sorted(w.refs.whole)
	for _, a := range ask(b, b.reader.AssembliesOf, whole) {
		if m, known := w.models.get(a.Model); known {
			m.assemblies.put(a.ID, a, basePlace(a.Said))
		}
	}
	positions := append(ask(b, b.reader.Positions, sorted(w.refs.positions)), ask(b, b.reader.PositionsOf, whole)...)
	for _, p := range positions {
		w.positions.put(p.ID, placeFor(p), basePlace(p.Said))
	}
	fetchPlaces(w, whole, positions)
}

// fetchPlaces reads joints, runs, circuits and stacks of the models that the
// layers add to, and what is fitted at their positions.
func fetchPlaces(w *world, models []graph.ModelID, positions []graph.Position) {
	b := w.base
	for _, j := range ask(b, b.reader.JointsOf, models) {
		w.joints.put(j.ID, j, basePlace(j.Said))
	}
	for _, r := range ask(b, b.reader.RunsOf, models) {
		w.runs.put(r.ID, r, basePlace(r.Said))
	}
	for _, c := range ask(b, b.reader.CircuitsOf, models) {
		w.circuits.put(c.ID, c, basePlace(c.Said))
	}
	for _, s := range ask(b, b.reader.StacksOf, models) {
		w.stacks.put(s.ID, s, basePlace(s.Said))
	}
	if !joinsFeatures(w) {
		return
	}
	var ids []graph.PositionID
	for _, p := range positions {
		ids = append(ids, p.ID)
	}
	var parts []graph.PartID
	for _, f := range ask(b, b.reader.FitmentsAt, ids) {
		w.fittedAt[f.Position] = append(w.fittedAt[f.Position], f.Part)
		parts = append(parts, f.Part)
	}
	fetchParts(w, parts)
}

// joinsFeatures reports whether a layer has a joint, run or stack, for which
// one must know what features the parts at a position have.
func joinsFeatures(w *world) bool {
	for _, f := range w.files {
		for i := range f.models {
			m := &f.models[i].item
			if len(m.joints)+len(m.runs)+len(m.stacks) > 0 {
				return true
			}
		}
	}
	return false
}

// writtenParts are the parts of the base that the layers mention, in whatever
// spelling.
func writtenParts(w *world) []graph.PartID {
	var ids []graph.PartID
	var keys []string
	wanted := map[string]bool{}
	for _, text := range sorted(w.refs.parts) {
		if t := partTextOf(w, text); t.ok() {
			ids = append(ids, t.id)
			keys = append(keys, graph.NumberKey(t.id.Number()))
			wanted[t.key()] = true
		}
	}
	for _, id := range ask(w.base, w.base.reader.PartsByKey, keys) {
		if wanted[keyOf(id)] {
			ids = append(ids, id)
		}
	}
	return ids
}

// keyOf is what all spellings of a part's number share.
func keyOf(id graph.PartID) string { return string(id.Brand()) + " " + graph.NumberKey(id.Number()) }

// fetchParts reads parts that are not known yet and gives those it found.
func fetchParts(w *world, ids []graph.PartID) []graph.Part {
	slices.Sort(ids)
	ids = slices.DeleteFunc(slices.Compact(ids), func(id graph.PartID) bool { _, known := w.parts.get(id); return known })
	found := ask(w.base, w.base.reader.Parts, ids)
	for i := range found {
		p := &found[i]
		at := basePlace(p.Said)
		w.parts.put(p.ID, partDraft{id: p.ID, written: string(p.ID), at: at.pos, base: p}, at)
		w.partKeys[keyOf(p.ID)] = p.ID
	}
	return found
}

// fetchKits reads what is in the kits that the layers mention, kits in kits
// included, when a layer has a kit itself: else no circle can be new.
func fetchKits(w *world) {
	some := false
	for _, f := range w.files {
		for i := range f.parts {
			some = some || len(f.parts[i].contains) > 0
		}
	}
	if !some {
		return
	}
	var inside []graph.PartID
	for _, id := range w.parts.keys() {
		d, _ := w.parts.get(id)
		for _, c := range d.contains() {
			inside = append(inside, c.Part)
		}
	}
	for len(inside) > 0 {
		found := fetchParts(w, inside)
		inside = nil
		for _, p := range found {
			for _, c := range p.Contains {
				inside = append(inside, c.Part)
			}
		}
	}
}

// fetchSupersessions follows the edges of the base from the newer numbers that
// the layers mention, so that a circle through both is found.
func fetchSupersessions(w *world) {
	var next []graph.PartID
	for _, f := range w.files {
		for i := range f.supersessions {
			if t := partTextOf(w, f.supersessions[i].new.text); t.ok() {
				next = append(next, t.id)
			}
		}
	}
	seen := map[graph.PartID]bool{}
	for len(next) > 0 {
		var further []graph.PartID
		for _, s := range ask(w.base, w.base.reader.SupersessionsOf, next) {
			w.supersessions.put(s.ID, s, basePlace(s.Said))
			further = append(further, s.New)
		}
		for _, id := range next {
			seen[id] = true
		}
		next = slices.DeleteFunc(further, func(id graph.PartID) bool { return seen[id] })
	}
}

// nameLocally gathers the local names of all positions, by model, when the first is asked
// for.
func nameLocally(w *world) {
	if w.namedLocally {
		return
	}
	w.namedLocally = true
	for id := range w.positions.items {
		if m, ok := w.models.get(id.Model()); ok {
			m.localNamesOf = append(m.localNamesOf, id.Local())
		}
	}
	for _, item := range w.models.items {
		slices.Sort(item.value.localNamesOf)
	}
}

// localNames are the local names of a model's positions, for hints.
func localNames(w *world, m *modelInfo) []string {
	nameLocally(w)
	if w.base != nil && !w.refs.whole[m.model.ID] && m.localNamesOf == nil {
		for _, p := range ask(w.base, w.base.reader.PositionsOf, []graph.ModelID{m.model.ID}) {
			m.localNamesOf = append(m.localNamesOf, p.ID.Local())
		}
	}
	return m.localNamesOf
}
