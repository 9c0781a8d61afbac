package store

import (
	"context"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// variantsNode leads to the list of which variants each model has.
const variantsNode quad.IRI = identities + "variants"

// Lists of words: which parts have a word in name or kind, and which models have
// places that do.
const (
	partWordsNode  quad.IRI = identities + "part-words"
	placeWordsNode quad.IRI = identities + "place-words"
)

// wordsIn are the words of a data set's parts, and those of each model's places,
// each once.
func wordsIn(f graph.Facts, part func(word string, id graph.PartID) error, place func(word string,
	id graph.ModelID) error) error {
	for _, p := range f.Parts {
		words := p.NameWords()
		slices.Sort(words)
		for _, word := range slices.Compact(words) {
			if err := part(word, p.ID); err != nil {
				return err
			}
		}
	}
	type of struct {
		model graph.ModelID
		word  string
	}
	seen := map[of]bool{}
	for _, p := range f.Positions {
		for _, word := range p.NameWords() {
			key := of{p.Model, word}
			if seen[key] {
				continue
			}
			seen[key] = true
			if err := place(word, p.Model); err != nil {
				return err
			}
		}
	}
	return nil
}

func hasWords(has, words []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		return !slices.ContainsFunc(has, func(h string) bool { return graph.WordMeans(word, h) })
	})
}

// withWords gives what has each of the words, in any layer; sorted.
func withWords[K identity](ctx context.Context, s *Store, node quad.IRI, sort string, words []string) ([]K, error) {
	var ids []K
	for i, word := range words {
		some := map[K]bool{}
		for _, l := range s.layers {
			n, err := listAt[K](ctx, l, node, sort)
			if err != nil {
				return nil, err
			}
			entries, err := n.startingWith(ctx, word, 0)
			if err != nil {
				return nil, err
			}
			for _, e := range entries {
				if graph.WordMeans(word, e.Key) {
					some[e.ID] = true
				}
			}
		}
		if i == 0 {
			for id := range some {
				ids = append(ids, id)
			}
			continue
		}
		ids = slices.DeleteFunc(ids, func(id K) bool { return !some[id] })
	}
	slices.SortFunc(ids, func(a, b K) int { return strings.Compare(string(a), string(b)) })
	if len(ids) == 0 {
		return nil, ctx.Err()
	}
	return ids, ctx.Err()
}
