package store

import (
	"github.com/cayleygraph/quad"
	"maps"
	"slices"

	"matewell/graph"
)

func bikeCodec() codec[graph.BikeID, graph.Bike] {
	return codec[graph.BikeID, graph.Bike]{
		class: classBike,
		name:  "bike", every: true,
		list:  func(f *graph.Facts) *[]graph.Bike { return &f.Bikes },
		merge: mergeBikes,
		id:    func(v graph.Bike) graph.BikeID { return v.ID },
		write: writeBike,
		read:  readBike,
	}
}

// writeBike labels a bike by itself: its owner is the one who says so.
func writeBike(s *sheet, v graph.Bike) {
	p := s.aboutItself(iri(v.ID), classBike, iri(v.ID), v.Pos)
	link(p, termVariant, v.Variant)
	p.text(termFrame, v.Frame)
	p.text(termScheme, v.Scheme)
	p.yes(termApart, v.Apart)
	for _, n := range v.Assemblies {
		part := p.part(termAssemblyNote, lastStep(termAssemblyNote), string(n.Assembly))
		link(part, termAssembly, n.Assembly)
		part.yes(termAsBuilt, n.AsBuilt)
		part.text(termNote, n.Note)
		part.place(termAt, n.Pos)
	}
	writeFitted(p, termFound, v.Found)
	writeFitted(p, termPlanned, v.Planned)
	writeMoved(p, v.Moved)
	p.parts(termBoxes, len(v.Boxes), func(part page, i int) { writeBox(part, v.Boxes[i]) })
	p.parts(termBags, len(v.Bags), func(part page, i int) { writeBag(part, v.Bags[i]) })
	p.text(termNote, v.Note)
}

func readBike(r *record) graph.Bike {
	v := graph.Bike{
		ID:      self[graph.BikeID](r),
		Variant: linked[graph.VariantID](r, termVariant),
		Frame:   r.text(termFrame),
		Scheme:  r.text(termScheme),
		Apart:   r.yes(termApart),
		Found:   readFitted(r, termFound),
		Planned: readFitted(r, termPlanned),
		Moved:   readMoved(r),
		Note:    r.text(termNote),
		Pos:     r.place(termAt),
	}
	for _, n := range r.keyed(termAssemblyNote) {
		v.Assemblies = append(v.Assemblies, graph.AssemblyNote{Assembly: linked[graph.AssemblyID](n, termAssembly),
			AsBuilt: n.yes(termAsBuilt), Note: n.text(termNote), Pos: n.place(termAt)})
	}
	v.Assemblies = sortedBy(v.Assemblies, func(n graph.AssemblyNote) graph.AssemblyID { return n.Assembly })
	for _, box := range r.ordered(termBoxes) {
		v.Boxes = append(v.Boxes, readBox(box))
	}
	for _, bag := range r.ordered(termBags) {
		v.Bags = append(v.Bags, readBag(bag))
	}
	return v
}

// writeFitted writes parts by position: an upper layer replaces what a lower one
// has at the same position.
func writeFitted(p page, predicate quad.IRI, list []graph.Fitted) {
	for _, f := range list {
		part := p.part(predicate, lastStep(predicate), string(f.Position))
		link(part, termPosition, f.Position)
		link(part, termPart, f.Part)
		part.yes(termAsBuilt, f.AsBuilt)
		writeSpecimen(part, f.Specimen)
		part.text(termNote, f.Note)
		part.place(termAt, f.Pos)
	}
}

func writeSpecimen(p page, s graph.Specimen) {
	p.text(termCondition, s.Condition)
	writeMeasured(p, s.Measured)
}

func readSpecimen(r *record) graph.Specimen {
	return graph.Specimen{Condition: r.text(termCondition), Measured: readMeasured(r)}
}

func writeMoved(p page, list []graph.Moved) {
	for _, m := range list {
		part := p.part(termMoved, lastStep(termMoved), string(m.Position))
		link(part, termPosition, m.Position)
		link(part, termCarriedBy, m.On)
		part.yes(termNothingCarries, m.Nothing)
		part.text(termUp, m.Up)
		part.text(termForward, m.Forward)
		part.text(termLeft, m.Left)
		part.text(termAbove, m.Above)
		part.text(termNote, m.Note)
		part.place(termAt, m.Pos)
	}
}

func readMoved(r *record) []graph.Moved {
	var list []graph.Moved
	for _, m := range r.keyed(termMoved) {
		list = append(list, graph.Moved{Position: linked[graph.PositionID](m, termPosition),
			On: linked[graph.PositionID](m, termCarriedBy), Nothing: m.yes(termNothingCarries), Up: m.text(termUp),
			Forward: m.text(termForward), Left: m.text(termLeft), Above: m.text(termAbove), Note: m.text(termNote),
			Pos: m.place(termAt)})
	}
	return sortedBy(list, func(m graph.Moved) graph.PositionID { return m.Position })
}

func readFitted(r *record, predicate quad.IRI) []graph.Fitted {
	var list []graph.Fitted
	for _, f := range r.keyed(predicate) {
		list = append(list, graph.Fitted{Position: linked[graph.PositionID](f, termPosition),
			Part: linked[graph.PartID](f, termPart), AsBuilt: f.yes(termAsBuilt), Specimen: readSpecimen(f),
			Note: f.text(termNote), Pos: f.place(termAt)})
	}
	return sortedBy(list, func(f graph.Fitted) graph.PositionID { return f.Position })
}

func writeBox(p page, v graph.Box) {
	p.text(termName, v.Name)
	p.place(termAt, v.Pos)
	p.parts(termItems, len(v.Items), func(part page, i int) {
		link(part, termPart, v.Items[i].Part)
		part.number(termQuantity, v.Items[i].Quantity)
		part.text(termSure, v.Items[i].Sure)
		writeSpecimen(part, v.Items[i].Specimen)
		part.text(termNote, v.Items[i].Note)
		part.place(termAt, v.Items[i].Pos)
	})
}

func readBox(r *record) graph.Box {
	v := graph.Box{Name: r.text(termName), Pos: r.place(termAt)}
	for _, item := range r.ordered(termItems) {
		v.Items = append(v.Items, graph.BoxItem{Part: linked[graph.PartID](item, termPart),
			Quantity: item.number(termQuantity), Sure: item.text(termSure), Specimen: readSpecimen(item),
			Note: item.text(termNote), Pos: item.place(termAt)})
	}
	return v
}

func writeBag(p page, v graph.Bag) {
	p.text(termName, v.Name)
	p.text(termLabel, v.Label)
	p.place(termAt, v.Pos)
	p.parts(termItems, len(v.Contents), func(part page, i int) {
		item := v.Contents[i]
		link(part, termKind, item.Kind)
		for _, name := range slices.Sorted(maps.Keys(item.Dims)) {
			part.fact(under(termDim, name), quad.String(item.Dims[name]))
		}
		part.number(termQuantity, item.Quantity)
		part.place(termAt, item.Pos)
	})
}

func readBag(r *record) graph.Bag {
	v := graph.Bag{Name: r.text(termName), Label: r.text(termLabel), Pos: r.place(termAt)}
	for _, item := range r.ordered(termItems) {
		content := graph.BagItem{Kind: linked[graph.KindID](item, termKind),
			Quantity: item.number(termQuantity), Pos: item.place(termAt)}
		for name, list := range quantities(item, termDim) {
			if content.Dims == nil {
				content.Dims = map[string]string{}
			}
			content.Dims[unescape(name)] = list[0].Text
		}
		v.Contents = append(v.Contents, content)
	}
	return v
}
