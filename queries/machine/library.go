package machine

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/once"
)

// MaxAdapter is how many features an adapter has at most: it is a part with
// little else than its two sides.
const MaxAdapter = 6

// MaxOfKind is how many parts of one kind are tried; hardware, of which there
// are hundreds, is ordered by its sizes instead.
const MaxOfKind = 60

// Library keeps what one question has read, so that nothing is read twice and
// each sort of thing is read for many positions or parts in one call.
type Library struct {
	r         *once.Reader
	voices    *evidence.Evidence
	positions map[graph.PositionID]graph.Position
	fitments  map[graph.PositionID][]graph.Fitment // on any variant
	parts     map[graph.PartID]graph.Part          // as read, readings not ranked
	findings  map[graph.PartID][]graph.Finding
	kinds     map[graph.KindID]graph.Kind
	best      map[rankedKey]graph.Part
	several   map[graph.PartID]bool         // of which something is ranked; see isRanked
	asked     map[string]bool               // "part Tarnholt 207.4418b": asked for, there or not
	touched   map[string]int                // "joints of skerry-620": how many places were asked about
	with      map[string][]graph.PositionID // by model and kinds of feature: where such parts belong
	edges     map[graph.SupersessionID]graph.Supersession
	walker    evidence.Walker
}

// NewLibrary reads through r, which it has read nothing twice.
func NewLibrary(r graph.Reader) *Library {
	return &Library{r: once.New(r), voices: evidence.NewEvidence(),
		positions: map[graph.PositionID]graph.Position{},
		fitments:  map[graph.PositionID][]graph.Fitment{},
		parts:     map[graph.PartID]graph.Part{},
		findings:  map[graph.PartID][]graph.Finding{},
		kinds:     map[graph.KindID]graph.Kind{},
		best:      map[rankedKey]graph.Part{},
		several:   map[graph.PartID]bool{},
		asked:     map[string]bool{},
		touched:   map[string]int{},
		with:      map[string][]graph.PositionID{},
		edges:     map[graph.SupersessionID]graph.Supersession{}}
}

// Reader is what the library reads from: it reads nothing twice, so that questions
// put on the way share what was read.
func (l *Library) Reader() graph.Reader { return l.r }

// Evidence is who says what was read.
func (l *Library) Evidence() *evidence.Evidence { return l.voices }

// Has reports whether a part was read, and is there.
func (l *Library) Has(id graph.PartID) bool {
	_, ok := l.parts[id]
	return ok
}

// Part is a part as read, its readings not ranked; none for one that was not.
func (l *Library) Part(id graph.PartID) graph.Part { return l.parts[id] }

// Kind is a kind as read; none for one that was not.
func (l *Library) Kind(id graph.KindID) graph.Kind { return l.kinds[id] }

// Position is a position as read; false for one that was not.
func (l *Library) Position(id graph.PositionID) (graph.Position, bool) {
	p, ok := l.positions[id]
	return p, ok
}

// ListedAt is what is listed at a position that was read, on any variant.
func (l *Library) ListedAt(id graph.PositionID) []graph.Fitment { return l.fitments[id] }

// FindingsOf is what was found out about a part that was read.
func (l *Library) FindingsOf(id graph.PartID) []graph.Finding { return l.findings[id] }

// fresh gives those identities that were not asked for yet, sorted, and notes
// that they now are. The empty identity is none.
func fresh[T ~string](l *Library, what string, ids []T) []T {
	var missing []T
	for _, id := range lists.Unique(append([]T(nil), ids...)) {
		key := what + " " + string(id)
		if id != "" && !l.asked[key] {
			l.asked[key] = true
			missing = append(missing, id)
		}
	}
	return missing
}

// ReadPositions reads positions and what is listed at them.
func (l *Library) ReadPositions(ctx context.Context, ids []graph.PositionID) error {
	missing := fresh(l, "position", ids)
	if len(missing) == 0 {
		return nil
	}
	positions, err := l.r.Positions(ctx, missing...)
	if err != nil {
		return err
	}
	for _, p := range positions {
		l.positions[p.ID] = p
	}
	fitments, err := l.r.FitmentsAt(ctx, missing...)
	for _, f := range fitments {
		l.fitments[f.Position] = append(l.fitments[f.Position], f)
	}
	return err
}

// ReadParts reads parts, what was found out about them, and the sources of
// both.
func (l *Library) ReadParts(ctx context.Context, ids []graph.PartID) error {
	missing := fresh(l, "part", ids)
	if len(missing) == 0 {
		return nil
	}
	parts, err := l.r.Parts(ctx, missing...)
	if err != nil {
		return err
	}
	findings, err := l.r.FindingsOf(ctx, missing...)
	if err != nil {
		return err
	}
	l.voices.AddFindings(findings)
	var cites []graph.Cite
	for _, p := range parts {
		l.parts[p.ID] = p
		cites = append(cites, readingCites(p)...)
	}
	for _, f := range findings {
		l.findings[f.Part] = append(l.findings[f.Part], f)
	}
	for i := range parts {
		l.several[parts[i].ID] = l.isRanked(&parts[i])
	}
	if err := l.voices.Load(ctx, l.r, cites); err != nil {
		return err
	}
	return l.ReadKinds(ctx, kindsToName(parts, l.findings))
}

// kindsToName are the kinds of parts on which somebody measured a feature that
// the part does not list: the kind says what sort of feature it is.
func kindsToName(parts []graph.Part, findings map[graph.PartID][]graph.Finding) []graph.KindID {
	var kinds []graph.KindID
	for _, p := range parts {
		for _, f := range findings[p.ID] {
			for _, m := range f.Measured {
				if _, ok := p.Feature(m.Feature); !ok {
					kinds = append(kinds, p.Kind)
				}
			}
		}
	}
	return kinds
}

// ReadKinds reads kinds of part.
func (l *Library) ReadKinds(ctx context.Context, ids []graph.KindID) error {
	missing := fresh(l, "kind", ids)
	if len(missing) == 0 {
		return nil
	}
	kinds, err := l.r.Kinds(ctx, missing...)
	for _, k := range kinds {
		l.kinds[k.ID] = k
	}
	return err
}

// ReadPartsOf reads the parts of kinds. Of more than MaxOfKind none is read, or
// given.
func (l *Library) ReadPartsOf(ctx context.Context, kinds []graph.KindID) ([]graph.PartID, error) {
	if len(kinds) == 0 {
		return nil, nil
	}
	ids, err := l.r.PartsOfKindUpTo(ctx, MaxOfKind+1, kinds...)
	if err != nil || len(ids) > MaxOfKind {
		return nil, err
	}
	return ids, l.ReadParts(ctx, ids)
}

// ReadLineages reads what parts gave way to and what gave way to them.
func (l *Library) ReadLineages(ctx context.Context, parts []graph.PartID) error {
	missing := fresh(l, "lineage", parts)
	if len(missing) == 0 {
		return nil
	}
	found, err := evidence.EdgesAround(ctx, l.r, missing)
	if len(found) > 0 {
		for id, e := range found {
			l.edges[id] = e
		}
		l.walker = evidence.NewWalker(l.edges)
	}
	if err != nil {
		return err
	}
	return l.readNewer(ctx, missing)
}

// readNewer reads what parts gave way to and may not take the place of: it may be a kit.
func (l *Library) readNewer(ctx context.Context, parts []graph.PartID) error {
	var newer []graph.PartID
	for _, id := range parts {
		for _, e := range l.walker.ByOld[id] {
			if e.OldOnNew == graph.No {
				newer = append(newer, e.New)
			}
		}
	}
	return l.ReadParts(ctx, newer)
}

// Refusal is why a part must not take the place of another on a variant, by a
// supersession that may not be gone that way; empty where none says so. A kit that it
// gave way to stands for what is in it. The frame number may be empty. Both parts must have been given to
// ReadLineages.
func (l *Library) Refusal(part, built graph.PartID, v graph.Variant, frame string) string {
	for _, c := range l.walker.On(v, frame).From(built) {
		if c.Target == part && c.Verdict() == graph.DoesNotFit {
			return c.Why()
		}
	}
	for _, e := range l.walker.ByOld[part] {
		ofKit := func(c graph.Content) bool { return c.Part == built && built != part }
		back := evidence.Lineage{Listed: e.New, Target: part, Edges: []graph.Supersession{e}}
		_, holds := back.HoldsOn(v, frame)
		if holds && e.OldOnNew == graph.No && slices.ContainsFunc(l.parts[e.New].Contains, ofKit) {
			return back.Why()
		}
	}
	return ""
}

// Retired says why a part that gave way to another must not go back in its place;
// see evidence.Retired. It must have been given to ReadLineages.
func (l *Library) Retired(part graph.PartID) string {
	return evidence.Retired(part, l.walker.ByOld[part])
}

// IsSuperseded reports whether a part gave way to a newer number, whether or not it may go
// back. It must have been given to ReadLineages.
func (l *Library) IsSuperseded(part graph.PartID) bool { return len(l.walker.ByOld[part]) > 0 }

// Ranked is a part that was read, its readings best first for a variant. All
// who ask for it share it.
func (l *Library) Ranked(id graph.PartID, v *graph.Variant) (graph.Part, bool) {
	p, ok := l.parts[id]
	if !ok {
		return graph.Part{}, false
	}
	key := rankedKey{part: id}
	if v != nil && l.several[id] {
		key.on = v.ID
	}
	ranked, have := l.best[key]
	if !have {
		ranked = l.voices.Ranked(p, l.kinds[p.Kind], l.findings[id], v)
		l.best[key] = ranked
	}
	return ranked, true
}

// isRanked reports whether anything is ranked of a part, so that it may read otherwise for
// another variant: no reading stands alone, or somebody found something out about it.
func (l *Library) isRanked(p *graph.Part) bool {
	return len(l.findings[p.ID]) > 0 || slices.ContainsFunc(p.Features, func(f graph.Feature) bool {
		for _, readings := range f.Dims {
			if len(readings) > 1 {
				return true
			}
		}
		return false
	})
}

// rankedFor is that at a place of a safety class; see evidence.Contested.
func (l *Library) rankedFor(id graph.PartID, v *graph.Variant, safety graph.Safety) (graph.Part, bool) {
	p, ok := l.Ranked(id, v)
	if !ok || safety == graph.SafetyNone {
		return p, ok
	}
	if !l.several[id] {
		return p, true
	}
	key := rankedKey{id, v.ID, true}
	contested, have := l.best[key]
	if !have {
		if contested = p; evidence.IsContested(p) {
			contested = evidence.Contested(p)
		}
		l.best[key] = contested
	}
	return contested, true
}

// ordered names the readings of a ranked part in their order, where some dimension has
// several: for another variant, another may come first. Of a part that was measured by
// one each, it is empty.
func ordered(p graph.Part) string {
	var b strings.Builder
	for _, f := range p.Features {
		for _, dim := range lists.KeysOf(f.Dims) {
			if len(f.Dims[dim]) > 1 {
				fmt.Fprint(&b, "; ", f.Name, " ", dim, " ", f.Dims[dim])
			}
		}
	}
	return b.String()
}

// rankedKey is a part as it is ranked for a variant; for none, the part alone.
type rankedKey struct {
	part      graph.PartID
	on        graph.VariantID
	contested bool // at a place with a safety class
}

// readingCites are the sources of a part's readings.
func readingCites(p graph.Part) []graph.Cite {
	var cites []graph.Cite
	for _, f := range p.Features {
		for _, readings := range f.Dims {
			for _, r := range readings {
				cites = append(cites, r.Cite)
			}
		}
	}
	return cites
}

// PartsIn lists the parts of fitments, sorted.
func PartsIn(fitments []graph.Fitment) []graph.PartID {
	return lists.Unique(lists.Mapped(fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
}

// positionsWith are the positions of a model whose kind of part has a feature of
// one of some kinds, sorted.
func (l *Library) positionsWith(ctx context.Context, model graph.ModelID,
	featureKinds []string) ([]graph.PositionID, error) {
	key := string(model) + " " + strings.Join(featureKinds, " ")
	if ids, ok := l.with[key]; ok {
		return ids, nil
	}
	kinds, err := l.r.KindsWith(ctx, featureKinds...)
	if err != nil {
		return nil, err
	}
	ids, err := l.r.PositionsOfKindOn(ctx, model, kinds...)
	if err != nil {
		return nil, err
	}
	l.with[key] = ids
	return ids, nil
}

// JointsTouching, and the like, give what touches any of the positions on a variant,
// sorted by identity. Once a few places were asked about, all there is of a model is
// read at once: it lies together, and costs less than what touches ten of its places.
func (l *Library) JointsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Joint, error) {
	return touching(ctx, l, "joints of", v, at, l.r.JointsOf, l.r.JointsAt,
		func(j graph.Joint) []graph.VariantID { return j.On })
}

// RunsTouching are runs.
func (l *Library) RunsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Run, error) {
	return touching(ctx, l, "runs of", v, at, l.r.RunsOf, l.r.RunsAt, func(r graph.Run) []graph.VariantID { return r.On })
}

// CircuitsTouching are circuits.
func (l *Library) CircuitsTouching(ctx context.Context, v graph.VariantID,
	at []graph.PositionID) ([]graph.Circuit, error) {
	return touching(ctx, l, "circuits of", v, at, l.r.CircuitsOf, l.r.CircuitsAt,
		func(c graph.Circuit) []graph.VariantID { return c.On })
}

// StacksTouching are rows.
func (l *Library) StacksTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Stack, error) {
	return touching(ctx, l, "rows of", v, at, l.r.StacksOf, l.r.StacksAt,
		func(s graph.Stack) []graph.VariantID { return s.On })
}

// fewPlaces is about how many places are read one by one before all of a model is.
const fewPlaces = 10

func touching[T any](ctx context.Context, l *Library, what string, v graph.VariantID, at []graph.PositionID,
	ofModels func(context.Context, ...graph.ModelID) ([]T, error),
	atPlaces func(context.Context, ...graph.PositionID) ([]T, error), on func(T) []graph.VariantID) ([]T, error) {
	if at = named(at); len(at) == 0 {
		return nil, ctx.Err()
	}
	of := what + " " + string(v.Model())
	if l.touched[of] += len(fresh(l, what+" those at", at)); l.touched[of] > fewPlaces {
		if models := fresh(l, what, []graph.ModelID{v.Model()}); len(models) > 0 {
			if _, err := ofModels(ctx, models...); err != nil {
				return nil, err
			}
		}
	}
	found, err := atPlaces(ctx, at...)
	return slices.DeleteFunc(found, func(one T) bool { return !slices.Contains(on(one), v) }), err
}

// named are the positions that have a name.
func named(at []graph.PositionID) []graph.PositionID {
	return lists.Kept(slices.Clone(at), func(id graph.PositionID) bool { return id != "" })
}
