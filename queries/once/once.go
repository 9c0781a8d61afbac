// Package once is a graph.Reader that reads nothing twice: whatever one question
// asks for again, be it through another question that it puts on its way, comes
// from what was read. The door is New; Library of package machine reads through it,
// and hands it on.
package once

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// Reader keeps what was read by identity, at positions, of parts and by lists, for as long as
// one question takes. What comes back is sorted like that of the reader below; what
// is in it is shared and must not be changed. It is for one goroutine.
type Reader struct {
	graph.Reader // for what is not kept

	sources   byID[graph.SourceID, graph.Source]
	kinds     byID[graph.KindID, graph.Kind]
	bikes     byID[graph.BikeID, graph.Bike]
	variants  byID[graph.VariantID, graph.Variant]
	positions byID[graph.PositionID, graph.Position]
	parts     byID[graph.PartID, graph.Part]

	fitmentsOf byKey[graph.PartID, graph.FitmentID, graph.Fitment]
	fitmentsAt byKey[graph.PositionID, graph.FitmentID, graph.Fitment]
	findingsOf byKey[graph.PartID, graph.FindingID, graph.Finding]
	joints     byKey[graph.PositionID, graph.JointID, graph.Joint]
	runs       byKey[graph.PositionID, graph.RunID, graph.Run]
	circuits   byKey[graph.PositionID, graph.CircuitID, graph.Circuit]
	stacks     byKey[graph.PositionID, graph.StackID, graph.Stack]

	// Reading these also answers for each single thing in them, by its identity or by
	// the places it touches.
	variantsOf   byList[graph.ModelID, graph.Variant]
	positionsOf  byList[graph.ModelID, graph.Position]
	jointsOf     byList[graph.ModelID, graph.Joint]
	runsOf       byList[graph.ModelID, graph.Run]
	circuitsOf   byList[graph.ModelID, graph.Circuit]
	stacksOf     byList[graph.ModelID, graph.Stack]
	assembliesOf byList[graph.ModelID, graph.Assembly]

	brands       byList[graph.BrandID, graph.Brand]
	models       byList[graph.ModelID, graph.Model]
	variantIDs   byList[graph.ModelID, graph.VariantID]
	partsByKey   byList[string, graph.PartID]
	partsOfKind  byList[graph.KindID, graph.PartID]
	someOfKind   map[int]*byList[graph.KindID, graph.PartID] // by how many of each
	placesOfKind byList[graph.KindID, graph.PositionID]
	kindsOn      map[graph.ModelID]*byList[graph.KindID, graph.PositionID]
	kindsWith    byList[string, graph.KindID]
	kitsWith     byList[graph.PartID, graph.PartID]
	supersedes   byList[graph.PartID, graph.Supersession]
}

// New keeps what is read from r; one that keeps already stays as it is.
func New(r graph.Reader) *Reader {
	if kept, ok := r.(*Reader); ok {
		return kept
	}
	return &Reader{Reader: r}
}

// Sources and what follows are as graph.Reader says; of those that give all for no
// argument, all is asked for each time.
func (r *Reader) Sources(ctx context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	if len(ids) == 0 {
		return r.Reader.Sources(ctx)
	}
	return r.sources.read(ctx, ids, r.Reader.Sources, func(s graph.Source) graph.SourceID { return s.ID })
}

// Kinds gives kinds of part.
func (r *Reader) Kinds(ctx context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	if len(ids) == 0 {
		return r.Reader.Kinds(ctx)
	}
	return r.kinds.read(ctx, ids, r.Reader.Kinds, func(k graph.Kind) graph.KindID { return k.ID })
}

// Bikes gives users' own machines.
func (r *Reader) Bikes(ctx context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	if len(ids) == 0 {
		return r.Reader.Bikes(ctx)
	}
	return r.bikes.read(ctx, ids, r.Reader.Bikes, func(b graph.Bike) graph.BikeID { return b.ID })
}

// Variants gives variants.
func (r *Reader) Variants(ctx context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	return r.variants.read(ctx, ids, r.Reader.Variants, func(v graph.Variant) graph.VariantID { return v.ID })
}

// Positions gives positions.
func (r *Reader) Positions(ctx context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	return r.positions.read(ctx, ids, r.Reader.Positions, func(p graph.Position) graph.PositionID { return p.ID })
}

// Parts gives parts.
func (r *Reader) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	return r.parts.read(ctx, ids, r.Reader.Parts, func(p graph.Part) graph.PartID { return p.ID })
}

// FitmentsOf gives what is listed of parts.
func (r *Reader) FitmentsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	return r.fitmentsOf.read(ctx, parts, r.Reader.FitmentsOf, fitmentID,
		func(f graph.Fitment) []graph.PartID { return []graph.PartID{f.Part} })
}

// FitmentsAt gives what is listed at positions.
func (r *Reader) FitmentsAt(ctx context.Context, at ...graph.PositionID) ([]graph.Fitment, error) {
	return r.fitmentsAt.read(ctx, at, r.Reader.FitmentsAt, fitmentID,
		func(f graph.Fitment) []graph.PositionID { return []graph.PositionID{f.Position} })
}

func fitmentID(f graph.Fitment) graph.FitmentID { return f.ID }

// FindingsOf gives what was found out about parts.
func (r *Reader) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	return r.findingsOf.read(ctx, parts, r.Reader.FindingsOf, func(f graph.Finding) graph.FindingID { return f.ID },
		func(f graph.Finding) []graph.PartID { return []graph.PartID{f.Part} })
}

// JointsAt gives the joints that touch positions.
func (r *Reader) JointsAt(ctx context.Context, at ...graph.PositionID) ([]graph.Joint, error) {
	return r.joints.read(ctx, at, r.Reader.JointsAt, func(j graph.Joint) graph.JointID { return j.ID }, graph.Joint.Places)
}

// RunsAt gives the runs that touch positions.
func (r *Reader) RunsAt(ctx context.Context, at ...graph.PositionID) ([]graph.Run, error) {
	return r.runs.read(ctx, at, r.Reader.RunsAt, func(run graph.Run) graph.RunID { return run.ID }, graph.Run.Places)
}

// CircuitsAt gives the circuits that touch positions.
func (r *Reader) CircuitsAt(ctx context.Context, at ...graph.PositionID) ([]graph.Circuit, error) {
	return r.circuits.read(ctx, at, r.Reader.CircuitsAt, func(c graph.Circuit) graph.CircuitID { return c.ID },
		graph.Circuit.Places)
}

// StacksAt gives the rows that touch positions.
func (r *Reader) StacksAt(ctx context.Context, at ...graph.PositionID) ([]graph.Stack, error) {
	return r.stacks.read(ctx, at, r.Reader.StacksAt, func(s graph.Stack) graph.StackID { return s.ID }, graph.Stack.Places)
}

// VariantsOf gives the variants of models.
func (r *Reader) VariantsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	isKnown := r.variantsOf.has(models)
	all, err := r.variantsOf.read(ctx, models, r.Reader.VariantsOf)
	if !isKnown {
		r.variants.add(all, func(v graph.Variant) graph.VariantID { return v.ID })
	}
	return all, err
}

// PositionsOf gives the positions of models.
func (r *Reader) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	isKnown := r.positionsOf.has(models)
	all, err := r.positionsOf.read(ctx, models, r.Reader.PositionsOf)
	if !isKnown {
		r.positions.add(all, func(p graph.Position) graph.PositionID { return p.ID })
	}
	return all, err
}

// positionsHeld are the positions of a model, when all of them were read; false when they
// were not.
func (r *Reader) positionsHeld(model graph.ModelID) ([]graph.Position, bool) {
	held, ok := r.positionsOf.have[listKey([]graph.ModelID{model})]
	return held, ok
}

// AssembliesOf gives the assemblies of models.
func (r *Reader) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	return r.assembliesOf.read(ctx, models, r.Reader.AssembliesOf)
}

// JointsOf gives the joints of models.
func (r *Reader) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	return ofModels(ctx, &r.joints, &r.jointsOf, models, r.Reader.JointsOf,
		func(j graph.Joint) graph.JointID { return j.ID }, graph.Joint.Places)
}

// RunsOf gives the runs of models.
func (r *Reader) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	return ofModels(ctx, &r.runs, &r.runsOf, models, r.Reader.RunsOf,
		func(run graph.Run) graph.RunID { return run.ID }, graph.Run.Places)
}

// CircuitsOf gives the circuits of models.
func (r *Reader) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	return ofModels(ctx, &r.circuits, &r.circuitsOf, models, r.Reader.CircuitsOf,
		func(c graph.Circuit) graph.CircuitID { return c.ID }, graph.Circuit.Places)
}

// StacksOf gives the rows of models.
func (r *Reader) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	return ofModels(ctx, &r.stacks, &r.stacksOf, models, r.Reader.StacksOf,
		func(s graph.Stack) graph.StackID { return s.ID }, graph.Stack.Places)
}

// ofModels reads what whole models have; what touches a place of them is then known.
func ofModels[I cmp.Ordered, T any](ctx context.Context, at *byKey[graph.PositionID, I, T],
	known *byList[graph.ModelID, T],
	models []graph.ModelID, read func(context.Context, ...graph.ModelID) ([]T, error), id func(T) I,
	places func(T) []graph.PositionID) ([]T, error) {
	isKnown := known.has(models)
	all, err := known.read(ctx, models, read)
	if err != nil || isKnown {
		return all, err
	}
	of := map[graph.PositionID][]T{}
	for _, one := range all {
		for _, place := range places(one) {
			of[place] = append(of[place], one)
		}
	}
	at.addWhole(of, id, func(p graph.PositionID) bool { return slices.Contains(models, p.Model()) })
	return all, nil
}

// Brands gives brands.
func (r *Reader) Brands(ctx context.Context, asked ...graph.BrandID) ([]graph.Brand, error) {
	return r.brands.read(ctx, asked, r.Reader.Brands)
}

// Models gives models.
func (r *Reader) Models(ctx context.Context, asked ...graph.ModelID) ([]graph.Model, error) {
	return r.models.read(ctx, asked, r.Reader.Models)
}

// VariantIDs gives the identities of the variants of models.
func (r *Reader) VariantIDs(ctx context.Context, asked ...graph.ModelID) ([]graph.VariantID, error) {
	return r.variantIDs.read(ctx, asked, r.Reader.VariantIDs)
}

// PartsByKey gives the parts that go by numbers or marks.
func (r *Reader) PartsByKey(ctx context.Context, asked ...string) ([]graph.PartID, error) {
	return r.partsByKey.read(ctx, asked, r.Reader.PartsByKey)
}

// PartsOfKind gives the parts of kinds.
func (r *Reader) PartsOfKind(ctx context.Context, asked ...graph.KindID) ([]graph.PartID, error) {
	return r.partsOfKind.read(ctx, asked, r.Reader.PartsOfKind)
}

// PartsOfKindUpTo gives the first n parts of each kind.
func (r *Reader) PartsOfKindUpTo(ctx context.Context, n int, asked ...graph.KindID) ([]graph.PartID, error) {
	if r.someOfKind == nil {
		r.someOfKind = map[int]*byList[graph.KindID, graph.PartID]{}
	}
	if r.someOfKind[n] == nil {
		r.someOfKind[n] = &byList[graph.KindID, graph.PartID]{}
	}
	return r.someOfKind[n].read(ctx, asked, func(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
		return r.Reader.PartsOfKindUpTo(ctx, n, kinds...)
	})
}

// PositionsOfKindOn gives the positions of kinds that a model has.
func (r *Reader) PositionsOfKindOn(ctx context.Context, model graph.ModelID,
	asked ...graph.KindID) ([]graph.PositionID, error) {
	if held, ok := r.positionsHeld(model); ok {
		var of []graph.PositionID
		for i := range held {
			if slices.Contains(asked, held[i].Kind) {
				of = append(of, held[i].ID)
			}
		}
		return lists.Unique(of), nil
	}
	if r.kindsOn == nil {
		r.kindsOn = map[graph.ModelID]*byList[graph.KindID, graph.PositionID]{}
	}
	if r.kindsOn[model] == nil {
		r.kindsOn[model] = &byList[graph.KindID, graph.PositionID]{}
	}
	return r.kindsOn[model].read(ctx, asked, func(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
		return r.Reader.PositionsOfKindOn(ctx, model, kinds...)
	})
}

// PositionsOfKind gives the positions of kinds.
func (r *Reader) PositionsOfKind(ctx context.Context, asked ...graph.KindID) ([]graph.PositionID, error) {
	return r.placesOfKind.read(ctx, asked, r.Reader.PositionsOfKind)
}

// KindsWith gives the kinds of part that have kinds of feature.
func (r *Reader) KindsWith(ctx context.Context, asked ...string) ([]graph.KindID, error) {
	return r.kindsWith.read(ctx, asked, r.Reader.KindsWith)
}

// KitsWith gives the kits that hold parts.
func (r *Reader) KitsWith(ctx context.Context, asked ...graph.PartID) ([]graph.PartID, error) {
	return r.kitsWith.read(ctx, asked, r.Reader.KitsWith)
}

// SupersessionsOf gives what takes the place of parts, and what they took that of.
func (r *Reader) SupersessionsOf(ctx context.Context, asked ...graph.PartID) ([]graph.Supersession, error) {
	return r.supersedes.read(ctx, asked, r.Reader.SupersessionsOf)
}

// byList keeps what a whole list of arguments gave, none included.
type byList[K ~string, T any] struct{ have map[string][]T }

func (c *byList[K, T]) read(ctx context.Context, asked []K,
	read func(context.Context, ...K) ([]T, error)) ([]T, error) {
	key := listKey(asked)
	if all, ok := c.have[key]; ok {
		return slices.Clone(all), nil
	}
	all, err := read(ctx, asked...)
	if err != nil {
		return nil, err
	}
	if c.have == nil {
		c.have = map[string][]T{}
	}
	c.have[key] = all
	return slices.Clone(all), nil
}

// has reports whether a list of arguments was asked for before.
func (c *byList[K, T]) has(asked []K) bool {
	_, ok := c.have[listKey(asked)]
	return ok
}

func listKey[K ~string](asked []K) string {
	var key strings.Builder
	for _, k := range asked {
		key.WriteString(string(k))
		key.WriteByte(0)
	}
	return key.String()
}

// byID keeps things by their identity, those that are not there too.
type byID[K cmp.Ordered, T any] struct {
	asked map[K]bool
	have  map[K]T
}

// add keeps what was read in another way.
func (c *byID[K, T]) add(found []T, id func(T) K) {
	if c.asked == nil {
		c.asked, c.have = map[K]bool{}, map[K]T{}
	}
	for _, one := range found {
		key := id(one)
		c.asked[key], c.have[key] = true, one
	}
}

func (c *byID[K, T]) read(ctx context.Context, ids []K, read func(context.Context, ...K) ([]T, error),
	id func(T) K) ([]T, error) {
	if c.asked == nil {
		c.asked, c.have = map[K]bool{}, map[K]T{}
	}
	ids = lists.Unique(append([]K(nil), ids...))
	missing := lists.Kept(ids, func(id K) bool { return !c.asked[id] })
	if len(missing) > 0 {
		found, err := read(ctx, missing...)
		if err != nil {
			return nil, err
		}
		for _, one := range found {
			c.have[id(one)] = one
		}
		for _, id := range missing {
			c.asked[id] = true
		}
	}
	var all []T
	for i, id := range ids {
		if one, ok := c.have[id]; ok {
			if all == nil {
				all = make([]T, 0, len(ids)-i)
			}
			all = append(all, one)
		}
	}
	return all, nil
}

// byKey keeps things that are asked for by something else than their identity: a
// part, a position that they touch.
type byKey[K, I cmp.Ordered, T any] struct {
	asked map[K]bool
	at    map[K][]named[I, T] // each list sorted by identity
	whole []func(K) bool      // keys for which everything was read
}

// named is a thing in a list that was read, with its identity: of the most used bolt
// there are thousands, which are not copied.
type named[I cmp.Ordered, T any] struct {
	id  I
	one *T
}

// addWhole keeps everything that there is for some keys, by them.
func (c *byKey[K, I, T]) addWhole(found map[K][]T, id func(T) I, isWhole func(K) bool) {
	c.start()
	for key, all := range found {
		if !isWhole(key) || c.isKnown(key) {
			continue
		}
		for i := range all {
			c.at[key] = append(c.at[key], named[I, T]{id(all[i]), &all[i]})
		}
	}
	c.whole = append(c.whole, isWhole)
}

func (c *byKey[K, I, T]) start() {
	if c.asked == nil {
		c.asked, c.at = map[K]bool{}, map[K][]named[I, T]{}
	}
}

func (c *byKey[K, I, T]) isKnown(key K) bool {
	return c.asked[key] || slices.ContainsFunc(c.whole, func(is func(K) bool) bool { return is(key) })
}

func (c *byKey[K, I, T]) read(ctx context.Context, keys []K, read func(context.Context, ...K) ([]T, error),
	id func(T) I, keysOf func(T) []K) ([]T, error) {
	c.start()
	keys = lists.Unique(append([]K(nil), keys...))
	missing := lists.Kept(slices.Clone(keys), func(key K) bool { return !c.isKnown(key) })
	if len(missing) > 0 {
		found, err := read(ctx, missing...)
		if err != nil {
			return nil, err
		}
		c.keep(missing, found, id, keysOf)
	}
	var all []named[I, T]
	for _, key := range keys {
		all = append(all, c.at[key]...)
	}
	if len(keys) > 1 {
		slices.SortStableFunc(all, func(a, b named[I, T]) int { return cmp.Compare(a.id, b.id) })
	}
	all = slices.CompactFunc(all, func(a, b named[I, T]) bool { return a.id == b.id }) // one may touch a place twice
	return lists.Mapped(all, func(n named[I, T]) T { return *n.one }), nil
}

// keep keeps what was found for keys, by each of them.
func (c *byKey[K, I, T]) keep(keys []K, found []T, id func(T) I, keysOf func(T) []K) {
	asked := map[K]bool{}
	for _, key := range keys {
		asked[key], c.asked[key] = true, true
	}
	for i := range found {
		n := named[I, T]{id(found[i]), &found[i]}
		of := keysOf(found[i])
		if len(of) > 1 {
			of = lists.Unique(slices.Clone(of))
		}
		for _, key := range of {
			if asked[key] {
				c.at[key] = append(c.at[key], n)
			}
		}
	}
}
