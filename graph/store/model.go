package store

import (
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

func modelCodec() codec[graph.ModelID, graph.Model] {
	return codec[graph.ModelID, graph.Model]{
		class: classModel,
		name:  "model", every: true,
		list:  func(f *graph.Facts) *[]graph.Model { return &f.Models },
		merge: mergeModels,
		id:    func(v graph.Model) graph.ModelID { return v.ID },
		write: func(s *sheet, v graph.Model) {
			p := s.about(iri(v.ID), classModel, v.Said)
			link(p, termMaker, v.Maker)
			p.text(termName, v.Name)
		},
		read: func(r *record) graph.Model {
			return graph.Model{ID: self[graph.ModelID](r), Maker: linked[graph.BrandID](r, termMaker),
				Name: r.text(termName), Said: r.said()}
		},
	}
}

func variantCodec() codec[graph.VariantID, graph.Variant] {
	return codec[graph.VariantID, graph.Variant]{
		class:  classVariant,
		name:   "variant",
		list:   func(f *graph.Facts) *[]graph.Variant { return &f.Variants },
		merge:  mergeVariants,
		homeOf: func(id graph.VariantID) quad.IRI { return iri(id.Model()) },
		edges:  func(v graph.Variant, e *edgesTo) { edge(e, edgeVariantOf, v.Model) },
		id:     func(v graph.Variant) graph.VariantID { return v.ID },
		write:  writeVariant,
		read:   readVariant,
	}
}

func writeVariant(s *sheet, v graph.Variant) {
	p := s.about(iri(v.ID), classVariant, v.Said)
	link(p, termVariantOf, v.Model)
	p.number(termYear, v.Year)
	p.text(termMarket, v.Market)
	p.text(termMark, v.Mark)
	writeFrames(p, v.Frames)
	p.texts(termScheme, v.Schemes)
}

func readVariant(r *record) graph.Variant {
	return graph.Variant{
		ID:      self[graph.VariantID](r),
		Model:   linked[graph.ModelID](r, termVariantOf),
		Year:    r.number(termYear),
		Market:  r.text(termMarket),
		Mark:    r.text(termMark),
		Frames:  readFrames(r),
		Schemes: r.texts(termScheme),
		Said:    r.said(),
	}
}

func assemblyCodec() codec[graph.AssemblyID, graph.Assembly] {
	return codec[graph.AssemblyID, graph.Assembly]{
		class:  classAssembly,
		name:   "assembly",
		list:   func(f *graph.Facts) *[]graph.Assembly { return &f.Assemblies },
		merge:  mergeAssemblies,
		homeOf: func(id graph.AssemblyID) quad.IRI { return modelBefore(id) },
		edges:  func(v graph.Assembly, e *edgesTo) { edge(e, edgeAssemblyOf, v.Model) },
		id:     func(v graph.Assembly) graph.AssemblyID { return v.ID },
		write: func(s *sheet, v graph.Assembly) {
			p := s.about(iri(v.ID), classAssembly, v.Said)
			link(p, termModel, v.Model)
			p.text(termName, v.Name)
		},
		read: func(r *record) graph.Assembly {
			return graph.Assembly{ID: self[graph.AssemblyID](r), Model: linked[graph.ModelID](r, termModel),
				Name: r.text(termName), Said: r.said()}
		},
	}
}

func positionCodec() codec[graph.PositionID, graph.Position] {
	return codec[graph.PositionID, graph.Position]{
		class:  classPosition,
		name:   "position",
		list:   func(f *graph.Facts) *[]graph.Position { return &f.Positions },
		merge:  mergePositions,
		homeOf: func(id graph.PositionID) quad.IRI { return iri(id.Assembly()) },
		edges: func(v graph.Position, e *edgesTo) {
			edge(e, edgePositionIn, v.Assembly)
			edge(e, edgePositionOf, v.Model)
		},
		id:    func(v graph.Position) graph.PositionID { return v.ID },
		write: writePosition,
		read:  readPosition,
	}
}

func writePosition(s *sheet, v graph.Position) {
	p := s.about(iri(v.ID), classPosition, v.Said)
	link(p, termAssembly, v.Assembly)
	link(p, termModel, v.Model)
	p.text(termName, v.Name)
	link(p, termKind, v.Kind)
	p.text(termSide, v.Side)
	p.number(termIndex, v.Index)
	p.number(termQuantity, v.Quantity)
	p.text(termSafety, string(v.Safety))
	p.yes(termRenewed, v.Renew)
	p.texts(termRoad, v.Road)
	link(p, termAfter, v.After...)
	p.parts(termTakes, len(v.Takes), func(part page, i int) {
		part.text(termWhat, v.Takes[i].What)
		part.text(termGrade, v.Takes[i].Grade)
		part.readings(termHowMuch, v.Takes[i].Amount)
	})
	link(p, termOn, v.On...)
}

func readPosition(r *record) graph.Position {
	v := graph.Position{
		ID:       self[graph.PositionID](r),
		Assembly: linked[graph.AssemblyID](r, termAssembly),
		Model:    linked[graph.ModelID](r, termModel),
		Name:     r.text(termName),
		Kind:     linked[graph.KindID](r, termKind),
		Side:     r.text(termSide),
		Index:    r.number(termIndex),
		Quantity: r.number(termQuantity),
		Safety:   graph.Safety(r.text(termSafety)),
		Renew:    r.yes(termRenewed),
		Road:     r.texts(termRoad),
		After:    links[graph.PositionID](r, termAfter),
		On:       links[graph.VariantID](r, termOn),
		Said:     r.said(),
	}
	for _, c := range r.ordered(termTakes) {
		v.Takes = append(v.Takes, graph.Consumable{What: c.text(termWhat), Grade: c.text(termGrade),
			Amount: readings(c, termHowMuch)})
	}
	return v
}

func fitmentCodec() codec[graph.FitmentID, graph.Fitment] {
	return codec[graph.FitmentID, graph.Fitment]{
		class: classFitment,
		name:  "fitment", loose: true,
		list:  func(f *graph.Facts) *[]graph.Fitment { return &f.Fitments },
		merge: mergeFitments,
		home:  func(v graph.Fitment) quad.IRI { return iri(v.Part) },
		edges: func(v graph.Fitment, e *edgesTo) { edge(e, edgeFitmentOf, v.Part) },
		id:    func(v graph.Fitment) graph.FitmentID { return v.ID },
		write: writeFitment,
		read:  readFitment,
	}
}

// fitmentInCodec keeps fitments a second time, at the assembly they sit in.
func fitmentInCodec() codec[graph.FitmentID, graph.Fitment] {
	c := fitmentCodec()
	c.name = "fitment-in"
	c.home = func(v graph.Fitment) quad.IRI { return iri(v.Position.Assembly()) }
	c.edges = func(v graph.Fitment, e *edgesTo) {
		edge(e, edgeFitmentIn, v.Position.Assembly())
		for _, on := range v.On {
			edge(e, edgeFitmentOn, on.Model())
		}
	}
	return c
}

// modelBefore is the node of the model that an identity begins with.
func modelBefore[T ~string](id T) quad.IRI {
	model, _, _ := strings.Cut(string(id), ":")
	return iri(graph.ModelID(model))
}

func writeFitment(s *sheet, v graph.Fitment) {
	p := s.about(iri(v.ID), classFitment, v.Said)
	link(p, termPosition, v.Position)
	link(p, termPart, v.Part)
	p.number(termQuantity, v.Quantity)
	link(p, termOn, v.On...)
	p.text(termScheme, v.Scheme)
	p.text(termNote, v.Note)
	if model := v.Position.Model(); v.Part != "" && model != "" {
		p.deriveAbout(iri(v.Part), termPartFor, iri(model))
	}
}

func readFitment(r *record) graph.Fitment {
	return graph.Fitment{
		ID:       self[graph.FitmentID](r),
		Position: linked[graph.PositionID](r, termPosition),
		Part:     linked[graph.PartID](r, termPart),
		Quantity: r.number(termQuantity),
		On:       links[graph.VariantID](r, termOn),
		Scheme:   r.text(termScheme),
		Note:     r.text(termNote),
		Said:     r.said(),
	}
}
