package loader

import (
	"maps"
	"slices"
	"strings"

	"matewell/graph"
)

// refs are the names that files mention, to ask the base for in one go.
type refs struct {
	sources   map[graph.SourceID]bool
	kinds     map[graph.KindID]bool
	models    map[graph.ModelID]bool
	positions map[graph.PositionID]bool
	parts     map[string]bool // as written
	bikes     map[graph.BikeID]bool
	findings  map[graph.FindingID]bool
	// whole are the models of which a file gives a piece: all of the model is
	// needed to check it.
	whole map[graph.ModelID]bool
}

func collectRefs(files []*dataFile) *refs {
	r := &refs{map[graph.SourceID]bool{}, map[graph.KindID]bool{}, map[graph.ModelID]bool{}, map[graph.PositionID]bool{},
		map[string]bool{}, map[graph.BikeID]bool{}, map[graph.FindingID]bool{}, map[graph.ModelID]bool{}}
	for _, f := range files {
		r.source(f.source...)
		for _, s := range f.sources {
			r.source(s.name, s.item.origin)
		}
		for _, k := range f.kinds {
			r.kinds[graph.KindID(k.name.text)] = true
			r.source(k.item.source...)
		}
		for _, b := range f.brands {
			r.source(b.item.source...)
		}
		for i := range f.models {
			r.model(&f.models[i])
		}
		for i := range f.parts {
			r.part(&f.parts[i])
		}
		r.lists(f)
		for i := range f.findings {
			r.finding(&f.findings[i])
		}
		for i := range f.withdrawals {
			r.findings[graph.FindingID(f.withdrawals[i].finding.text)] = true
		}
		for i := range f.bikes {
			r.bike(&f.bikes[i])
		}
		for i := range f.jobs {
			r.job(&f.jobs[i].item)
		}
		for i := range f.offers {
			r.offer(&f.offers[i])
		}
	}
	return r
}

// sorted gives the names of a set.
func sorted[K ~string](set map[K]bool) []K {
	delete(set, "")
	return slices.Sorted(maps.Keys(set))
}

func (r *refs) source(words ...word) {
	for _, w := range words {
		r.sources[graph.SourceID(w.text)] = true
	}
}

func (r *refs) readings(lists ...[]rawReading) {
	for _, l := range lists {
		for _, reading := range l {
			r.source(reading.source...)
		}
	}
}

func (r *refs) model(m *named[rawModel]) {
	id := graph.ModelID(m.name.text)
	r.models[id], r.whole[id] = true, true
	r.source(m.item.source...)
	for _, v := range m.item.variants {
		r.source(v.source...)
	}
	for _, a := range m.item.assemblies {
		r.source(a.item.source...)
		for _, p := range a.item.positions {
			r.kinds[graph.KindID(p.item.kind.text)] = true
			r.source(p.item.source...)
			for _, c := range p.item.takes {
				r.readings(c.amount)
			}
		}
	}
	for _, j := range m.item.joints {
		r.source(j.item.source...)
		r.readings(j.item.torque)
	}
	for _, run := range m.item.runs {
		r.source(run.item.source...)
		r.readings(run.item.inner, run.item.spare)
		r.readings(run.item.needs.readings[:]...)
	}
	for _, c := range m.item.circuits {
		r.source(c.item.source...)
		r.readings(c.item.fill)
	}
	for _, s := range m.item.stacks {
		r.source(s.item.source...)
	}
}

func (r *refs) part(p *rawPart) {
	r.parts[p.number.text] = true
	r.kinds[graph.KindID(p.kind.text)] = true
	r.source(p.source...)
	r.readings(p.price)
	for _, f := range p.features {
		r.source(f.item.source...)
		for _, d := range f.item.dims {
			r.readings(d.item)
		}
	}
	for _, c := range p.contains {
		r.parts[c.part.text] = true
	}
}

func (r *refs) lists(f *dataFile) {
	for i := range f.fasteners {
		row := &f.fasteners[i]
		r.parts[row.part.text], r.kinds[graph.KindID(row.kind.text)] = true, true
		r.source(row.source...)
	}
	for i := range f.fitments {
		row := &f.fitments[i]
		r.models[graph.ModelID(row.model.text)], r.parts[row.part.text] = true, true
		r.position(row.model.text, row.position.text)
		r.source(row.source...)
	}
	for i := range f.supersessions {
		row := &f.supersessions[i]
		r.parts[row.old.text], r.parts[row.new.text] = true, true
		for _, c := range row.companions {
			r.parts[c.part.text] = true
		}
		r.source(row.source...)
	}
}

// position notes a position as written, within a model or with its own.
func (r *refs) position(model, text string) {
	if i := strings.IndexAny(text, ": "); i >= 0 {
		model, text = text[:i], strings.TrimLeft(text[i:], ": ")
	}
	if model != "" && text != "" {
		r.models[graph.ModelID(model)] = true
		r.positions[graph.PositionID(model+":"+text)] = true
	}
}

func (r *refs) variant(text string) {
	model, _, _ := strings.Cut(text, "/")
	r.models[graph.ModelID(model)] = true
}

func (r *refs) finding(f *rawFinding) {
	r.findings[graph.FindingID(f.id.text)] = true
	r.parts[f.part.text] = true
	r.position("", f.position.text)
	for _, on := range f.on {
		r.variant(on.variant.text)
		r.bikes[graph.BikeID(on.bike.text)] = true
	}
	for _, c := range f.changes {
		r.parts[c.part.text] = true
	}
	r.source(f.source)
}

func (r *refs) job(j *rawJob) {
	for _, m := range j.models {
		r.models[graph.ModelID(m.text)] = true
		for _, place := range j.places {
			r.position(m.text, place.text)
		}
	}
	for _, k := range j.kinds {
		r.kinds[graph.KindID(k.text)] = true
	}
	r.source(j.source...)
	for _, list := range [][]rawJobPart{j.kits, j.parts} {
		for _, p := range list {
			r.parts[p.part.text] = true
			r.source(p.source...)
			for _, k := range slices.Concat(p.kinds, p.of) {
				r.kinds[graph.KindID(k.text)] = true
			}
		}
	}
	for _, f := range j.fill {
		r.source(f.source...)
	}
	for _, l := range j.look {
		r.source(l.source...)
	}
	for _, list := range [][]rawJobLine{j.steps, j.checks, j.cautions} {
		for _, l := range list {
			r.source(l.source...)
		}
	}
}

func (r *refs) offer(o *named[rawOffer]) {
	r.variant(o.item.variant.text)
	for _, p := range o.item.parts {
		r.parts[p.part.text] = true
	}
}

func (r *refs) bike(b *named[rawBike]) {
	r.bikes[graph.BikeID(b.name.text)] = true
	r.variant(b.item.variant.text)
	model, _, _ := strings.Cut(b.item.variant.text, "/")
	for _, moved := range b.item.moved {
		r.position(model, moved.name.text)
		r.position(model, moved.item.on.text)
	}
	for _, list := range [][]named[rawFitted]{b.item.found, b.item.planned} {
		for _, fitted := range list {
			r.position(model, fitted.name.text)
			if part := fitted.item.part.text; part != missingPart && part != asBuiltPart {
				r.parts[fitted.item.part.text] = true
			}
		}
	}
	for _, box := range b.item.boxes {
		for _, item := range box.item {
			r.parts[item.part.text] = true
		}
	}
	for _, bag := range b.item.bags {
		for _, item := range bag.item.contents {
			r.kinds[graph.KindID(item.kind.text)] = true
		}
	}
}
