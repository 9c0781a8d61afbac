package queries

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// maxWordy is how many parts or places an error lists where words stand for
// many.
const maxWordy = 8

// Words are the words of a text: see graph.Words.
func Words(text string) []string { return graph.Words(text) }

// HasWords reports whether each of the words is one of the texts', or begins
// one of theirs; none is in nothing.
func HasWords(words []string, texts ...string) bool {
	has := Words(strings.Join(texts, " "))
	for _, word := range words {
		if !slices.ContainsFunc(has, func(h string) bool { return graph.WordMeans(word, h) }) {
			return false
		}
	}
	return len(words) > 0
}

// KindsWithWords are the kinds of part that go by the words: first those whose
// whole name they are, else those that have them all in identity or name.
func KindsWithWords(kinds []graph.Kind, words []string) []graph.Kind {
	whole := lists.Kept(kinds, func(k graph.Kind) bool {
		return slices.Equal(Words(string(k.ID)), words) || slices.Equal(Words(k.Name), words)
	})
	if len(whole) > 0 {
		return whole
	}
	return lists.Kept(kinds, func(k graph.Kind) bool { return HasWords(words, string(k.ID), k.Name) })
}

// PartsNamed finds parts by what a person calls them: those of a kind that goes
// by the words, those that belong at a place that does, and, where there are
// none, those whose own name has the words. The result is sorted; it is empty
// when nothing goes by them.
func PartsNamed(ctx context.Context, r graph.Reader, typed string) ([]graph.Part, error) {
	words := Words(typed)
	kinds, err := r.Kinds(ctx)
	if err != nil || len(words) == 0 {
		return nil, err
	}
	var ids []graph.PartID
	if named := KindsWithWords(kinds, words); len(named) > 0 {
		ids, err = r.PartsOfKind(ctx, lists.Mapped(named, func(k graph.Kind) graph.KindID { return k.ID })...)
		if err != nil {
			return nil, err
		}
	}
	if len(ids) == 0 {
		if ids, err = partsAtPlacesNamed(ctx, r, words); err != nil {
			return nil, err
		}
	}
	if len(ids) > 0 {
		return r.Parts(ctx, lists.Unique(ids)...)
	}
	if ids, err = r.PartsWithWords(ctx, words...); err != nil {
		return nil, err
	}
	parts, err := r.Parts(ctx, ids...)
	return lists.Kept(parts, func(p graph.Part) bool { return HasWords(words, p.Name, string(p.Kind)) }), err
}

// partsAtPlacesNamed are the parts that are listed at places of any model that
// go by the words.
func partsAtPlacesNamed(ctx context.Context, r graph.Reader, words []string) ([]graph.PartID, error) {
	places, err := placesNamed(ctx, r, words)
	if err != nil || len(places) == 0 {
		return nil, err
	}
	fitments, err := r.FitmentsAt(ctx, lists.Mapped(places, func(p graph.Position) graph.PositionID { return p.ID })...)
	return lists.Mapped(fitments, func(f graph.Fitment) graph.PartID { return f.Part }), err
}

// placesNamed are the positions of all models that go by the words.
func placesNamed(ctx context.Context, r graph.Reader, words []string) ([]graph.Position, error) {
	models, err := r.ModelsWithWords(ctx, words...)
	if err != nil || len(models) == 0 {
		return nil, err
	}
	all, err := r.PositionsOf(ctx, models...)
	return positionsWithWords(all, words), err
}

// positionsWithWords are the positions that one who means a certain place by the words
// may mean: those whose whole name they are, else those that have them all.
func positionsWithWords(all []graph.Position, words []string) []graph.Position {
	if whole := lists.Kept(all, wholeName(words)); len(whole) > 0 {
		return whole
	}
	return PositionsHolding(all, words)
}

// PositionsHolding are the positions that have all the words in identity, name or kind:
// first those whose whole name they are, then what is of a kind that has them, then others.
func PositionsHolding(all []graph.Position, words []string) []graph.Position {
	held := lists.Kept(all, func(p graph.Position) bool {
		return HasWords(words, p.ID.Local(), p.Name, string(p.Kind))
	})
	whole := wholeName(words)
	slices.SortStableFunc(held, func(a, b graph.Position) int {
		return cmp.Or(lists.Order(!whole(a))-lists.Order(!whole(b)),
			lists.Order(!HasWords(words, string(a.Kind)))-lists.Order(!HasWords(words, string(b.Kind))))
	})
	return held
}

func wholeName(words []string) func(graph.Position) bool {
	return func(p graph.Position) bool {
		return slices.Equal(Words(p.Name), words) || slices.Equal(Words(LastWord(p.ID)), words)
	}
}

// wordyPart says which parts go by a name that was typed instead of a number:
// the one part, or an error that lists them.
func wordyPart(ctx context.Context, r graph.Reader, typed string, missing error) ([]Found, error) {
	parts, err := PartsNamed(ctx, r, typed)
	if err != nil {
		return nil, err
	}
	if exact := lists.Kept(parts, func(p graph.Part) bool { return slices.Equal(Words(p.Name), Words(typed)) }); len(
		exact) == 1 {
		parts = exact
	}
	switch len(parts) {
	case 0:
		return nil, missing
	case 1:
		return []Found{{Part: parts[0].ID, By: byName}}, nil
	}
	could := lists.Mapped(parts[:min(len(parts), maxWordy)],
		func(p graph.Part) string { return string(p.ID) + " (" + p.Name + ")" })
	fault := &AmbiguousError{What: "part", Asked: typed, Could: could}
	if more := len(parts) - maxWordy; more > 0 {
		fault.More = more
	}
	return nil, fault
}
