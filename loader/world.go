package loader

import (
	"cmp"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/graph/diag"
)

// world is what the second pass knows: every name of every layer, and of the
// base below them. Its steps run in one order, each needing the ones before.
type world struct {
	*diag.List
	files []*dataFile
	base  *baseGraph // nil when the layers stand alone
	// stream is set when facts are handed over in pieces.
	stream *stream
	refs   *refs // what the layers mention; set with base only
	// broken is true when a file could not be read: names it may define are
	// then not missed.
	broken bool
	// cut is true when rows of a list could not be read: a feature may then be
	// that of a part in a missing row, and a source be cited there.
	cut bool

	featureKinds map[string]graph.FeatureKind
	// ownFeatures are the kinds of feature that a layer means where the kind of
	// part has another: by layer, kind of part and feature.
	ownFeatures map[int]map[graph.KindID]map[string]string

	sources registry[graph.SourceID, graph.Source]
	// ownSources are the sources of a layer whose names mean others elsewhere.
	ownSources map[int]map[string]graph.SourceID
	brands     registry[graph.BrandID, graph.Brand]
	kinds      registry[graph.KindID, graph.Kind]
	models     registry[graph.ModelID, modelInfo]
	positions  registry[graph.PositionID, placeDraft]
	parts      registry[graph.PartID, partDraft]
	partKeys   map[string]graph.PartID // by brand and NumberKey
	partTexts  map[string]partText     // what a written number stands for
	matchedAt  map[*partDraft]diag.Pos // where a kit was said to be matched, or not

	// unsure are positions of which a fault hides the variants.
	unsure map[graph.PositionID]bool

	fitments      registry[graph.FitmentID, graph.Fitment]
	fittedAt      map[graph.PositionID][]graph.PartID
	joints        registry[graph.JointID, graph.Joint]
	runs          registry[graph.RunID, graph.Run]
	circuits      registry[graph.CircuitID, graph.Circuit]
	stacks        registry[graph.StackID, graph.Stack]
	supersessions registry[graph.SupersessionID, graph.Supersession]
	findings      registry[graph.FindingID, graph.Finding]
	bikes         registry[graph.BikeID, graph.Bike]
	jobs          registry[graph.JobID, graph.Job]
	// takesOffers is true where offers are read, and nothing else is.
	takesOffers bool
	offers      []graph.Offer // as written
	currency    word          // of the first amount

	usedSources map[graph.SourceID]bool
	toldSources map[diag.Pos]bool
	sourceless  map[*dataFile][]diag.Pos
	hints       hints
	// namedLocally is true once each model has the local names of its positions.
	namedLocally bool
	allParts     []string
	// featureCache keeps what featuresAt found at the positions of one model.
	featureCache   map[graph.PositionID]map[string][]string
	featuresCached graph.ModelID

	// taking is true while an item is resolved that a model has from what it is
	// like; leftOut are the positions that it has not taken over from there, and
	// leftBy says so in words.
	taking  bool
	leftOut map[graph.PositionID]bool
	leftBy  map[*taken][]string
}

func newWorld() *world {
	w := &world{
		List: &diag.List{}, featureKinds: map[string]graph.FeatureKind{},
		ownFeatures: map[int]map[graph.KindID]map[string]string{},
		ownSources:  map[int]map[string]graph.SourceID{},
		partKeys:    map[string]graph.PartID{}, partTexts: map[string]partText{},
		matchedAt:   map[*partDraft]diag.Pos{},
		unsure:      map[graph.PositionID]bool{},
		fittedAt:    map[graph.PositionID][]graph.PartID{},
		usedSources: map[graph.SourceID]bool{}, toldSources: map[diag.Pos]bool{},
		leftOut: map[graph.PositionID]bool{}, leftBy: map[*taken][]string{},
		sourceless: map[*dataFile][]diag.Pos{},
	}
	for _, k := range graph.FeatureKinds() {
		w.featureKinds[k.Name] = k
	}
	return w
}

// resolve runs the second pass.
func (w *world) resolve() {
	for i, f := range w.files {
		f.index = i
	}
	wholeForLikes(w)
	takeOver(w)
	fetchDefinitions(w)
	resolveSources(w)
	resolveBrands(w)
	resolveKinds(w)
	fetchRest(w)
	resolveModels(w)
	resolvePositions(w)
	declareParts(w)
	resolveParts(w)
	resolveFitments(w)
	resolveJoints(w)
	resolveRuns(w)
	resolveCircuits(w)
	resolveStacks(w)
	warnLeftOut(w)
	handConnections(w)
	resolveSupersessions(w)
	resolveBikes(w)
	resolveJobs(w)
	resolveFindings(w)
	resolveWithdrawals(w)
	resolveOffers(w)
	w.reportSourceless()
	warnUnused(w)
}

// facts is what the layers say, sorted.
func (w *world) facts() graph.Facts {
	f := graph.Facts{
		Sources: w.sources.own(), Brands: w.brands.own(), Kinds: w.kinds.own(),
		Fitments: w.fitments.own(), Joints: w.joints.own(),
		Runs: w.runs.own(), Circuits: w.circuits.own(), Stacks: w.stacks.own(),
		Supersessions: w.supersessions.own(), Findings: w.findings.own(), Bikes: w.bikes.own(), Jobs: w.jobs.own(),
	}
	modelFacts(w, &f)
	for _, id := range w.positions.keys() {
		if p, _ := w.positions.get(id); !w.positions.origin(id).base {
			f.Positions = append(f.Positions, p.finish(id))
		}
	}
	for _, p := range w.parts.own() {
		f.Parts = append(f.Parts, p.finish(w))
	}
	keepUsed(w, &f)
	return f
}

// unknown reports a name that nothing defines, unless a file that may define it
// could not be read.
func (w *world) unknown(pos diag.Pos, code, format string, args ...any) *diag.Diagnostic {
	if w.broken {
		return &diag.Diagnostic{}
	}
	return w.Errorf(pos, code, format, args...)
}

// origin is where something was first defined.
type origin struct {
	pos   diag.Pos
	layer int
	base  bool // in the graph below the layers
}

// related is the place as a related one, nothing when it is not known.
func (o origin) related() []diag.Pos {
	if o.pos == (diag.Pos{}) {
		return nil
	}
	return []diag.Pos{o.pos}
}

// registered is an item with where it came from.
type registered[V any] struct {
	value  V
	origin origin
}

// registry holds the items of one sort by identity. The zero registry is empty.
type registry[K ~string, V any] struct {
	items map[K]*registered[V]
	// more gives further names, for hints only; may be nil.
	more func() []string
}

func (r *registry[K, V]) get(k K) (*V, bool) {
	item, ok := r.items[k]
	if !ok {
		return nil, false
	}
	return &item.value, true
}

func (r *registry[K, V]) put(k K, v V, o origin) *V {
	if r.items == nil {
		r.items = map[K]*registered[V]{}
	}
	item := &registered[V]{v, o}
	r.items[k] = item
	return &item.value
}

func (r *registry[K, V]) origin(k K) origin {
	if item := r.items[k]; item != nil {
		return item.origin
	}
	return origin{}
}

// keys are all identities, sorted.
func (r *registry[K, V]) keys() []K { return sortedKeys(r.items) }

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

func (r *registry[K, V]) names() []string {
	var names []string
	for _, k := range r.keys() {
		names = append(names, string(k))
	}
	if r.more != nil {
		names = append(names, r.more()...)
		slices.Sort(names)
		names = slices.Compact(names)
	}
	return names
}

// own are the items that the layers define, sorted by identity.
func (r *registry[K, V]) own() []V {
	var list []V
	for _, k := range r.keys() {
		if item := r.items[k]; !item.origin.base {
			list = append(list, item.value)
		}
	}
	return list
}

// cites are the sources of an item, sorted: its own, else those of what it is
// part of, else the file's. An item without any is noted.
func (w *world) cites(f *dataFile, at diag.Pos, own ...[]word) []graph.Cite {
	for _, words := range append(own, f.source) {
		if len(words) == 0 {
			continue
		}
		var cites []graph.Cite
		for _, word := range words {
			if useSource(w, f, word); word.given() {
				cites = append(cites, graph.Cite{Source: sourceID(w, f, word), Pos: at})
			}
		}
		return addCites(nil, cites)
	}
	w.sourceless[f] = append(w.sourceless[f], at)
	return nil
}

// firstGiven is the first of several lists of sources that is not empty.
func firstGiven(lists ...[]word) []word {
	for _, l := range lists {
		if len(l) > 0 {
			return l
		}
	}
	return nil
}

// reportSourceless reports, once for each file, that items in it name no source.
func (w *world) reportSourceless() {
	for _, f := range w.files {
		at := w.sourceless[f]
		if len(at) == 0 || w.broken {
			continue
		}
		slices.SortFunc(at, diag.Pos.Compare)
		at = slices.Compact(at)
		d := w.Errorf(at[0], "no-source", "this names no source, and neither does its file")
		d.Hint = `write "source: ..." at the top of the file, or with each item`
		d.Related = at[1:min(len(at), 1+maxRelated)]
	}
}

// maxRelated is how many related places a fault names.
const maxRelated = 10

// addCites unites two lists of cites, sorted by source, then place.
func addCites(a, b []graph.Cite) []graph.Cite {
	all := append(slices.Clip(a), b...)
	slices.SortFunc(all, graph.Cite.Compare)
	return slices.Compact(all)
}
