package part

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/once"
)

// WhereQuestion asks which machines use a part, so that a search for a used one
// can be widened.
type WhereQuestion struct {
	Part string // a number in any spelling, or its core alone
}

// WhereAnswer lists every use of a part and, apart from it, of its near twins.
type WhereAnswer struct {
	Part evidence.PartLine `json:"part"`
	// Core are the parts of which the core alone was asked for, sorted, Part the first of
	// them; empty when one part was.
	Core []graph.PartID `json:"core,omitempty"`
	// Uses are those of the part itself, by model, position and years.
	Uses []evidence.Use `json:"uses"`
	// Holds is what a kit or an assembly holds, in its order, each with where that is listed.
	Holds []HeldPart `json:"holds,omitempty"`
	// Revisions are the other numbers of the core. They are near twins: what
	// fits one need not fit the other.
	Revisions []evidence.Twin `json:"revisions,omitempty"`
	// Gaps are markets of the models above that no source of these uses speaks
	// for: a use there may only be unrecorded.
	Gaps []MarketGap `json:"gaps,omitempty"`
}

// HeldPart is a part that a kit holds.
type HeldPart struct {
	Part     graph.PartID `json:"part"`
	Name     string       `json:"name,omitempty"`
	Quantity int          `json:"quantity"`
	// Uses are the first of where it is listed, MoreListed how many it leaves out.
	Uses       []evidence.Use `json:"uses,omitempty"`
	MoreListed int            `json:"more_listed,omitempty"`
}

// MarketGap is a market that the sources are silent about.
type MarketGap struct {
	Model  graph.ModelID `json:"model"`
	Market string        `json:"market"`
}

// Where answers which machines use a part. Errors are *NotFoundError,
// *AmbiguousError, or come from the reader.
func Where(ctx context.Context, r graph.Reader, q WhereQuestion) (WhereAnswer, error) {
	var a WhereAnswer
	r = once.New(r)
	id, core, err := partOrCore(ctx, r, q.Part)
	if err != nil {
		return a, err
	}
	a.Core = core
	parts, err := r.Parts(ctx, id)
	if err != nil {
		return a, err
	}
	if len(parts) == 0 {
		return a, &queries.NotFoundError{What: "part", Asked: q.Part}
	}
	a.Part = *evidence.LineOfPart(parts[0])
	uses, err := evidence.UsesOf(ctx, r, []graph.PartID{id})
	if err != nil {
		return a, err
	}
	a.Uses = uses[id]
	if a.Holds, err = heldParts(ctx, r, parts[0].Contains); err != nil {
		return a, err
	}
	if a.Revisions, err = evidence.TwinsOf(ctx, r, parts[0]); err != nil {
		return a, err
	}
	a.Gaps, err = marketGaps(ctx, r, a.Uses)
	return a, err
}

// partOrCore finds the one part that a typed number stands for, or the first of all those that
// share the core which it is, whatever their revision and colour: a search for a used part is
// widened over these too.
func partOrCore(ctx context.Context, r graph.Reader, typed string) (graph.PartID, []graph.PartID, error) {
	found, err := queries.PartsFor(ctx, r, typed)
	if err != nil {
		return "", nil, err
	}
	ids := lists.Mapped(found, func(f queries.Found) graph.PartID { return f.Part })
	if len(ids) == 1 {
		return ids[0], nil, nil
	}
	parts, err := r.Parts(ctx, ids...)
	for _, p := range parts {
		if p.Brand != parts[0].Brand || p.Number.CoreKey() != parts[0].Number.CoreKey() {
			id, err := queries.PartFor(ctx, r, typed) // reports which it could be
			return id, nil, err
		}
	}
	return ids[0], ids, err
}

// heldParts are the contents of a kit with where each is listed.
func heldParts(ctx context.Context, r graph.Reader, contents []graph.Content) ([]HeldPart, error) {
	if len(contents) == 0 {
		return nil, nil
	}
	ids := lists.Unique(lists.Mapped(contents, func(c graph.Content) graph.PartID { return c.Part }))
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	known := lists.ByKey(parts, func(p graph.Part) graph.PartID { return p.ID })
	l := listings{r: r}
	if l.counts, err = r.FitmentCounts(ctx, ids...); err != nil {
		return nil, err
	}
	uses, left, err := l.uses(ctx, ids)
	if err != nil {
		return nil, err
	}
	return lists.Mapped(contents, func(c graph.Content) HeldPart {
		return HeldPart{Part: c.Part, Name: known[c.Part].Name, Quantity: c.Quantity, Uses: uses[c.Part],
			MoreListed: left[c.Part]}
	}), nil
}

// marketGaps finds the markets of the models that none of the sources covers by
// its scope. A source without a market in its scope covers them all.
func marketGaps(ctx context.Context, r graph.Reader, uses []evidence.Use) ([]MarketGap, error) {
	models := map[graph.ModelID][]graph.SourceID{}
	var sources []graph.SourceID
	for _, use := range uses {
		for _, s := range use.Sources {
			models[use.Coverage.Model] = append(models[use.Coverage.Model], graph.SourceID(s.ID))
			sources = append(sources, graph.SourceID(s.ID))
		}
	}
	if len(models) == 0 {
		return nil, nil
	}
	read, err := r.Sources(ctx, lists.Unique(sources)...)
	if err != nil {
		return nil, err
	}
	scopes := lists.ByKey(read, func(s graph.Source) graph.SourceID { return s.ID })
	variants, err := r.VariantIDs(ctx, lists.KeysOf(models)...)
	if err != nil {
		return nil, err
	}
	looked := map[MarketGap]bool{}
	var gaps []MarketGap
	for _, id := range variants {
		v := queries.VariantOf(id)
		gap := MarketGap{Model: v.Model, Market: v.Market}
		if looked[gap] {
			continue
		}
		looked[gap] = true
		if !slices.ContainsFunc(models[v.Model], func(id graph.SourceID) bool {
			markets := scopes[id].Scope.Markets
			return len(markets) == 0 || slices.Contains(markets, v.Market)
		}) {
			gaps = append(gaps, gap)
		}
	}
	slices.SortFunc(gaps, func(x, y MarketGap) int {
		return cmp.Or(cmp.Compare(x.Model, y.Model), cmp.Compare(x.Market, y.Market))
	})
	return gaps, nil
}
