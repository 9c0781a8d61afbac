package readertest

import (
	"cmp"
	"slices"
	"sync"
)

// table is the items of one type, found by their keys without going through all
// of them: each index is made when it is first asked for.
type table[T any] struct {
	items []T

	mu      sync.Mutex
	indexes map[string]map[string][]int // by the name of an index: which items have a key
}

func over[T any](items []T) *table[T] { return &table[T]{items: items} }

// with gives copies of the items that have one of the keys, unique and sorted by
// identity. Of is which keys an item has, and what names it.
func with[T any, K ~string, I cmp.Ordered](t *table[T], what string, of func(T) []K, id func(T) I, keys []K) []T {
	return copyOf(t.distinct(t.having(what, func(item T) []string { return texts(of(item)) }, texts(keys)),
		func(a, b T) int { return cmp.Compare(id(a), id(b)) }))
}

// idsWith is the same for who needs identities only.
func idsWith[T any, K, I ~string](t *table[T], what string, of func(T) []K, id func(T) I, keys []K) []I {
	var ids []I
	for _, item := range t.having(what, func(item T) []string { return texts(of(item)) }, texts(keys)) {
		ids = append(ids, id(item))
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// all gives copies of all items, unique and sorted by identity.
func all[T any, I cmp.Ordered](t *table[T], id func(T) I) []T {
	return copyOf(t.distinct(slices.Clone(t.items), func(a, b T) int { return cmp.Compare(id(a), id(b)) }))
}

// having are the items with one of the keys, each once, in the order of the facts.
func (t *table[T]) having(what string, of func(T) []string, keys []string) []T {
	index := t.index(what, of)
	var at []int
	for _, key := range keys {
		at = append(at, index[key]...)
	}
	slices.Sort(at)
	var items []T
	for _, i := range slices.Compact(at) {
		items = append(items, t.items[i])
	}
	return items
}

func (t *table[T]) index(what string, of func(T) []string) map[string][]int {
	t.mu.Lock()
	defer t.mu.Unlock()
	if index, ok := t.indexes[what]; ok {
		return index
	}
	index := map[string][]int{}
	for i, item := range t.items {
		for _, key := range of(item) {
			index[key] = append(index[key], i)
		}
	}
	if t.indexes == nil {
		t.indexes = map[string]map[string][]int{}
	}
	t.indexes[what] = index
	return index
}

// distinct sorts items and keeps the first of those that are alike.
func (t *table[T]) distinct(items []T, compare func(a, b T) int) []T {
	slices.SortStableFunc(items, compare)
	return slices.CompactFunc(items, func(a, b T) bool { return compare(a, b) == 0 })
}

func texts[K ~string](keys []K) []string {
	var all []string
	for _, key := range keys {
		all = append(all, string(key))
	}
	return all
}
