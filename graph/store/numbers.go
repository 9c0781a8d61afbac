package store

import (
	"cmp"
	"context"
	"slices"
	"unicode/utf8"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// The numbers of all parts: every key that a part is found by, as a sorted list.
// A number, a prefix, or what stands near it is a read of one page or a few.

// numbersNode leads to the directory; its pages are within it.
const numbersNode quad.IRI = identities + "numbers"

// numberEntry is a key and a part that is found by it.
type numberEntry = listEntry[graph.PartID]

// keysOf are the keys under which a part stands in the list: one at least, so
// that every part does.
func keysOf(p graph.Part) []string {
	if keys := p.Keys(); len(keys) > 0 {
		return keys
	}
	return []string{""}
}

// numbers reads the numbers of one layer.
type numbers = sortedList[graph.PartID]

func numbersOf(ctx context.Context, l level) (numbers, error) {
	return listAt[graph.PartID](ctx, l, numbersNode, partCodec().name)
}

// numbersWhere gives the parts of all layers' entries that pick takes, out of
// the pages that it names.
func numbersWhere(ctx context.Context, s *Store, pages func(numbers) []int,
	wanted func(key string) bool) ([]graph.PartID, error) {
	var ids []graph.PartID
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		which := pages(n)
		if len(n.first) == 0 || len(which) == 0 {
			continue
		}
		entries, err := n.pages(ctx, which, wanted)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			ids = append(ids, e.ID)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}

func partsByKey(ctx context.Context, s *Store, keys []string) ([]graph.PartID, error) {
	keys = slices.DeleteFunc(slices.Clone(keys), func(key string) bool { return key == "" })
	return numbersWhere(ctx, s, func(n numbers) []int { return n.holding(keys) },
		func(key string) bool { return slices.Contains(keys, key) })
}

func partIDs(ctx context.Context, s *Store) ([]graph.PartID, error) {
	return numbersWhere(ctx, s, func(n numbers) []int {
		all := make([]int, len(n.first))
		for i := range all {
			all[i] = i
		}
		return all
	}, nil)
}

func partNumbers(ctx context.Context, s *Store, prefix string, most int) ([]graph.PartID, error) {
	return firstNumbers(ctx, s, most, func(n numbers) ([]numberEntry, error) { return n.startingWith(ctx, prefix, most) })
}

// firstNumbers are the parts of the first entries, or of all when most is 0, of
// those that look finds in each layer.
func firstNumbers(ctx context.Context, s *Store, most int,
	look func(numbers) ([]numberEntry, error)) ([]graph.PartID, error) {
	var found []numberEntry
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		some, err := look(n)
		if err != nil {
			return nil, err
		}
		found = append(found, some...)
	}
	slices.SortFunc(found, numberEntry.compare)
	found = slices.Compact(found) // layers may say the same
	if most > 0 {
		found = found[:min(most, len(found))]
	}
	var ids []graph.PartID
	for _, e := range found {
		ids = append(ids, e.ID)
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}

func partNumbersHolding(ctx context.Context, s *Store, piece string, most int) ([]graph.PartID, error) {
	if piece == "" || most <= 0 {
		return nil, nil
	}
	return firstNumbers(ctx, s, most, func(n numbers) ([]numberEntry, error) { return holdingPiece(ctx, n, piece, most) })
}

func sharedStart(a, b string) string {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	for n > 0 && !utf8.ValidString(a[:n]) {
		n--
	}
	return a[:n]
}

func partNumbersNear(ctx context.Context, s *Store, key string, most int) ([]graph.PartID, error) {
	if key == "" {
		return nil, ctx.Err()
	}
	var found []nearEntry[graph.PartID]
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		some, err := nearNumbers(ctx, n, key, graph.NearLimit(key))
		if err != nil {
			return nil, err
		}
		found = append(found, some...)
	}
	slices.SortFunc(found, func(a, b nearEntry[graph.PartID]) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.ID, b.ID))
	})
	var ids []graph.PartID
	for _, e := range found {
		if len(ids) < most && !slices.Contains(ids, e.ID) {
			ids = append(ids, e.ID)
		}
	}
	return ids, ctx.Err()
}
