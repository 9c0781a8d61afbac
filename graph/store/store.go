package store

import (
	"bufio"
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// Store implements graph.Reader over one quad store, or over several in
// layers. It may be used from several goroutines at once, but not while Put
// runs on a store in memory.
type Store struct {
	layers []level // lowest first, at least one
	// identity is another for every other content; empty when nobody can tell.
	identity string
}

// Identity is a text that is another for every store of other content: a
// generation on disk never changes. It is empty for a store that may change, as
// a server's or one in memory, or that has layers.
func (s *Store) Identity() string { return s.identity }

// Known gives the store with an identity, for one whose layers are told apart by
// something else.
func (s *Store) Known(identity string) *Store {
	known := *s
	known.identity = identity
	return &known
}

var _ graph.Reader = (*Store)(nil)

// Memory gives an empty store in memory.
func Memory() (*Store, error) {
	return &Store{layers: []level{{backend: newCayley(memstore.New())}}}, nil
}

// Connection says how a server was reached when that was left to the program, for
// people; empty when there is nothing to say.
func (s *Store) Connection() string {
	if t, ok := s.layers[0].backend.(*sqlTables); ok {
		return t.at.chosen
	}
	return ""
}

// Over gives the store with others on top of it: a union of what they all
// say. Readings, sources and sets of all layers come back together; of a
// single-valued fact, a numbered list, or a line kept by name (what a bike has
// at a position, a line of a kit) the last layer that states it wins. Closing
// the result closes every layer.
func (s *Store) Over(upper ...*Store) *Store {
	layers := slices.Clone(s.layers)
	for _, u := range upper {
		layers = append(layers, u.layers...)
	}
	return &Store{layers: layers}
}

// Close releases the store and every layer of it.
func (s *Store) Close() error {
	var errs []error
	for _, layer := range s.layers {
		errs = append(errs, layer.close())
	}
	return errors.Join(errs...)
}

// opened gives the store on one backend.
func opened(ctx context.Context, b backend, empty bool) (*Store, error) {
	l, err := openLevel(ctx, b, empty)
	if err != nil {
		return nil, errors.Join(err, b.close())
	}
	return &Store{layers: []level{l}}, nil
}

// WriteJSONLD writes every fact as JSON-LD 1.1 (W3C 2020): the same statements
// as WriteNQuads, each source a named graph. Every node stands on one line; the
// same facts give the same text. Own terms are plain keys; the prefixes of the
// others are in the context.
func (s *Store) WriteJSONLD(ctx context.Context, w io.Writer) error {
	if err := writeJSONLD(ctx, s, w); err != nil {
		return fmt.Errorf("store: write JSON-LD: %w", err)
	}
	return nil
}

// WriteNQuads writes every fact as N-Quads (RDF 1.1 N-Quads, W3C 2014), one
// line each, sorted by bytes, between two comments by which a reader sees that none
// is missing: the same facts give the same text. Reading it back gives the same facts.
func (s *Store) WriteNQuads(ctx context.Context, w io.Writer) error {
	out := bufio.NewWriter(w)
	_, _ = out.WriteString(countedHead + "\n") // an error stays until Flush
	count := 0
	err := sortedStatements(ctx, s, statement, func(line string) error {
		count++
		_, err := out.WriteString(line)
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(out, countedEnd+"\n", count)
	if err := out.Flush(); err != nil {
		return fmt.Errorf("store: write N-Quads: %w", err)
	}
	return nil
}

// Put adds facts to a store that can be written to, as a layer over what is
// there would. Putting the same again changes nothing. progress may be nil.
func (s *Store) Put(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	if len(s.layers[0].header.Holds) > 0 {
		held, err := s.Facts(ctx)
		if err != nil {
			return fmt.Errorf("store: put: %w", err)
		}
		f = together([]graph.Facts{held, f})
	}
	return s.replace(ctx, f, progress)
}

// ReplaceFrom is replace for facts that feed hands over piece by piece.
func (s *Store) ReplaceFrom(ctx context.Context, feed func(add func(graph.Facts) error) error, progress func(done,
	total int)) error {
	var parts []graph.Facts
	err := feed(func(f graph.Facts) error {
		parts = append(parts, f)
		return nil
	})
	if err != nil {
		return err
	}
	return s.replace(ctx, together(parts), progress)
}

// replace makes a store that can be written to hold these facts and no others,
// in one step: whoever reads sees all of the change or nothing of it. progress
// may be nil.
func (s *Store) replace(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	wanted, err := quadsOf(ctx, f)
	if err != nil {
		return err
	}
	held := map[quad.Quad]bool{}
	err = s.layers[0].each(ctx, func(q quad.Quad) error {
		held[q] = true
		return nil
	})
	if err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	var add, remove []quad.Quad
	for _, q := range wanted {
		if !held[q] {
			add = append(add, q)
		}
		delete(held, q)
	}
	for q := range held {
		remove = append(remove, q)
	}
	if err := s.layers[0].apply(ctx, add, remove); err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	if progress != nil {
		progress(len(wanted), len(wanted))
	}
	level, err := openLevel(ctx, s.layers[0].backend, true)
	s.layers[0] = level
	return err
}

// Facts reads everything the store holds. Putting the result into another
// store gives an equal one.
func (s *Store) Facts(ctx context.Context) (graph.Facts, error) {
	parts := make([]graph.Facts, len(s.layers))
	for i, l := range s.layers {
		f, err := factsOf(ctx, l)
		if err != nil {
			return graph.Facts{}, err
		}
		parts[i] = f
	}
	return together(parts), nil
}

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
	return walk(ctx, s, variantCodec(), edgeVariantOf, distinct(models, iri), in(models,
		func(v graph.Variant) graph.ModelID { return v.Model }))
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
	return walk(ctx, s, assemblyCodec(), edgeAssemblyOf, distinct(models, iri), in(models,
		func(v graph.Assembly) graph.ModelID { return v.Model }))
}

// PositionsIn implements graph.Reader.
func (s *Store) PositionsIn(ctx context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	return walk(ctx, s, positionCodec(), edgePositionIn, distinct(assemblies, iri), in(assemblies,
		func(v graph.Position) graph.AssemblyID { return v.Assembly }))
}

// PositionsOf implements graph.Reader.
func (s *Store) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	return walk(ctx, s, positionCodec(), edgePositionOf, distinct(models, iri), in(models,
		func(v graph.Position) graph.ModelID { return v.Model }))
}

// PartsByKey implements graph.Reader. Besides numbers, cores and aliases, the
// whole identity is a key: brand and number together.
func (s *Store) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	return partsByKey(ctx, s, keys)
}

// PartNumbers implements graph.Reader.
func (s *Store) PartNumbers(ctx context.Context, prefix string, n int) ([]graph.PartID, error) {
	return partNumbers(ctx, s, prefix, n)
}

// PartNumbersNear implements graph.Reader.
func (s *Store) PartNumbersNear(ctx context.Context, key string, n int) ([]graph.PartID, error) {
	return partNumbersNear(ctx, s, key, n)
}

// PartNumbersHolding implements graph.Reader.
func (s *Store) PartNumbersHolding(ctx context.Context, piece string, n int) ([]graph.PartID, error) {
	return partNumbersHolding(ctx, s, piece, n)
}

// PartIDs implements graph.Reader.
func (s *Store) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	return partIDs(ctx, s)
}

// PositionIDs implements graph.Reader.
func (s *Store) PositionIDs(ctx context.Context, models ...graph.ModelID) ([]graph.PositionID, error) {
	return positionIDs(ctx, s, models)
}

// PartsOfKind implements graph.Reader.
func (s *Store) PartsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	return partsOfKind(ctx, s, 0, kinds)
}

// PartsOfKindUpTo implements graph.Reader.
func (s *Store) PartsOfKindUpTo(ctx context.Context, n int, kinds ...graph.KindID) ([]graph.PartID, error) {
	if n < 1 {
		return nil, ctx.Err()
	}
	return partsOfKind(ctx, s, n, kinds)
}

// PositionsOfKind implements graph.Reader.
func (s *Store) PositionsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	return positionsOfKind(ctx, s, kinds)
}

// PositionsOfKindOn implements graph.Reader.
func (s *Store) PositionsOfKindOn(ctx context.Context, model graph.ModelID, kinds ...graph.KindID) ([]graph.PositionID,
	error) {
	return positionsOfKindOn(ctx, s, model, kinds)
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
	return walk(ctx, s, fitmentCodec(), edgeFitmentOf, distinct(parts, iri), in(parts,
		func(v graph.Fitment) graph.PartID { return v.Part }))
}

// FitmentsUpTo implements graph.Reader.
func (s *Store) FitmentsUpTo(ctx context.Context, n int, parts ...graph.PartID) ([]graph.Fitment, error) {
	return fitmentsUpTo(ctx, s, n, parts)
}

// FitmentCounts implements graph.Reader.
func (s *Store) FitmentCounts(ctx context.Context, parts ...graph.PartID) (map[graph.PartID]int, error) {
	return fitmentCounts(ctx, s, parts)
}

// FitmentsAt implements graph.Reader.
func (s *Store) FitmentsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	assemblies := distinct(positions, func(id graph.PositionID) quad.IRI { return iri(id.Assembly()) })
	return walk(ctx, s, fitmentInCodec(), edgeFitmentIn, assemblies, inField("Position", positions,
		func(v graph.Fitment) graph.PositionID { return v.Position }))
}

// FitmentsOn implements graph.Reader.
func (s *Store) FitmentsOn(ctx context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	models := distinct(variants, func(id graph.VariantID) quad.IRI { return iri(id.Model()) })
	return walk(ctx, s, fitmentInCodec(), edgeFitmentOn, models, anyIn(variants,
		func(v graph.Fitment) []graph.VariantID { return v.On }))
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
	return walk(ctx, s, jointCodec(), edgeOf+"joint", distinct(models, iri), in(models,
		func(v graph.Joint) graph.ModelID { return v.Model }))
}

// RunsAt implements graph.Reader.
func (s *Store) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	return walk(ctx, s, runCodec(), edgeTouches+"run", distinct(positions, iri), anyIn(positions, runTouches))
}

// RunsOf implements graph.Reader.
func (s *Store) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	return walk(ctx, s, runCodec(), edgeOf+"run", distinct(models, iri), in(models,
		func(v graph.Run) graph.ModelID { return v.Model }))
}

// CircuitsAt implements graph.Reader.
func (s *Store) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	return walk(ctx, s, circuitCodec(), edgeTouches+"circuit", distinct(positions, iri), anyIn(positions, circuitTouches))
}

// CircuitsOf implements graph.Reader.
func (s *Store) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	return walk(ctx, s, circuitCodec(), edgeOf+"circuit", distinct(models, iri), in(models,
		func(v graph.Circuit) graph.ModelID { return v.Model }))
}

// StacksAt implements graph.Reader.
func (s *Store) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	return walk(ctx, s, stackCodec(), edgeTouches+"stack", distinct(positions, iri), anyIn(positions, stackTouches))
}

// StacksOf implements graph.Reader.
func (s *Store) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	return walk(ctx, s, stackCodec(), edgeOf+"stack", distinct(models, iri), in(models,
		func(v graph.Stack) graph.ModelID { return v.Model }))
}

// FindingsOf implements graph.Reader.
func (s *Store) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	return walk(ctx, s, findingCodec(), edgeFindingPart, distinct(parts, iri), in(parts,
		func(v graph.Finding) graph.PartID { return v.Part }))
}

// FindingsAt implements graph.Reader.
func (s *Store) FindingsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	return walk(ctx, s, findingCodec(), edgeFindingAt, distinct(positions, iri), in(positions,
		func(v graph.Finding) graph.PositionID { return v.Position }))
}

// PartsWithWords implements graph.Reader.
func (s *Store) PartsWithWords(ctx context.Context, words ...string) ([]graph.PartID, error) {
	ids, err := withWords[graph.PartID](ctx, s, partWordsNode, partCodec().name, words)
	if err != nil || len(s.layers) == 1 || len(ids) == 0 {
		return ids, err
	}
	parts, err := s.Parts(ctx, ids...) // a layer may have renamed what one below has
	ids = nil
	for _, p := range parts {
		if hasWords(p.NameWords(), words) {
			ids = append(ids, p.ID)
		}
	}
	return ids, err
}

// ModelsWithWords implements graph.Reader.
func (s *Store) ModelsWithWords(ctx context.Context, words ...string) ([]graph.ModelID, error) {
	return withWords[graph.ModelID](ctx, s, placeWordsNode, positionCodec().name, words)
}

// Standing asks the server.
func (s *Store) Standing(ctx context.Context) (is Standing, err error) {
	t, isSQL := s.layers[0].backend.(*sqlTables)
	if !isSQL {
		return is, nil
	}
	two := func(query string) (a, b sql.NullString, err error) {
		err = rows(ctx, t, query, nil, func(rows *sql.Rows) error { return rows.Scan(&a, &b) })
		return a, b, err
	}
	records, table, err := two(standing)
	if err != nil {
		return is, err
	}
	is.Records = fmt.Sprint(records.String, " ", s.layers[0].header.Holds)
	if table.Valid {
		sum, _, err := two(notesSum)
		is.Notes = sum.String
		return is, err
	}
	return is, nil
}

// Notes are all notes, in the order in which they were added; a store that is on no
// server has none.
func (s *Store) Notes(ctx context.Context) ([]Note, error) {
	is, err := s.Standing(ctx)
	if err != nil || is.Notes == "" {
		return nil, err
	}
	t, isSQL := s.layers[0].backend.(*sqlTables)
	if !isSQL {
		return nil, nil
	}
	var notes []Note
	err = rows(ctx, t, notesAll, nil, func(rows *sql.Rows) error {
		var n Note
		err := rows.Scan(&n.List, &n.ID, &n.Text)
		notes = append(notes, n)
		return err
	})
	return notes, err
}
