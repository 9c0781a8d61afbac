package storetest

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
)

// question is one call of one method of a reader.
type question struct {
	name string
	ask  func(ctx context.Context, r graph.Reader) (any, error)
}

// questions are all methods, each with nothing, with something unknown, with
// each of a few identities, and with all of them twice and out of order.
func questions(f graph.Facts) []question {
	models := ids(f.Models, func(v graph.Model) graph.ModelID { return v.ID })
	assemblies := ids(f.Assemblies, func(v graph.Assembly) graph.AssemblyID { return v.ID })
	at := ids(f.Positions, func(v graph.Position) graph.PositionID { return v.ID })
	variants := ids(f.Variants, func(v graph.Variant) graph.VariantID { return v.ID })
	parts := ids(f.Parts, func(v graph.Part) graph.PartID { return v.ID })
	kinds := ids(f.Kinds, func(v graph.Kind) graph.KindID { return v.ID })
	var keys, featureKinds []string
	for _, k := range f.Kinds {
		for _, feature := range k.Features {
			featureKinds = append(featureKinds, feature.Kind)
		}
	}
	for _, p := range f.Parts {
		keys = append(keys, partKeys(p)...)
	}
	return slices.Concat(
		ways("Sources", graph.Reader.Sources, ids(f.Sources, func(v graph.Source) graph.SourceID { return v.ID })),
		ways("Brands", graph.Reader.Brands, ids(f.Brands, func(v graph.Brand) graph.BrandID { return v.ID })),
		ways("Kinds", graph.Reader.Kinds, kinds),
		ways("Models", graph.Reader.Models, models),
		ways("Findings", graph.Reader.Findings, ids(f.Findings, func(v graph.Finding) graph.FindingID { return v.ID })),
		ways("Bikes", graph.Reader.Bikes, ids(f.Bikes, func(v graph.Bike) graph.BikeID { return v.ID })),
		ways("Jobs", graph.Reader.Jobs, ids(f.Jobs, func(v graph.Job) graph.JobID { return v.ID })),
		ways("Variants", graph.Reader.Variants, variants),
		ways("Assemblies", graph.Reader.Assemblies, assemblies),
		ways("Positions", graph.Reader.Positions, at),
		ways("Parts", graph.Reader.Parts, parts),
		ways("VariantsOf", graph.Reader.VariantsOf, models),
		ways("VariantIDs", graph.Reader.VariantIDs, models),
		ways("AssembliesOf", graph.Reader.AssembliesOf, models),
		ways("PositionsIn", graph.Reader.PositionsIn, assemblies),
		ways("PositionsOf", graph.Reader.PositionsOf, models),
		ways("PositionIDs", graph.Reader.PositionIDs, models),
		ways("PartsByKey", graph.Reader.PartsByKey, keys),
		numberQuestions(keys),
		[]question{{"PartIDs", func(ctx context.Context, r graph.Reader) (any, error) { return r.PartIDs(ctx) }}},
		ways("PartsWithWords", graph.Reader.PartsWithWords, nameWords(f)),
		ways("ModelsWithWords", graph.Reader.ModelsWithWords, nameWords(f)),
		wordPairs(f),
		ways("PartsOfKind", graph.Reader.PartsOfKind, kinds),
		ways("PartsOfKindUpTo", func(r graph.Reader, ctx context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
			return r.PartsOfKindUpTo(ctx, 2, kinds...)
		}, kinds),
		ways("PositionsOfKind", graph.Reader.PositionsOfKind, kinds),
		ways("PositionsOfKindOn", func(r graph.Reader, ctx context.Context, kinds ...graph.KindID) ([]graph.PositionID,
			error) {
			return r.PositionsOfKindOn(ctx, slices.Concat(models, []graph.ModelID{"none"})[0], kinds...)
		}, kinds),
		ways("KindsWith", graph.Reader.KindsWith, featureKinds),
		ways("KitsWith", graph.Reader.KitsWith, parts),
		ways("FitmentsOf", graph.Reader.FitmentsOf, parts),
		ways("FitmentsUpTo", func(r graph.Reader, ctx context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
			return r.FitmentsUpTo(ctx, 2, parts...)
		}, parts),
		ways("FitmentCounts", graph.Reader.FitmentCounts, parts),
		ways("FitmentsAt", graph.Reader.FitmentsAt, at),
		ways("FitmentsOn", graph.Reader.FitmentsOn, variants),
		ways("SupersessionsOf", graph.Reader.SupersessionsOf, parts),
		ways("JointsAt", graph.Reader.JointsAt, at),
		ways("JointsOf", graph.Reader.JointsOf, models),
		ways("RunsAt", graph.Reader.RunsAt, at),
		ways("RunsOf", graph.Reader.RunsOf, models),
		ways("CircuitsAt", graph.Reader.CircuitsAt, at),
		ways("CircuitsOf", graph.Reader.CircuitsOf, models),
		ways("StacksAt", graph.Reader.StacksAt, at),
		ways("StacksOf", graph.Reader.StacksOf, models),
		ways("FindingsOf", graph.Reader.FindingsOf, parts),
		ways("FindingsAt", graph.Reader.FindingsAt, at),
	)
}

// nameWords are the words of parts and places, each once, and beginnings of some.
func nameWords(f graph.Facts) []string {
	var words []string
	for _, p := range f.Parts {
		words = append(words, p.NameWords()...)
	}
	for _, p := range f.Positions {
		words = append(words, p.NameWords()...)
	}
	for _, word := range words[:min(len(words), 20)] {
		words = append(words, word[:len(word)*2/3])
	}
	slices.Sort(words)
	return slices.Compact(words)
}

// wordPairs asks for two words of one name.
func wordPairs(f graph.Facts) []question {
	var list []question
	for _, p := range f.Parts[:min(len(f.Parts), 10)] {
		words := p.NameWords()
		if len(words) < 2 {
			continue
		}
		words = []string{words[len(words)-1], words[0]}
		list = append(list, question{fmt.Sprintf("PartsWithWords(%q)", words),
			func(ctx context.Context, r graph.Reader) (any, error) { return r.PartsWithWords(ctx, words...) }})
	}
	return list
}

// singly is how many identities are asked for one by one.
const singly = 3

func ways[K ~string, T any](name string, method func(graph.Reader, context.Context, ...K) (T, error),
	ids []K) []question {
	backwards := slices.Clone(ids)
	slices.Reverse(backwards)
	arguments := [][]K{nil, {"nobody knows"}, slices.Concat(backwards, ids, []K{"nobody knows"})}
	for _, id := range ids[:min(singly, len(ids))] {
		arguments = append(arguments, []K{id})
	}
	var list []question
	for _, args := range arguments {
		list = append(list, question{
			name: fmt.Sprintf("%s(%q)", name, args),
			ask:  func(ctx context.Context, r graph.Reader) (any, error) { return method(r, ctx, args...) },
		})
	}
	return list
}

func ids[T any, K ~string](list []T, id func(T) K) []K {
	var found []K
	for _, v := range list {
		found = append(found, id(v))
	}
	return found
}

// numberQuestions are those about numbers that begin as others do, or are near
// them.
func numberQuestions(keys []string) []question {
	var list []question
	for i, key := range append([]string{"", "NONE"}, keys...) {
		letters := []rune(key)
		for _, prefix := range []string{key, string(letters[:len(letters)/2])} {
			for _, n := range []int{0, 1, 3} {
				list = append(list, question{fmt.Sprintf("PartNumbers(%q, %d)", prefix, n),
					func(ctx context.Context, r graph.Reader) (any, error) { return r.PartNumbers(ctx, prefix, n) }})
			}
		}
		for _, piece := range []string{key, string(letters[len(letters)/3:]), string(letters[:len(letters)/2])} {
			list = append(list, question{fmt.Sprintf("PartNumbersHolding(%q, %d)", piece, i),
				func(ctx context.Context, r graph.Reader) (any, error) { return r.PartNumbersHolding(ctx, piece, i) }})
		}
		for _, other := range []string{key, key + "7", "7" + key, string(letters[len(letters)/2:])} {
			list = append(list, question{fmt.Sprintf("PartNumbersNear(%q, %d)", other, i),
				func(ctx context.Context, r graph.Reader) (any, error) { return r.PartNumbersNear(ctx, other, i) }})
		}
	}
	return list
}
