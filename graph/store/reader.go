package store

import (
	"cmp"
	"context"
	"fmt"
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

// Jobs implements graph.Reader.
func (s *Store) Jobs(ctx context.Context, ids ...graph.JobID) ([]graph.Job, error) {
	return named(ctx, s, jobCodec(), ids)
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
	return walk(ctx, s, variantCodec(), edgeVariantOf, distinct(models, iri), in(models, func(v graph.Variant) graph.ModelID { return v.Model }))
}

// VariantIDs implements graph.Reader.
func (s *Store) VariantIDs(ctx context.Context, models ...graph.ModelID) ([]graph.VariantID, error) {
	keys := make([]string, len(models))
	for i, id := range models {
		keys[i] = string(id)
	}
	var ids []graph.VariantID
	for _, l := range s.layers {
		n, err := listAt[graph.VariantID](ctx, l, variantsNode, variantCodec().name)
		if err != nil {
			return nil, err
		}
		some, err := n.under(ctx, keys)
		if err != nil {
			return nil, err
		}
		ids = append(ids, some...)
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}

// AssembliesOf implements graph.Reader.
func (s *Store) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	return walk(ctx, s, assemblyCodec(), edgeAssemblyOf, distinct(models, iri), in(models, func(v graph.Assembly) graph.ModelID { return v.Model }))
}

// PositionsIn implements graph.Reader.
func (s *Store) PositionsIn(ctx context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	return walk(ctx, s, positionCodec(), edgePositionIn, distinct(assemblies, iri), in(assemblies, func(v graph.Position) graph.AssemblyID { return v.Assembly }))
}

// PositionsOf implements graph.Reader.
func (s *Store) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	return walk(ctx, s, positionCodec(), edgePositionOf, distinct(models, iri), in(models, func(v graph.Position) graph.ModelID { return v.Model }))
}

// PartsByKey implements graph.Reader. Besides numbers, cores and aliases, the
// whole identity is a key: brand and number together.
func (s *Store) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	return s.partsByKey(ctx, keys)
}

// PartNumbers implements graph.Reader.
func (s *Store) PartNumbers(ctx context.Context, prefix string, n int) ([]graph.PartID, error) {
	return s.partNumbers(ctx, prefix, n)
}

// PartNumbersNear implements graph.Reader.
func (s *Store) PartNumbersNear(ctx context.Context, key string, n int) ([]graph.PartID, error) {
	return s.partNumbersNear(ctx, key, n)
}

// PartNumbersHolding implements graph.Reader.
func (s *Store) PartNumbersHolding(ctx context.Context, piece string, n int) ([]graph.PartID, error) {
	return s.partNumbersHolding(ctx, piece, n)
}

// PartIDs implements graph.Reader.
func (s *Store) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	return s.partIDs(ctx)
}

// PartsOfKind implements graph.Reader.
func (s *Store) PartsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	return froms[graph.PartID](ctx, s, edgePartKind, distinct(kinds, iri))
}

// PositionsOfKind implements graph.Reader.
func (s *Store) PositionsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	positions, err := walk(ctx, s, positionCodec(), edgePositionKind, distinct(kinds, iri), inField("Kind", kinds, func(v graph.Position) graph.KindID { return v.Kind }))
	var ids []graph.PositionID
	for _, v := range positions {
		ids = append(ids, v.ID)
	}
	return ids, err
}

// KindsWith implements graph.Reader.
func (s *Store) KindsWith(ctx context.Context, featureKinds ...string) ([]graph.KindID, error) {
	objects := make([]featureKindID, len(featureKinds))
	for i, name := range featureKinds {
		objects[i] = featureKindID(name)
	}
	return froms[graph.KindID](ctx, s, edgeOffers, distinct(objects, iri))
}

// KitsWith implements graph.Reader.
func (s *Store) KitsWith(ctx context.Context, parts ...graph.PartID) ([]graph.PartID, error) {
	return froms[graph.PartID](ctx, s, edgeContains, distinct(parts, iri))
}

// FitmentsOf implements graph.Reader.
func (s *Store) FitmentsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	return walk(ctx, s, fitmentCodec(), edgeFitmentOf, distinct(parts, iri), in(parts, func(v graph.Fitment) graph.PartID { return v.Part }))
}

// FitmentsUpTo implements graph.Reader.
func (s *Store) FitmentsUpTo(ctx context.Context, n int, parts ...graph.PartID) ([]graph.Fitment, error) {
	return s.fitmentsUpTo(ctx, n, parts)
}

// FitmentCounts implements graph.Reader.
func (s *Store) FitmentCounts(ctx context.Context, parts ...graph.PartID) (map[graph.PartID]int, error) {
	return s.fitmentCounts(ctx, parts)
}

// FitmentsAt implements graph.Reader.
func (s *Store) FitmentsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	assemblies := distinct(positions, func(id graph.PositionID) quad.IRI { return iri(id.Assembly()) })
	return walk(ctx, s, fitmentInCodec(), edgeFitmentIn, assemblies, inField("Position", positions, func(v graph.Fitment) graph.PositionID { return v.Position }))
}

// FitmentsOn implements graph.Reader.
func (s *Store) FitmentsOn(ctx context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	models := distinct(variants, func(id graph.VariantID) quad.IRI { return iri(id.Model()) })
	return walk(ctx, s, fitmentInCodec(), edgeFitmentOn, models, anyIn(variants, func(v graph.Fitment) []graph.VariantID { return v.On }))
}

// SupersessionsOf implements graph.Reader.
func (s *Store) SupersessionsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	ends := anyIn(parts, func(v graph.Supersession) []graph.PartID { return []graph.PartID{v.Old, v.New} })
	left, err := walk(ctx, s, supersessionCodec(), edgeOld, distinct(parts, iri), ends)
	if err != nil {
		return nil, err
	}
	entered, err := walk(ctx, s, supersessionCodec(), edgeNew, distinct(parts, iri), ends)
	all := append(left, entered...)
	slices.SortFunc(all, func(a, b graph.Supersession) int { return cmp.Compare(a.ID, b.ID) })
	return slices.CompactFunc(all, func(a, b graph.Supersession) bool { return a.ID == b.ID }), err
}

// JointsAt implements graph.Reader: the joints that have a side, a fastener or
// a part to renew at one of the positions.
func (s *Store) JointsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Joint, error) {
	return walk(ctx, s, jointCodec(), edgeTouches+"joint", distinct(positions, iri), anyIn(positions, jointTouches))
}

// JointsOf implements graph.Reader.
func (s *Store) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	return walk(ctx, s, jointCodec(), edgeOf+"joint", distinct(models, iri), in(models, func(v graph.Joint) graph.ModelID { return v.Model }))
}

// RunsAt implements graph.Reader.
func (s *Store) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	return walk(ctx, s, runCodec(), edgeTouches+"run", distinct(positions, iri), anyIn(positions, runTouches))
}

// RunsOf implements graph.Reader.
func (s *Store) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	return walk(ctx, s, runCodec(), edgeOf+"run", distinct(models, iri), in(models, func(v graph.Run) graph.ModelID { return v.Model }))
}

// CircuitsAt implements graph.Reader.
func (s *Store) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	return walk(ctx, s, circuitCodec(), edgeTouches+"circuit", distinct(positions, iri), anyIn(positions, circuitTouches))
}

// CircuitsOf implements graph.Reader.
func (s *Store) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	return walk(ctx, s, circuitCodec(), edgeOf+"circuit", distinct(models, iri), in(models, func(v graph.Circuit) graph.ModelID { return v.Model }))
}

// StacksAt implements graph.Reader.
func (s *Store) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	return walk(ctx, s, stackCodec(), edgeTouches+"stack", distinct(positions, iri), anyIn(positions, stackTouches))
}

// StacksOf implements graph.Reader.
func (s *Store) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	return walk(ctx, s, stackCodec(), edgeOf+"stack", distinct(models, iri), in(models, func(v graph.Stack) graph.ModelID { return v.Model }))
}

// FindingsOf implements graph.Reader.
func (s *Store) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	return walk(ctx, s, findingCodec(), edgeFindingPart, distinct(parts, iri), in(parts, func(v graph.Finding) graph.PartID { return v.Part }))
}

// FindingsAt implements graph.Reader.
func (s *Store) FindingsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	return walk(ctx, s, findingCodec(), edgeFindingAt, distinct(positions, iri), in(positions, func(v graph.Finding) graph.PositionID { return v.Position }))
}

// named is fetch, or everything of the sort when no identity is given.
func named[K identity, T any](ctx context.Context, s *Store, c codec[K, T], ids []K) ([]T, error) {
	if len(ids) == 0 {
		return walk(ctx, s, c, c.everything(), []quad.IRI{c.class}, everyone[T]())
	}
	return fetch(ctx, s, c, ids)
}

func setOf[K comparable](list []K) map[K]bool {
	set := make(map[K]bool, len(list))
	for _, k := range list {
		set[k] = true
	}
	return set
}

// in wants records that name one of a list.
func in[K comparable, T any](list []K, of func(T) K) wanted[T] {
	set := setOf(list)
	return wanted[T]{has: func(v T) bool { return set[of(v)] }}
}

// inField is in where one field of the record tells.
func inField[K ~string, T any](field string, list []K, of func(T) K) wanted[T] {
	set := setOf(list)
	return wanted[T]{func(v T) bool { return set[of(v)] }, fieldIn(field, set)}
}

// anyIn is in for records that name several.
func anyIn[K comparable, T any](list []K, of func(T) []K) wanted[T] {
	set := setOf(list)
	return wanted[T]{has: func(v T) bool { return slices.ContainsFunc(of(v), func(k K) bool { return set[k] }) }}
}

// froms gives the identities from which a predicate leads to one of the nodes,
// sorted, each once, from all layers.
func froms[K identity](ctx context.Context, s *Store, predicate quad.IRI, nodes []quad.IRI) ([]K, error) {
	var ids []K
	for _, l := range s.layers {
		found, err := l.from(ctx, predicate, nodes)
		if err != nil {
			return nil, fmt.Errorf("store: look up: %w", readError(err))
		}
		for _, node := range found {
			if id, ok := identityOf[K](node); ok {
				ids = append(ids, id)
			}
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}
