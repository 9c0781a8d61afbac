package readertest

import (
	"context"
	"maps"
	"sync"

	"matewell/graph"
)

// Reader answers from a data set held in memory. It counts its calls, so that
// a test can say how many a question may take. Several goroutines may ask at
// once.
type Reader struct {
	sources       table[graph.Source]
	brands        table[graph.Brand]
	kinds         table[graph.Kind]
	models        table[graph.Model]
	variants      table[graph.Variant]
	assemblies    table[graph.Assembly]
	positions     table[graph.Position]
	parts         table[graph.Part]
	fitments      table[graph.Fitment]
	joints        table[graph.Joint]
	runs          table[graph.Run]
	circuits      table[graph.Circuit]
	stacks        table[graph.Stack]
	supersessions table[graph.Supersession]
	findings      table[graph.Finding]
	bikes         table[graph.Bike]
	jobs          table[graph.Job]

	mu    sync.Mutex
	calls map[string]int
}

var _ graph.Reader = (*Reader)(nil)

// New gives a reader over the facts, which must not be changed afterwards.
func New(facts graph.Facts) *Reader {
	r := &Reader{calls: map[string]int{}}
	r.sources.items, r.brands.items, r.kinds.items = facts.Sources, facts.Brands, facts.Kinds
	r.models.items, r.variants.items, r.assemblies.items = facts.Models, facts.Variants, facts.Assemblies
	r.positions.items, r.parts.items, r.fitments.items = facts.Positions, facts.Parts, facts.Fitments
	r.joints.items, r.runs.items, r.circuits.items = facts.Joints, facts.Runs, facts.Circuits
	r.stacks.items, r.supersessions.items = facts.Stacks, facts.Supersessions
	r.findings.items, r.bikes.items, r.jobs.items = facts.Findings, facts.Bikes, facts.Jobs
	return r
}

// Calls is how often each method was called since New, by its name.
func (r *Reader) Calls() map[string]int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return maps.Clone(r.calls)
}

// called counts a call; the error is that of the context.
func (r *Reader) called(ctx context.Context, method string) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.calls[method]++
	return ctx.Err()
}

// named gives items by identity.
func named[T any, K ~string](t *table[T], id func(T) K, ids []K) []T {
	return with(t, "identity", one(id), id, ids)
}

// namedOrAll gives items by identity; without any, everything.
func namedOrAll[T any, K ~string](t *table[T], id func(T) K, ids []K) []T {
	if len(ids) == 0 {
		return all(t, id)
	}
	return named(t, id, ids)
}

// one makes a list of the one key that an item has.
func one[T, K any](key func(T) K) func(T) []K { return func(item T) []K { return []K{key(item)} } }

func sourceID(s graph.Source) graph.SourceID                   { return s.ID }
func brandID(b graph.Brand) graph.BrandID                      { return b.ID }
func kindID(k graph.Kind) graph.KindID                         { return k.ID }
func modelID(m graph.Model) graph.ModelID                      { return m.ID }
func variantID(v graph.Variant) graph.VariantID                { return v.ID }
func assemblyID(a graph.Assembly) graph.AssemblyID             { return a.ID }
func positionID(p graph.Position) graph.PositionID             { return p.ID }
func partID(p graph.Part) graph.PartID                         { return p.ID }
func fitmentID(f graph.Fitment) graph.FitmentID                { return f.ID }
func jointID(j graph.Joint) graph.JointID                      { return j.ID }
func runID(r graph.Run) graph.RunID                            { return r.ID }
func circuitID(c graph.Circuit) graph.CircuitID                { return c.ID }
func stackID(s graph.Stack) graph.StackID                      { return s.ID }
func supersessionID(s graph.Supersession) graph.SupersessionID { return s.ID }
func findingID(f graph.Finding) graph.FindingID                { return f.ID }
func bikeID(b graph.Bike) graph.BikeID                         { return b.ID }

// Sources gives the named sources; with no argument, all.
func (r *Reader) Sources(ctx context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	if err := r.called(ctx, "Sources"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.sources, sourceID, ids), nil
}

// Brands gives the named brands; with no argument, all.
func (r *Reader) Brands(ctx context.Context, ids ...graph.BrandID) ([]graph.Brand, error) {
	if err := r.called(ctx, "Brands"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.brands, brandID, ids), nil
}

// Kinds gives the named kinds; with no argument, all.
func (r *Reader) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	if err := r.called(ctx, "Kinds"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.kinds, kindID, ids), nil
}

// Models gives the named models; with no argument, all.
func (r *Reader) Models(ctx context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	if err := r.called(ctx, "Models"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.models, modelID, ids), nil
}

// Findings gives the named findings; with no argument, all.
func (r *Reader) Findings(ctx context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	if err := r.called(ctx, "Findings"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.findings, findingID, ids), nil
}

// Bikes gives the named bikes; with no argument, all.
func (r *Reader) Bikes(ctx context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	if err := r.called(ctx, "Bikes"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.bikes, bikeID, ids), nil
}

// Jobs gives the named jobs; with no argument, all.
func (r *Reader) Jobs(ctx context.Context, ids ...graph.JobID) ([]graph.Job, error) {
	if err := r.called(ctx, "Jobs"); err != nil {
		return nil, err
	}
	return namedOrAll(&r.jobs, func(j graph.Job) graph.JobID { return j.ID }, ids), nil
}

// Variants gives the named variants.
func (r *Reader) Variants(ctx context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	if err := r.called(ctx, "Variants"); err != nil {
		return nil, err
	}
	return named(&r.variants, variantID, ids), nil
}

// Assemblies gives the named assemblies.
func (r *Reader) Assemblies(ctx context.Context, ids ...graph.AssemblyID) ([]graph.Assembly, error) {
	if err := r.called(ctx, "Assemblies"); err != nil {
		return nil, err
	}
	return named(&r.assemblies, assemblyID, ids), nil
}

// Positions gives the named positions.
func (r *Reader) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	if err := r.called(ctx, "Positions"); err != nil {
		return nil, err
	}
	return named(&r.positions, positionID, ids), nil
}

// Parts gives the named parts.
func (r *Reader) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	if err := r.called(ctx, "Parts"); err != nil {
		return nil, err
	}
	return named(&r.parts, partID, ids), nil
}
