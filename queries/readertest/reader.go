package readertest

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"
	"sync"

	"matewell/graph"

	"github.com/agext/levenshtein"
)

// Reader answers from a data set held in memory. It counts its calls, so that
// a test can say how many a question may take. Several goroutines may ask at
// once.
type Reader struct {
	sources       *table[graph.Source]
	brands        *table[graph.Brand]
	kinds         *table[graph.Kind]
	models        *table[graph.Model]
	variants      *table[graph.Variant]
	assemblies    *table[graph.Assembly]
	positions     *table[graph.Position]
	parts         *table[graph.Part]
	fitments      *table[graph.Fitment]
	joints        *table[graph.Joint]
	runs          *table[graph.Run]
	circuits      *table[graph.Circuit]
	stacks        *table[graph.Stack]
	supersessions *table[graph.Supersession]
	findings      *table[graph.Finding]
	bikes         *table[graph.Bike]
	jobs          *table[graph.Job]

	mu    sync.Mutex
	calls map[string]int
}

var _ graph.Reader = (*Reader)(nil)

// New gives a reader over the facts, which must not be changed afterwards.
func New(facts graph.Facts) *Reader {
	return &Reader{calls: map[string]int{},
		sources: over(facts.Sources), brands: over(facts.Brands), kinds: over(facts.Kinds), models: over(facts.Models),
		variants: over(facts.Variants), assemblies: over(facts.Assemblies), positions: over(facts.Positions),
		parts: over(facts.Parts), fitments: over(facts.Fitments), joints: over(facts.Joints), runs: over(facts.Runs),
		circuits: over(facts.Circuits), stacks: over(facts.Stacks), supersessions: over(facts.Supersessions),
		findings: over(facts.Findings), bikes: over(facts.Bikes), jobs: over(facts.Jobs)}
}

// WithBikes is a reader over the same facts with other machines of people's own, which
// shares what was found in them; its calls are counted by themselves.
func (r *Reader) WithBikes(bikes ...graph.Bike) *Reader {
	return &Reader{calls: map[string]int{}, sources: r.sources, brands: r.brands, kinds: r.kinds, models: r.models,
		variants: r.variants, assemblies: r.assemblies, positions: r.positions, parts: r.parts, fitments: r.fitments,
		joints: r.joints, runs: r.runs, circuits: r.circuits, stacks: r.stacks, supersessions: r.supersessions,
		findings: r.findings, bikes: over(bikes), jobs: r.jobs}
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
	return namedOrAll(r.sources, sourceID, ids), nil
}

// Brands gives the named brands; with no argument, all.
func (r *Reader) Brands(ctx context.Context, ids ...graph.BrandID) ([]graph.Brand, error) {
	if err := r.called(ctx, "Brands"); err != nil {
		return nil, err
	}
	return namedOrAll(r.brands, brandID, ids), nil
}

// Kinds gives the named kinds; with no argument, all.
func (r *Reader) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	if err := r.called(ctx, "Kinds"); err != nil {
		return nil, err
	}
	return namedOrAll(r.kinds, kindID, ids), nil
}

// Models gives the named models; with no argument, all.
func (r *Reader) Models(ctx context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	if err := r.called(ctx, "Models"); err != nil {
		return nil, err
	}
	return namedOrAll(r.models, modelID, ids), nil
}

// Findings gives the named findings; with no argument, all.
func (r *Reader) Findings(ctx context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	if err := r.called(ctx, "Findings"); err != nil {
		return nil, err
	}
	return namedOrAll(r.findings, findingID, ids), nil
}

// Bikes gives the named bikes; with no argument, all.
func (r *Reader) Bikes(ctx context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	if err := r.called(ctx, "Bikes"); err != nil {
		return nil, err
	}
	return namedOrAll(r.bikes, bikeID, ids), nil
}

// Jobs gives the named jobs; with no argument, all.
func (r *Reader) Jobs(ctx context.Context, ids ...graph.JobID) ([]graph.Job, error) {
	if err := r.called(ctx, "Jobs"); err != nil {
		return nil, err
	}
	return namedOrAll(r.jobs, func(j graph.Job) graph.JobID { return j.ID }, ids), nil
}

// Variants gives the named variants.
func (r *Reader) Variants(ctx context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	if err := r.called(ctx, "Variants"); err != nil {
		return nil, err
	}
	return named(r.variants, variantID, ids), nil
}

// Assemblies gives the named assemblies.
func (r *Reader) Assemblies(ctx context.Context, ids ...graph.AssemblyID) ([]graph.Assembly, error) {
	if err := r.called(ctx, "Assemblies"); err != nil {
		return nil, err
	}
	return named(r.assemblies, assemblyID, ids), nil
}

// Positions gives the named positions.
func (r *Reader) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	if err := r.called(ctx, "Positions"); err != nil {
		return nil, err
	}
	return named(r.positions, positionID, ids), nil
}

// Parts gives the named parts.
func (r *Reader) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	if err := r.called(ctx, "Parts"); err != nil {
		return nil, err
	}
	return named(r.parts, partID, ids), nil
}

// VariantsOf gives the variants of the models.
func (r *Reader) VariantsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	if err := r.called(ctx, "VariantsOf"); err != nil {
		return nil, err
	}
	return with(r.variants, "model",
		one(func(v graph.Variant) graph.ModelID { return v.Model }), variantID, models), nil
}

// VariantIDs gives the identities of the variants of the models.
func (r *Reader) VariantIDs(ctx context.Context, models ...graph.ModelID) ([]graph.VariantID, error) {
	if err := r.called(ctx, "VariantIDs"); err != nil {
		return nil, err
	}
	return idsWith(r.variants, "model",
		one(func(v graph.Variant) graph.ModelID { return v.Model }), variantID, models), nil
}

// AssembliesOf gives the assemblies of the models.
func (r *Reader) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	if err := r.called(ctx, "AssembliesOf"); err != nil {
		return nil, err
	}
	return with(r.assemblies, "model",
		one(func(a graph.Assembly) graph.ModelID { return a.Model }), assemblyID, models), nil
}

// PositionsIn gives the positions in the assemblies.
func (r *Reader) PositionsIn(ctx context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	if err := r.called(ctx, "PositionsIn"); err != nil {
		return nil, err
	}
	return with(r.positions, "assembly",
		one(func(p graph.Position) graph.AssemblyID { return p.Assembly }), positionID, assemblies), nil
}

// PositionsOf gives the positions of the models.
func (r *Reader) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	if err := r.called(ctx, "PositionsOf"); err != nil {
		return nil, err
	}
	return with(r.positions, "model",
		one(func(p graph.Position) graph.ModelID { return p.Model }), positionID, models), nil
}

// PartsByKey finds parts by the key of their identity, number, core or alias.
func (r *Reader) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartsByKey"); err != nil {
		return nil, err
	}
	return idsWith(r.parts, "key", keysOf, partID, keys), nil
}

// PartNumbers gives the parts with a key that begins with a prefix.
func (r *Reader) PartNumbers(ctx context.Context, prefix string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbers"); err != nil {
		return nil, err
	}
	return byKeys(r, func(key string) bool { return strings.HasPrefix(key, prefix) }, n), nil
}

// PartNumbersHolding gives the parts with a key that holds a piece.
func (r *Reader) PartNumbersHolding(ctx context.Context, piece string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbersHolding"); err != nil || piece == "" || n == 0 {
		return nil, err
	}
	return byKeys(r, func(key string) bool { return strings.Contains(key, piece) }, n), nil
}

// PartNumbersNear gives the parts with a key that is near another.
func (r *Reader) PartNumbersNear(ctx context.Context, key string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbersNear"); err != nil {
		return nil, err
	}
	limit, far := graph.NearLimit(key), map[graph.PartID]int{}
	near := partIDs(r, func(p graph.Part) bool {
		best := limit + 1
		for _, own := range p.Keys() {
			best = min(best, levenshtein.Distance(key, own, nil))
		}
		far[p.ID] = best
		return best <= limit && key != ""
	})
	if n == 0 || len(near) == 0 {
		return nil, nil
	}
	slices.SortStableFunc(near, func(a, b graph.PartID) int { return cmp.Compare(far[a], far[b]) })
	return near[:min(n, len(near))], nil
}

// PartsWithWords gives the parts that have each of the words.
func (r *Reader) PartsWithWords(ctx context.Context, words ...string) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartsWithWords"); err != nil || len(words) == 0 {
		return nil, err
	}
	return partIDs(r, func(p graph.Part) bool { return hasEach(words, p.NameWords()) }), nil
}

// ModelsWithWords gives the models whose places have each of the words.
func (r *Reader) ModelsWithWords(ctx context.Context, words ...string) ([]graph.ModelID, error) {
	if err := r.called(ctx, "ModelsWithWords"); err != nil || len(words) == 0 {
		return nil, err
	}
	has := map[graph.ModelID][]string{}
	for _, p := range r.positions.items {
		has[p.Model] = append(has[p.Model], p.NameWords()...)
	}
	var models []graph.ModelID
	for model, own := range has {
		if hasEach(words, own) {
			models = append(models, model)
		}
	}
	slices.Sort(models)
	return models, nil
}

// PartIDs lists every part.
func (r *Reader) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartIDs"); err != nil {
		return nil, err
	}
	return partIDs(r, func(graph.Part) bool { return true }), nil
}

// PartsOfKind lists the parts of the kinds.
func (r *Reader) PartsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartsOfKind"); err != nil {
		return nil, err
	}
	return idsWith(r.parts, "kind",
		one(func(p graph.Part) graph.KindID { return p.Kind }), partID, kinds), nil
}

// PartsOfKindUpTo lists the first n parts of each of the kinds.
func (r *Reader) PartsOfKindUpTo(ctx context.Context, n int, kinds ...graph.KindID) ([]graph.PartID, error) {
	var all []graph.PartID
	for _, kind := range kinds {
		some, err := r.PartsOfKind(ctx, kind)
		if err != nil {
			return nil, err
		}
		all = append(all, some[:min(n, len(some))]...)
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}

// PositionsOfKindOn lists those of PositionsOfKind that a model has.
func (r *Reader) PositionsOfKindOn(ctx context.Context, model graph.ModelID,
	kinds ...graph.KindID) ([]graph.PositionID, error) {
	found, err := r.PositionsOf(ctx, model)
	var ids []graph.PositionID
	for _, p := range found {
		if slices.Contains(kinds, p.Kind) {
			ids = append(ids, p.ID)
		}
	}
	return ids, err
}

// PositionIDs gives the identities of the positions of models.
func (r *Reader) PositionIDs(ctx context.Context, models ...graph.ModelID) ([]graph.PositionID, error) {
	found, err := r.PositionsOf(ctx, models...)
	var ids []graph.PositionID
	for _, p := range found {
		ids = append(ids, p.ID)
	}
	return ids, err
}

// PositionsOfKind lists the positions at which a part of the kinds belongs.
func (r *Reader) PositionsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	if err := r.called(ctx, "PositionsOfKind"); err != nil {
		return nil, err
	}
	return idsWith(r.positions, "kind",
		one(func(p graph.Position) graph.KindID { return p.Kind }), positionID, kinds), nil
}

// KindsWith lists the kinds that have a feature of the feature kinds.
func (r *Reader) KindsWith(ctx context.Context, featureKinds ...string) ([]graph.KindID, error) {
	if err := r.called(ctx, "KindsWith"); err != nil {
		return nil, err
	}
	return idsWith(r.kinds, "feature", func(k graph.Kind) (kinds []string) {
		for _, f := range k.Features {
			kinds = append(kinds, f.Kind)
		}
		return kinds
	}, kindID, featureKinds), nil
}

// KitsWith lists the kits that contain one of the parts.
func (r *Reader) KitsWith(ctx context.Context, parts ...graph.PartID) ([]graph.PartID, error) {
	if err := r.called(ctx, "KitsWith"); err != nil {
		return nil, err
	}
	return idsWith(r.parts, "content", func(p graph.Part) (parts []graph.PartID) {
		for _, c := range p.Contains {
			parts = append(parts, c.Part)
		}
		return parts
	}, partID, parts), nil
}

// FitmentsOf gives the fitments of the parts.
func (r *Reader) FitmentsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	if err := r.called(ctx, "FitmentsOf"); err != nil {
		return nil, err
	}
	return with(r.fitments, "part",
		one(func(f graph.Fitment) graph.PartID { return f.Part }), fitmentID, parts), nil
}

// FitmentsUpTo gives the first n fitments of each of the parts.
func (r *Reader) FitmentsUpTo(ctx context.Context, n int, parts ...graph.PartID) ([]graph.Fitment, error) {
	all, err := r.FitmentsOf(ctx, parts...)
	have := map[graph.PartID]int{}
	return slices.DeleteFunc(all, func(f graph.Fitment) bool {
		have[f.Part]++
		return have[f.Part] > n
	}), err
}

// FitmentCounts counts the fitments of each of the parts.
func (r *Reader) FitmentCounts(ctx context.Context, parts ...graph.PartID) (map[graph.PartID]int, error) {
	all, err := r.FitmentsOf(ctx, parts...)
	if err != nil {
		return nil, err
	}
	counts := map[graph.PartID]int{}
	for _, f := range all {
		counts[f.Part]++
	}
	return counts, nil
}

// FitmentsAt gives the fitments at the positions, on any variant.
func (r *Reader) FitmentsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	if err := r.called(ctx, "FitmentsAt"); err != nil {
		return nil, err
	}
	return with(r.fitments, "position",
		one(func(f graph.Fitment) graph.PositionID { return f.Position }), fitmentID, positions), nil
}

// FitmentsOn gives the fitments on the variants.
func (r *Reader) FitmentsOn(ctx context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	if err := r.called(ctx, "FitmentsOn"); err != nil {
		return nil, err
	}
	return with(r.fitments, "variant", func(f graph.Fitment) []graph.VariantID { return f.On }, fitmentID, variants), nil
}

// SupersessionsOf gives the edges that leave or enter one of the parts.
func (r *Reader) SupersessionsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	if err := r.called(ctx, "SupersessionsOf"); err != nil {
		return nil, err
	}
	return with(r.supersessions, "part",
		func(s graph.Supersession) []graph.PartID { return []graph.PartID{s.Old, s.New} }, supersessionID, parts), nil
}

// FindingsOf gives the findings about the parts.
func (r *Reader) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	if err := r.called(ctx, "FindingsOf"); err != nil {
		return nil, err
	}
	return with(r.findings, "part",
		one(func(f graph.Finding) graph.PartID { return f.Part }), findingID, parts), nil
}

// FindingsAt gives the findings at the positions.
func (r *Reader) FindingsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	if err := r.called(ctx, "FindingsAt"); err != nil {
		return nil, err
	}
	return with(r.findings, "position",
		one(func(f graph.Finding) graph.PositionID { return f.Position }), findingID, positions), nil
}

// JointsAt gives the joints that have a side, a fastener or a part to renew at
// one of the positions.
func (r *Reader) JointsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsAt"); err != nil {
		return nil, err
	}
	return with(r.joints, "position", graph.Joint.Places, jointID, positions), nil
}

// JointsOf gives the joints of the models.
func (r *Reader) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsOf"); err != nil {
		return nil, err
	}
	return with(r.joints, "model", one(func(j graph.Joint) graph.ModelID { return j.Model }), jointID, models), nil
}

// RunsAt gives the runs whose line, ends, hot parts or moving features sit at one of
// the positions.
func (r *Reader) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsAt"); err != nil {
		return nil, err
	}
	return with(r.runs, "position", graph.Run.Places, runID, positions), nil
}

// RunsOf gives the runs of the models.
func (r *Reader) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsOf"); err != nil {
		return nil, err
	}
	return with(r.runs, "model", one(func(run graph.Run) graph.ModelID { return run.Model }), runID, models), nil
}

// CircuitsAt gives the circuits that one of the positions belongs to.
func (r *Reader) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsAt"); err != nil {
		return nil, err
	}
	return with(r.circuits, "position", graph.Circuit.Places, circuitID, positions), nil
}

// CircuitsOf gives the circuits of the models.
func (r *Reader) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsOf"); err != nil {
		return nil, err
	}
	return with(r.circuits, "model", one(func(c graph.Circuit) graph.ModelID { return c.Model }), circuitID, models), nil
}

// StacksAt gives the stacks that one of the positions belongs to.
func (r *Reader) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksAt"); err != nil {
		return nil, err
	}
	return with(r.stacks, "position", graph.Stack.Places, stackID, positions), nil
}

// StacksOf gives the stacks of the models.
func (r *Reader) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksOf"); err != nil {
		return nil, err
	}
	return with(r.stacks, "model", one(func(s graph.Stack) graph.ModelID { return s.Model }), stackID, models), nil
}
