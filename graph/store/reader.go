package store

import (
	"context"
	"slices"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// Sources implements graph.Reader.
func (s *Store) Sources(ctx context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	return named(ctx, s, sourceCodec(), ids)
}

// Brands implements graph.Reader.
func (s *Store) Brands(ctx context.Context, ids ...graph.BrandID) ([]graph.Brand, error) {
	return named(ctx, s, brandCodec(), ids)
}

// Kinds implements graph.Reader.
func (s *Store) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	return named(ctx, s, kindCodec(), ids)
}

// Models implements graph.Reader.
func (s *Store) Models(ctx context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	return named(ctx, s, modelCodec(), ids)
}

// Findings implements graph.Reader.
func (s *Store) Findings(ctx context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	return named(ctx, s, findingCodec(), ids)
}

// Bikes implements graph.Reader.
func (s *Store) Bikes(ctx context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	return named(ctx, s, bikeCodec(), ids)
}

// Variants implements graph.Reader.
func (s *Store) Variants(ctx context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	return fetch(ctx, s, variantCodec(), ids)
}

// Assemblies implements graph.Reader.
func (s *Store) Assemblies(ctx context.Context, ids ...graph.AssemblyID) ([]graph.Assembly, error) {
	return fetch(ctx, s, assemblyCodec(), ids)
}

// Positions implements graph.Reader.
func (s *Store) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	return fetch(ctx, s, positionCodec(), ids)
}

// Parts implements graph.Reader.
func (s *Store) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	return fetch(ctx, s, partCodec(), ids)
}

// VariantsOf implements graph.Reader.
func (s *Store) VariantsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	return pointing(ctx, s, variantCodec(), termVariantOf, iris(models))
}

// VariantIDs implements graph.Reader.
func (s *Store) VariantIDs(ctx context.Context, models ...graph.ModelID) ([]graph.VariantID, error) {
	return pointingIDs[graph.VariantID](ctx, s, termVariantOf, iris(models))
}

// AssembliesOf implements graph.Reader.
func (s *Store) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	return pointing(ctx, s, assemblyCodec(), termModel, iris(models))
}

// PositionsIn implements graph.Reader.
func (s *Store) PositionsIn(ctx context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	return pointing(ctx, s, positionCodec(), termAssembly, iris(assemblies))
}

// PositionsOf implements graph.Reader.
func (s *Store) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	return pointing(ctx, s, positionCodec(), termModel, iris(models))
}

// PartsByKey implements graph.Reader. Besides numbers, cores and aliases, the
// whole identity is a key: brand and number together.
func (s *Store) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	return pointingIDs[graph.PartID](ctx, s, termKey, texts(keys))
}

// PartIDs implements graph.Reader.
func (s *Store) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	return pointingIDs[graph.PartID](ctx, s, rdfType, []quad.Value{classPart})
}

// PartsOfKind implements graph.Reader.
func (s *Store) PartsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	return pointingIDs[graph.PartID](ctx, s, termKind, iris(kinds))
}

// PositionsOfKind implements graph.Reader.
func (s *Store) PositionsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	return pointingIDs[graph.PositionID](ctx, s, termKind, iris(kinds))
}

// KindsWith implements graph.Reader.
func (s *Store) KindsWith(ctx context.Context, featureKinds ...string) ([]graph.KindID, error) {
	objects := make([]featureKindID, len(featureKinds))
	for i, name := range featureKinds {
		objects[i] = featureKindID(name)
	}
	return pointingIDs[graph.KindID](ctx, s, termOffers, iris(objects))
}

// KitsWith implements graph.Reader.
func (s *Store) KitsWith(ctx context.Context, parts ...graph.PartID) ([]graph.PartID, error) {
	return pointingIDs[graph.PartID](ctx, s, termContains, iris(parts))
}

// FitmentsOf implements graph.Reader.
func (s *Store) FitmentsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	return pointing(ctx, s, fitmentCodec(), termPart, iris(parts))
}

// FitmentsAt implements graph.Reader.
func (s *Store) FitmentsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	return pointing(ctx, s, fitmentCodec(), termPosition, iris(positions))
}

// FitmentsOn implements graph.Reader.
func (s *Store) FitmentsOn(ctx context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	ids, err := s.fitmentsOn(ctx, variants)
	if err != nil {
		return nil, err
	}
	return fetch(ctx, s, fitmentCodec(), ids)
}

// SupersessionsOf implements graph.Reader.
func (s *Store) SupersessionsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	left, err := pointingIDs[graph.SupersessionID](ctx, s, termOld, iris(parts))
	if err != nil {
		return nil, err
	}
	entered, err := pointingIDs[graph.SupersessionID](ctx, s, termNew, iris(parts))
	if err != nil {
		return nil, err
	}
	return fetch(ctx, s, supersessionCodec(), slices.Concat(left, entered))
}

// JointsAt implements graph.Reader: the joints that have a side, a fastener or
// a part to renew at one of the positions.
func (s *Store) JointsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Joint, error) {
	return pointing(ctx, s, jointCodec(), termTouches, iris(positions))
}

// JointsOf implements graph.Reader.
func (s *Store) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	return pointing(ctx, s, jointCodec(), termModel, iris(models))
}

// RunsAt implements graph.Reader.
func (s *Store) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	return pointing(ctx, s, runCodec(), termTouches, iris(positions))
}

// RunsOf implements graph.Reader.
func (s *Store) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	return pointing(ctx, s, runCodec(), termModel, iris(models))
}

// CircuitsAt implements graph.Reader.
func (s *Store) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	return pointing(ctx, s, circuitCodec(), termTouches, iris(positions))
}

// CircuitsOf implements graph.Reader.
func (s *Store) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	return pointing(ctx, s, circuitCodec(), termModel, iris(models))
}

// StacksAt implements graph.Reader.
func (s *Store) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	return pointing(ctx, s, stackCodec(), termTouches, iris(positions))
}

// StacksOf implements graph.Reader.
func (s *Store) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	return pointing(ctx, s, stackCodec(), termModel, iris(models))
}

// FindingsOf implements graph.Reader.
func (s *Store) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	return pointing(ctx, s, findingCodec(), termPart, iris(parts))
}

// FindingsAt implements graph.Reader.
func (s *Store) FindingsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	return pointing(ctx, s, findingCodec(), termPosition, iris(positions))
}
