package graph

import "context"

// Reader answers typed questions about a graph. Results are unique and sorted
// by identity; an identity that is not in the graph is left out, without an
// error. Slices that come back belong to the caller. Each method is batched:
// ask once for many identities rather than many times for one.
type Reader interface {
	// Sources gives the named sources; with no argument, all of them. The
	// same holds for Brands, Kinds, Models, Findings, Bikes and Jobs.
	Sources(ctx context.Context, ids ...SourceID) ([]Source, error)
	Brands(ctx context.Context, ids ...BrandID) ([]Brand, error)
	Kinds(ctx context.Context, ids ...KindID) ([]Kind, error)
	Models(ctx context.Context, ids ...ModelID) ([]Model, error)
	Findings(ctx context.Context, ids ...FindingID) ([]Finding, error)
	Bikes(ctx context.Context, ids ...BikeID) ([]Bike, error)
	Jobs(ctx context.Context, ids ...JobID) ([]Job, error)

	// The following give only what is asked for; with no argument, nothing.
	Variants(ctx context.Context, ids ...VariantID) ([]Variant, error)
	Assemblies(ctx context.Context, ids ...AssemblyID) ([]Assembly, error)
	Positions(ctx context.Context, ids ...PositionID) ([]Position, error)
	Parts(ctx context.Context, ids ...PartID) ([]Part, error)

	VariantsOf(ctx context.Context, models ...ModelID) ([]Variant, error)
	// VariantIDs gives the identities alone, which costs far less to read.
	VariantIDs(ctx context.Context, models ...ModelID) ([]VariantID, error)
	AssembliesOf(ctx context.Context, models ...ModelID) ([]Assembly, error)
	PositionsIn(ctx context.Context, assemblies ...AssemblyID) ([]Position, error)
	PositionsOf(ctx context.Context, models ...ModelID) ([]Position, error)
	// PositionIDs gives the identities alone. It looks at those of all models, however
	// few are asked for, in the time that reading a few models takes.
	PositionIDs(ctx context.Context, models ...ModelID) ([]PositionID, error)

	// PartsByKey finds parts by a key that NumberKey made from a full number,
	// a core, or an alias.
	PartsByKey(ctx context.Context, keys ...string) ([]PartID, error)
	// PartNumbers gives parts that have a key, as PartsByKey finds them by, which
	// begins with prefix (made by NumberKey): those of the first n keys in the
	// order of the keys, each part once; of all keys when n is 0. It costs as
	// much as what it gives.
	PartNumbers(ctx context.Context, prefix string, n int) ([]PartID, error)
	// PartNumbersNear gives up to n parts of which a key differs from the given
	// one in no more than two letters that are changed, added or left out (one
	// where the key has four letters or fewer). Unlike elsewhere the nearest come
	// first, equally near ones in the order of their identities.
	PartNumbersNear(ctx context.Context, key string, n int) ([]PartID, error)
	// PartNumbersHolding gives parts of which a key holds a piece, such as what can
	// still be read of a stamped number: those of the first n such keys in the
	// order of the keys, each part once. An empty piece, or n of 0, gives none. It
	// looks at every key, a good deal faster than reading every part.
	PartNumbersHolding(ctx context.Context, piece string, n int) ([]PartID, error)
	// PartIDs lists every part. On a large set that takes long: see PartNumbers
	// and what follows it.
	PartIDs(ctx context.Context) ([]PartID, error)
	// PartsWithWords lists the parts that have each of the words, as Words makes
	// them, among their NameWords, in the sense of WordMeans; none for no word.
	PartsWithWords(ctx context.Context, words ...string) ([]PartID, error)
	// ModelsWithWords lists the models of which each word is among the NameWords
	// of some position, not always the same one; none for no word.
	ModelsWithWords(ctx context.Context, words ...string) ([]ModelID, error)
	PartsOfKind(ctx context.Context, kinds ...KindID) ([]PartID, error)
	// PartsOfKindUpTo is PartsOfKind for the first n, in the order of their identities,
	// of each kind: of a kind that a large set is full of, a few cost far less than all.
	PartsOfKindUpTo(ctx context.Context, n int, kinds ...KindID) ([]PartID, error)
	// PositionsOfKind lists the positions of any model at which a part of one
	// of the kinds belongs.
	PositionsOfKind(ctx context.Context, kinds ...KindID) ([]PositionID, error)
	// PositionsOfKindOn lists those of one model.
	PositionsOfKindOn(ctx context.Context, model ModelID, kinds ...KindID) ([]PositionID, error)
	// KindsWith lists the kinds of part that have a feature of one of the
	// feature kinds.
	KindsWith(ctx context.Context, featureKinds ...string) ([]KindID, error)
	KitsWith(ctx context.Context, parts ...PartID) ([]PartID, error)

	FitmentsOf(ctx context.Context, parts ...PartID) ([]Fitment, error)
	// FitmentsUpTo is FitmentsOf for the first n, in the order of their identities,
	// of each part: of a bolt that goes anywhere, a few cost far less than all.
	FitmentsUpTo(ctx context.Context, n int, parts ...PartID) ([]Fitment, error)
	// FitmentCounts tells how many fitments each part has; parts that have none
	// are left out.
	FitmentCounts(ctx context.Context, parts ...PartID) (map[PartID]int, error)
	FitmentsAt(ctx context.Context, positions ...PositionID) ([]Fitment, error)
	FitmentsOn(ctx context.Context, variants ...VariantID) ([]Fitment, error)

	// SupersessionsOf gives every edge that leaves or enters one of the parts.
	SupersessionsOf(ctx context.Context, parts ...PartID) ([]Supersession, error)

	JointsAt(ctx context.Context, positions ...PositionID) ([]Joint, error)
	JointsOf(ctx context.Context, models ...ModelID) ([]Joint, error)
	// RunsAt gives the runs whose line, ends, or moving features sit at one
	// of the positions.
	RunsAt(ctx context.Context, positions ...PositionID) ([]Run, error)
	RunsOf(ctx context.Context, models ...ModelID) ([]Run, error)
	CircuitsAt(ctx context.Context, positions ...PositionID) ([]Circuit, error)
	CircuitsOf(ctx context.Context, models ...ModelID) ([]Circuit, error)
	StacksAt(ctx context.Context, positions ...PositionID) ([]Stack, error)
	StacksOf(ctx context.Context, models ...ModelID) ([]Stack, error)

	FindingsOf(ctx context.Context, parts ...PartID) ([]Finding, error)
	FindingsAt(ctx context.Context, positions ...PositionID) ([]Finding, error)
}
