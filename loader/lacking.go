package loader

import (
	"context"
	"slices"

	"matewell/graph"
)

// lacking is a graph without what some files said, so that what they say now is
// not held against what they said.
type lacking struct {
	graph.Reader
	sources       map[graph.SourceID]bool
	brands        map[graph.BrandID]bool
	kinds         map[graph.KindID]bool
	models        map[graph.ModelID]bool
	variants      map[graph.VariantID]bool
	assemblies    map[graph.AssemblyID]bool
	positions     map[graph.PositionID]bool
	parts         map[graph.PartID]bool
	fitments      map[graph.FitmentID]bool
	joints        map[graph.JointID]bool
	runs          map[graph.RunID]bool
	circuits      map[graph.CircuitID]bool
	stacks        map[graph.StackID]bool
	supersessions map[graph.SupersessionID]bool
	findings      map[graph.FindingID]bool
	bikes         map[graph.BikeID]bool
}

func newLacking(r graph.Reader, f graph.Facts) *lacking {
	return &lacking{Reader: r,
		sources:       idSet(f.Sources, func(v graph.Source) graph.SourceID { return v.ID }),
		brands:        idSet(f.Brands, func(v graph.Brand) graph.BrandID { return v.ID }),
		kinds:         idSet(f.Kinds, func(v graph.Kind) graph.KindID { return v.ID }),
		models:        idSet(f.Models, func(v graph.Model) graph.ModelID { return v.ID }),
		variants:      idSet(f.Variants, func(v graph.Variant) graph.VariantID { return v.ID }),
		assemblies:    idSet(f.Assemblies, func(v graph.Assembly) graph.AssemblyID { return v.ID }),
		positions:     idSet(f.Positions, func(v graph.Position) graph.PositionID { return v.ID }),
		parts:         idSet(f.Parts, func(v graph.Part) graph.PartID { return v.ID }),
		fitments:      idSet(f.Fitments, func(v graph.Fitment) graph.FitmentID { return v.ID }),
		joints:        idSet(f.Joints, func(v graph.Joint) graph.JointID { return v.ID }),
		runs:          idSet(f.Runs, func(v graph.Run) graph.RunID { return v.ID }),
		circuits:      idSet(f.Circuits, func(v graph.Circuit) graph.CircuitID { return v.ID }),
		stacks:        idSet(f.Stacks, func(v graph.Stack) graph.StackID { return v.ID }),
		supersessions: idSet(f.Supersessions, func(v graph.Supersession) graph.SupersessionID { return v.ID }),
		findings:      idSet(f.Findings, func(v graph.Finding) graph.FindingID { return v.ID }),
		bikes:         idSet(f.Bikes, func(v graph.Bike) graph.BikeID { return v.ID }),
	}
}

func idSet[K comparable, T any](list []T, id func(T) K) map[K]bool {
	set := make(map[K]bool, len(list))
	for _, v := range list {
		set[id(v)] = true
	}
	return set
}

// but leaves out what a set names.
func but[K comparable, T any](list []T, err error, gone map[K]bool, id func(T) K) ([]T, error) {
	return slices.DeleteFunc(list, func(v T) bool { return gone[id(v)] }), err
}

func (l *lacking) Sources(ctx context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	list, err := l.Reader.Sources(ctx, ids...)
	return but(list, err, l.sources, func(v graph.Source) graph.SourceID { return v.ID })
}

func (l *lacking) Brands(ctx context.Context, ids ...graph.BrandID) ([]graph.Brand, error) {
	list, err := l.Reader.Brands(ctx, ids...)
	return but(list, err, l.brands, func(v graph.Brand) graph.BrandID { return v.ID })
}

func (l *lacking) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	list, err := l.Reader.Kinds(ctx, ids...)
	return but(list, err, l.kinds, func(v graph.Kind) graph.KindID { return v.ID })
}

func (l *lacking) Models(ctx context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	list, err := l.Reader.Models(ctx, ids...)
	return but(list, err, l.models, func(v graph.Model) graph.ModelID { return v.ID })
}

func (l *lacking) Findings(ctx context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	list, err := l.Reader.Findings(ctx, ids...)
	return but(list, err, l.findings, func(v graph.Finding) graph.FindingID { return v.ID })
}

func (l *lacking) Bikes(ctx context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	list, err := l.Reader.Bikes(ctx, ids...)
	return but(list, err, l.bikes, func(v graph.Bike) graph.BikeID { return v.ID })
}

func (l *lacking) VariantsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	list, err := l.Reader.VariantsOf(ctx, models...)
	return but(list, err, l.variants, func(v graph.Variant) graph.VariantID { return v.ID })
}

func (l *lacking) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	list, err := l.Reader.AssembliesOf(ctx, models...)
	return but(list, err, l.assemblies, func(v graph.Assembly) graph.AssemblyID { return v.ID })
}

func (l *lacking) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	list, err := l.Reader.Positions(ctx, ids...)
	return but(list, err, l.positions, func(v graph.Position) graph.PositionID { return v.ID })
}

func (l *lacking) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	list, err := l.Reader.PositionsOf(ctx, models...)
	return but(list, err, l.positions, func(v graph.Position) graph.PositionID { return v.ID })
}

func (l *lacking) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	list, err := l.Reader.Parts(ctx, ids...)
	return but(list, err, l.parts, func(v graph.Part) graph.PartID { return v.ID })
}

func (l *lacking) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	list, err := l.Reader.PartsByKey(ctx, keys...)
	return but(list, err, l.parts, func(id graph.PartID) graph.PartID { return id })
}

func (l *lacking) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	list, err := l.Reader.PartIDs(ctx)
	return but(list, err, l.parts, func(id graph.PartID) graph.PartID { return id })
}

func (l *lacking) FitmentsAt(ctx context.Context, at ...graph.PositionID) ([]graph.Fitment, error) {
	list, err := l.Reader.FitmentsAt(ctx, at...)
	return but(list, err, l.fitments, func(v graph.Fitment) graph.FitmentID { return v.ID })
}

func (l *lacking) SupersessionsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	list, err := l.Reader.SupersessionsOf(ctx, parts...)
	return but(list, err, l.supersessions, func(v graph.Supersession) graph.SupersessionID { return v.ID })
}

func (l *lacking) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	list, err := l.Reader.JointsOf(ctx, models...)
	return but(list, err, l.joints, func(v graph.Joint) graph.JointID { return v.ID })
}

func (l *lacking) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	list, err := l.Reader.RunsOf(ctx, models...)
	return but(list, err, l.runs, func(v graph.Run) graph.RunID { return v.ID })
}

func (l *lacking) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	list, err := l.Reader.CircuitsOf(ctx, models...)
	return but(list, err, l.circuits, func(v graph.Circuit) graph.CircuitID { return v.ID })
}

func (l *lacking) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	list, err := l.Reader.StacksOf(ctx, models...)
	return but(list, err, l.stacks, func(v graph.Stack) graph.StackID { return v.ID })
}
