package storetest

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/agext/levenshtein"

	"matewell/graph"
)

// oracle is a graph.Reader that looks through a data set from front to back:
// slow, and plain enough to be right. Its lists are sorted because those of
// graph.Facts are.
type oracle struct {
	f graph.Facts
}

var _ graph.Reader = oracle{}

// where gives the members of a list that one of the keys belongs to.
func where[T any, K comparable](list []T, wanted []K, keys func(T) []K) ([]T, error) {
	var found []T
	for _, v := range list {
		if slices.ContainsFunc(keys(v), func(k K) bool { return slices.Contains(wanted, k) }) {
			found = append(found, v)
		}
	}
	return found, nil
}

// whereOrAll is where, or the whole list when nothing is asked for.
func whereOrAll[T any, K comparable](list []T, wanted []K, key func(T) K) ([]T, error) {
	if len(wanted) == 0 {
		return slices.Clone(list), nil
	}
	return where(list, wanted, func(v T) []K { return []K{key(v)} })
}

func one[T, K any](key func(T) K) func(T) []K { return func(v T) []K { return []K{key(v)} } }

func (o oracle) Sources(_ context.Context, ids ...graph.SourceID) ([]graph.Source, error) {
	return whereOrAll(o.f.Sources, ids, func(v graph.Source) graph.SourceID { return v.ID })
}

func (o oracle) Brands(_ context.Context, ids ...graph.BrandID) ([]graph.Brand, error) {
	return whereOrAll(o.f.Brands, ids, func(v graph.Brand) graph.BrandID { return v.ID })
}

func (o oracle) Kinds(_ context.Context, ids ...graph.KindID) ([]graph.Kind, error) {
	return whereOrAll(o.f.Kinds, ids, func(v graph.Kind) graph.KindID { return v.ID })
}

func (o oracle) Models(_ context.Context, ids ...graph.ModelID) ([]graph.Model, error) {
	return whereOrAll(o.f.Models, ids, func(v graph.Model) graph.ModelID { return v.ID })
}

func (o oracle) Findings(_ context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	return whereOrAll(o.f.Findings, ids, func(v graph.Finding) graph.FindingID { return v.ID })
}

func (o oracle) Jobs(_ context.Context, ids ...graph.JobID) ([]graph.Job, error) {
	return whereOrAll(o.f.Jobs, ids, func(v graph.Job) graph.JobID { return v.ID })
}

func (o oracle) Bikes(_ context.Context, ids ...graph.BikeID) ([]graph.Bike, error) {
	return whereOrAll(o.f.Bikes, ids, func(v graph.Bike) graph.BikeID { return v.ID })
}

func (o oracle) Variants(_ context.Context, ids ...graph.VariantID) ([]graph.Variant, error) {
	return where(o.f.Variants, ids, one(func(v graph.Variant) graph.VariantID { return v.ID }))
}

func (o oracle) Assemblies(_ context.Context, ids ...graph.AssemblyID) ([]graph.Assembly, error) {
	return where(o.f.Assemblies, ids, one(func(v graph.Assembly) graph.AssemblyID { return v.ID }))
}

func (o oracle) Positions(_ context.Context, ids ...graph.PositionID) ([]graph.Position, error) {
	return where(o.f.Positions, ids, one(func(v graph.Position) graph.PositionID { return v.ID }))
}

func (o oracle) Parts(_ context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	return where(o.f.Parts, ids, one(func(v graph.Part) graph.PartID { return v.ID }))
}

func (o oracle) VariantsOf(_ context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	return where(o.f.Variants, models, one(func(v graph.Variant) graph.ModelID { return v.Model }))
}

func (o oracle) VariantIDs(ctx context.Context, models ...graph.ModelID) ([]graph.VariantID, error) {
	found, err := o.VariantsOf(ctx, models...)
	var ids []graph.VariantID
	for _, v := range found {
		ids = append(ids, v.ID)
	}
	return ids, err
}

func (o oracle) AssembliesOf(_ context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	return where(o.f.Assemblies, models, one(func(v graph.Assembly) graph.ModelID { return v.Model }))
}

func (o oracle) PositionsIn(_ context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	return where(o.f.Positions, assemblies, one(func(v graph.Position) graph.AssemblyID { return v.Assembly }))
}

func (o oracle) PositionsOf(_ context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	return where(o.f.Positions, models, one(func(v graph.Position) graph.ModelID { return v.Model }))
}

func partIDs(parts []graph.Part, err error) ([]graph.PartID, error) {
	var ids []graph.PartID
	for _, v := range parts {
		ids = append(ids, v.ID)
	}
	return ids, err
}

func (o oracle) PartsByKey(_ context.Context, keys ...string) ([]graph.PartID, error) {
	return partIDs(where(o.f.Parts, keys, partKeys))
}

// partKeys are the keys a part is found by.
func partKeys(v graph.Part) []string {
	texts := []string{string(v.ID), v.Number.Text, v.Number.Core}
	for _, a := range v.Aliases {
		texts = append(texts, a.Text)
	}
	var keys []string
	for _, text := range texts {
		if key := graph.NumberKey(text); key != "" {
			keys = append(keys, key)
		}
	}
	return keys
}

func (o oracle) PartNumbers(_ context.Context, prefix string, n int) ([]graph.PartID, error) {
	return numbersWhere(o.f.Parts, func(key string) bool { return strings.HasPrefix(key, prefix) }, n), nil
}

func (o oracle) PartNumbersHolding(_ context.Context, piece string, n int) ([]graph.PartID, error) {
	if piece == "" || n == 0 {
		return nil, nil
	}
	return numbersWhere(o.f.Parts, func(key string) bool { return strings.Contains(key, piece) }, n), nil
}

func (o oracle) PartNumbersNear(_ context.Context, key string, n int) ([]graph.PartID, error) {
	return numbersNear(o.f.Parts, key, n), nil
}

// numbersWhere are the parts of the first n keys that are wanted, of all for n
// of 0, found by looking at every key of each part.
func numbersWhere(parts []graph.Part, wanted func(key string) bool, n int) []graph.PartID {
	type entry struct {
		key  string
		part graph.PartID
	}
	var all []entry
	for _, p := range parts {
		for _, key := range slices.Compact(slices.Sorted(slices.Values(partKeys(p)))) {
			if wanted(key) {
				all = append(all, entry{key, p.ID})
			}
		}
		if len(partKeys(p)) == 0 && wanted("") {
			all = append(all, entry{"", p.ID})
		}
	}
	slices.SortFunc(all, func(a, b entry) int { return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.part, b.part)) })
	if n > 0 {
		all = all[:min(n, len(all))]
	}
	var ids []graph.PartID
	for _, e := range all {
		ids = append(ids, e.part)
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// numbersNear is what PartNumbersNear gives of some parts, found by comparing
// with every key of each.
func numbersNear(parts []graph.Part, key string, n int) []graph.PartID {
	type entry struct {
		distance int
		part     graph.PartID
	}
	limit := graph.NearLimit(key)
	var all []entry
	for _, p := range parts {
		best := limit + 1
		for _, own := range partKeys(p) {
			best = min(best, levenshtein.Distance(key, own, nil))
		}
		if best <= limit && key != "" {
			all = append(all, entry{best, p.ID})
		}
	}
	slices.SortFunc(all, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.part,
			b.part))
	})
	var ids []graph.PartID
	for _, e := range all[:min(n, len(all))] {
		ids = append(ids, e.part)
	}
	return ids
}

func (o oracle) PartsWithWords(_ context.Context, words ...string) ([]graph.PartID, error) {
	var found []graph.Part
	for _, p := range o.f.Parts {
		if everyWord(words, p.Name+" "+string(p.Kind)) {
			found = append(found, p)
		}
	}
	return partIDs(found, nil)
}

func (o oracle) ModelsWithWords(_ context.Context, words ...string) ([]graph.ModelID, error) {
	texts := map[graph.ModelID]string{}
	for _, p := range o.f.Positions {
		texts[p.Model] += " " + p.ID.Local() + " " + p.Name + " " + string(p.Kind)
	}
	var found []graph.ModelID
	for model, text := range texts {
		if everyWord(words, text) {
			found = append(found, model)
		}
	}
	slices.Sort(found)
	return found, nil
}

// everyWord looks for each word among those of a text.
func everyWord(words []string, text string) bool {
	for _, word := range words {
		if !slices.ContainsFunc(graph.Words(text), func(h string) bool { return graph.WordMeans(word, h) }) {
			return false
		}
	}
	return len(words) > 0
}

func (o oracle) PartIDs(context.Context) ([]graph.PartID, error) { return partIDs(o.f.Parts, nil) }

func (o oracle) PartsOfKind(_ context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	return partIDs(where(o.f.Parts, kinds, one(func(v graph.Part) graph.KindID { return v.Kind })))
}

func (o oracle) PartsOfKindUpTo(ctx context.Context, n int, kinds ...graph.KindID) ([]graph.PartID, error) {
	all, err := o.PartsOfKind(ctx, kinds...)
	of := map[graph.PartID]graph.KindID{}
	for _, p := range o.f.Parts {
		of[p.ID] = p.Kind
	}
	have := map[graph.KindID]int{}
	return slices.DeleteFunc(all, func(id graph.PartID) bool {
		have[of[id]]++
		return have[of[id]] > n
	}), err
}

func (o oracle) PositionIDs(ctx context.Context, models ...graph.ModelID) ([]graph.PositionID, error) {
	found, err := o.PositionsOf(ctx, models...)
	var ids []graph.PositionID
	for _, p := range found {
		ids = append(ids, p.ID)
	}
	return ids, err
}

func (o oracle) PositionsOfKindOn(ctx context.Context, model graph.ModelID,
	kinds ...graph.KindID) ([]graph.PositionID, error) {
	found, err := o.PositionsOf(ctx, model)
	var ids []graph.PositionID
	for _, p := range found {
		if slices.Contains(kinds, p.Kind) {
			ids = append(ids, p.ID)
		}
	}
	return ids, err
}

func (o oracle) PositionsOfKind(_ context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	found, err := where(o.f.Positions, kinds, one(func(v graph.Position) graph.KindID { return v.Kind }))
	var ids []graph.PositionID
	for _, p := range found {
		ids = append(ids, p.ID)
	}
	return ids, err
}

func (o oracle) KindsWith(_ context.Context, featureKinds ...string) ([]graph.KindID, error) {
	found, err := where(o.f.Kinds, featureKinds, func(v graph.Kind) []string {
		var names []string
		for _, f := range v.Features {
			names = append(names, f.Kind)
		}
		return names
	})
	var ids []graph.KindID
	for _, k := range found {
		ids = append(ids, k.ID)
	}
	return ids, err
}

func (o oracle) KitsWith(_ context.Context, parts ...graph.PartID) ([]graph.PartID, error) {
	return partIDs(where(o.f.Parts, parts, func(v graph.Part) []graph.PartID {
		var ids []graph.PartID
		for _, c := range v.Contains {
			ids = append(ids, c.Part)
		}
		return ids
	}))
}

func (o oracle) FitmentsOf(_ context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	return where(o.f.Fitments, parts, one(func(v graph.Fitment) graph.PartID { return v.Part }))
}

func (o oracle) FitmentsUpTo(ctx context.Context, n int, parts ...graph.PartID) ([]graph.Fitment, error) {
	all, err := o.FitmentsOf(ctx, parts...)
	var some []graph.Fitment
	have := map[graph.PartID]int{}
	for _, f := range all {
		if have[f.Part]++; have[f.Part] <= n {
			some = append(some, f)
		}
	}
	return some, err
}

func (o oracle) FitmentCounts(ctx context.Context, parts ...graph.PartID) (map[graph.PartID]int, error) {
	all, err := o.FitmentsOf(ctx, parts...)
	counts := map[graph.PartID]int{}
	for _, f := range all {
		counts[f.Part]++
	}
	return counts, err
}

func (o oracle) FitmentsAt(_ context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	return where(o.f.Fitments, positions, one(func(v graph.Fitment) graph.PositionID { return v.Position }))
}

func (o oracle) FitmentsOn(_ context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	return where(o.f.Fitments, variants, func(v graph.Fitment) []graph.VariantID { return v.On })
}

func (o oracle) SupersessionsOf(_ context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	return where(o.f.Supersessions, parts, func(v graph.Supersession) []graph.PartID {
		return []graph.PartID{v.Old,
			v.New}
	})
}

func positions(list []graph.PositionID, refs ...graph.FeatureRef) []graph.PositionID {
	ids := slices.Clone(list)
	for _, ref := range refs {
		ids = append(ids, ref.Position)
	}
	return ids
}

func (o oracle) JointsAt(_ context.Context, at ...graph.PositionID) ([]graph.Joint, error) {
	return where(o.f.Joints, at, func(v graph.Joint) []graph.PositionID {
		return positions(slices.Concat(v.Fasteners, v.Renew), v.A, v.B)
	})
}

func (o oracle) JointsOf(_ context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	return where(o.f.Joints, models, one(func(v graph.Joint) graph.ModelID { return v.Model }))
}

func (o oracle) RunsAt(_ context.Context, at ...graph.PositionID) ([]graph.Run, error) {
	return where(o.f.Runs, at, func(v graph.Run) []graph.PositionID {
		return positions(append([]graph.PositionID{v.Line}, v.Hot...), slices.Concat([]graph.FeatureRef{v.From, v.To},
			v.MovedBy, v.LengthenedBy)...)
	})
}

func (o oracle) RunsOf(_ context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	return where(o.f.Runs, models, one(func(v graph.Run) graph.ModelID { return v.Model }))
}

func (o oracle) CircuitsAt(_ context.Context, at ...graph.PositionID) ([]graph.Circuit, error) {
	return where(o.f.Circuits, at, func(v graph.Circuit) []graph.PositionID {
		return slices.Concat(v.Feeds, v.Fed, v.Members)
	})
}

func (o oracle) CircuitsOf(_ context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	return where(o.f.Circuits, models, one(func(v graph.Circuit) graph.ModelID { return v.Model }))
}

func (o oracle) StacksAt(_ context.Context, at ...graph.PositionID) ([]graph.Stack, error) {
	return where(o.f.Stacks, at, func(v graph.Stack) []graph.PositionID {
		return positions(nil, slices.Concat([]graph.FeatureRef{v.Within, v.Centre}, v.Row)...)
	})
}

func (o oracle) StacksOf(_ context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	return where(o.f.Stacks, models, one(func(v graph.Stack) graph.ModelID { return v.Model }))
}

func (o oracle) FindingsOf(_ context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	return where(o.f.Findings, parts, one(func(v graph.Finding) graph.PartID { return v.Part }))
}

func (o oracle) FindingsAt(_ context.Context, at ...graph.PositionID) ([]graph.Finding, error) {
	return where(o.f.Findings, at, one(func(v graph.Finding) graph.PositionID { return v.Position }))
}
