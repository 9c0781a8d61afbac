package readertest

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/agext/levenshtein"

	"matewell/graph"
)

// VariantsOf gives the variants of the models.
func (r *Reader) VariantsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	if err := r.called(ctx, "VariantsOf"); err != nil {
		return nil, err
	}
	return with(&r.variants, "model",
		one(func(v graph.Variant) graph.ModelID { return v.Model }), variantID, models), nil
}

// VariantIDs gives the identities of the variants of the models.
func (r *Reader) VariantIDs(ctx context.Context, models ...graph.ModelID) ([]graph.VariantID, error) {
	if err := r.called(ctx, "VariantIDs"); err != nil {
		return nil, err
	}
	return idsWith(&r.variants, "model",
		one(func(v graph.Variant) graph.ModelID { return v.Model }), variantID, models), nil
}

// AssembliesOf gives the assemblies of the models.
func (r *Reader) AssembliesOf(ctx context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	if err := r.called(ctx, "AssembliesOf"); err != nil {
		return nil, err
	}
	return with(&r.assemblies, "model",
		one(func(a graph.Assembly) graph.ModelID { return a.Model }), assemblyID, models), nil
}

// PositionsIn gives the positions in the assemblies.
func (r *Reader) PositionsIn(ctx context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	if err := r.called(ctx, "PositionsIn"); err != nil {
		return nil, err
	}
	return with(&r.positions, "assembly",
		one(func(p graph.Position) graph.AssemblyID { return p.Assembly }), positionID, assemblies), nil
}

// PositionsOf gives the positions of the models.
func (r *Reader) PositionsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	if err := r.called(ctx, "PositionsOf"); err != nil {
		return nil, err
	}
	return with(&r.positions, "model",
		one(func(p graph.Position) graph.ModelID { return p.Model }), positionID, models), nil
}

// PartsByKey finds parts by the key of their identity, number, core or alias.
func (r *Reader) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartsByKey"); err != nil {
		return nil, err
	}
	return idsWith(&r.parts, "key", keysOf, partID, keys), nil
}

// keysOf are the keys by which a part is found.
func keysOf(p graph.Part) []string {
	own := []string{graph.NumberKey(string(p.ID)), graph.NumberKey(p.Number.Text), p.Number.CoreKey()}
	for _, a := range p.Aliases {
		own = append(own, graph.NumberKey(a.Text))
	}
	return own
}

// PartNumbers gives the parts with a key that begins with a prefix.
func (r *Reader) PartNumbers(ctx context.Context, prefix string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbers"); err != nil {
		return nil, err
	}
	return r.byKeys(func(key string) bool { return strings.HasPrefix(key, prefix) }, n), nil
}

// PartNumbersHolding gives the parts with a key that holds a piece.
func (r *Reader) PartNumbersHolding(ctx context.Context, piece string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbersHolding"); err != nil || piece == "" || n == 0 {
		return nil, err
	}
	return r.byKeys(func(key string) bool { return strings.Contains(key, piece) }, n), nil
}

// byKeys are the parts of the first n keys that are wanted; of all for n of 0.
func (r *Reader) byKeys(wantedKey func(string) bool, n int) []graph.PartID {
	var found [][2]string // key, part
	for _, p := range r.parts.items {
		for _, key := range p.Keys() {
			if wantedKey(key) {
				found = append(found, [2]string{key, string(p.ID)})
			}
		}
	}
	slices.SortFunc(found, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	if n > 0 {
		found = found[:min(n, len(found))]
	}
	wanted := map[graph.PartID]bool{}
	for _, entry := range found {
		wanted[graph.PartID(entry[1])] = true
	}
	return r.partIDs(func(p graph.Part) bool { return wanted[p.ID] })
}

// PartNumbersNear gives the parts with a key that is near another.
func (r *Reader) PartNumbersNear(ctx context.Context, key string, n int) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartNumbersNear"); err != nil {
		return nil, err
	}
	limit, far := graph.NearLimit(key), map[graph.PartID]int{}
	near := r.partIDs(func(p graph.Part) bool {
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
	return r.partIDs(func(p graph.Part) bool { return hasEach(words, p.NameWords()) }), nil
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

func hasEach(words, own []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		return !slices.ContainsFunc(own, func(h string) bool { return graph.WordMeans(word, h) })
	})
}

// PartIDs lists every part.
func (r *Reader) PartIDs(ctx context.Context) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartIDs"); err != nil {
		return nil, err
	}
	return r.partIDs(func(graph.Part) bool { return true }), nil
}

// PartsOfKind lists the parts of the kinds.
func (r *Reader) PartsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	if err := r.called(ctx, "PartsOfKind"); err != nil {
		return nil, err
	}
	return idsWith(&r.parts, "kind",
		one(func(p graph.Part) graph.KindID { return p.Kind }), partID, kinds), nil
}

// PositionsOfKind lists the positions at which a part of the kinds belongs.
func (r *Reader) PositionsOfKind(ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	if err := r.called(ctx, "PositionsOfKind"); err != nil {
		return nil, err
	}
	return idsWith(&r.positions, "kind",
		one(func(p graph.Position) graph.KindID { return p.Kind }), positionID, kinds), nil
}

// KindsWith lists the kinds that have a feature of the feature kinds.
func (r *Reader) KindsWith(ctx context.Context, featureKinds ...string) ([]graph.KindID, error) {
	if err := r.called(ctx, "KindsWith"); err != nil {
		return nil, err
	}
	return idsWith(&r.kinds, "feature", func(k graph.Kind) (kinds []string) {
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
	return idsWith(&r.parts, "content", func(p graph.Part) (parts []graph.PartID) {
		for _, c := range p.Contains {
			parts = append(parts, c.Part)
		}
		return parts
	}, partID, parts), nil
}

// partIDs are the identities of the parts that are wanted, sorted.
func (r *Reader) partIDs(wanted func(graph.Part) bool) []graph.PartID {
	var ids []graph.PartID
	for _, p := range r.parts.items {
		if wanted(p) {
			ids = append(ids, p.ID)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// FitmentsOf gives the fitments of the parts.
func (r *Reader) FitmentsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	if err := r.called(ctx, "FitmentsOf"); err != nil {
		return nil, err
	}
	return with(&r.fitments, "part",
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
	return with(&r.fitments, "position",
		one(func(f graph.Fitment) graph.PositionID { return f.Position }), fitmentID, positions), nil
}

// FitmentsOn gives the fitments on the variants.
func (r *Reader) FitmentsOn(ctx context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	if err := r.called(ctx, "FitmentsOn"); err != nil {
		return nil, err
	}
	return with(&r.fitments, "variant", func(f graph.Fitment) []graph.VariantID { return f.On }, fitmentID, variants), nil
}

// SupersessionsOf gives the edges that leave or enter one of the parts.
func (r *Reader) SupersessionsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	if err := r.called(ctx, "SupersessionsOf"); err != nil {
		return nil, err
	}
	return with(&r.supersessions, "part",
		func(s graph.Supersession) []graph.PartID { return []graph.PartID{s.Old, s.New} }, supersessionID, parts), nil
}

// FindingsOf gives the findings about the parts.
func (r *Reader) FindingsOf(ctx context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	if err := r.called(ctx, "FindingsOf"); err != nil {
		return nil, err
	}
	return with(&r.findings, "part",
		one(func(f graph.Finding) graph.PartID { return f.Part }), findingID, parts), nil
}

// FindingsAt gives the findings at the positions.
func (r *Reader) FindingsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	if err := r.called(ctx, "FindingsAt"); err != nil {
		return nil, err
	}
	return with(&r.findings, "position",
		one(func(f graph.Finding) graph.PositionID { return f.Position }), findingID, positions), nil
}
