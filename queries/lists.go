package queries

import (
	"cmp"
	"slices"
)

// unique sorts the list in place and drops doubles.
func unique[T cmp.Ordered](list []T) []T {
	slices.Sort(list)
	return slices.Compact(list)
}

// keysOf are the keys of a map, sorted.
func keysOf[K cmp.Ordered, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// byKey makes a map of a list.
func byKey[K comparable, V any](list []V, key func(V) K) map[K]V {
	m := make(map[K]V, len(list))
	for _, v := range list {
		m[key(v)] = v
	}
	return m
}

// mapped is the list with f applied to each.
func mapped[T, U any](list []T, f func(T) U) []U {
	out := make([]U, 0, len(list))
	for _, v := range list {
		out = append(out, f(v))
	}
	return out
}

// kept are the items for which keep holds.
func kept[T any](list []T, keep func(T) bool) []T {
	var out []T
	for _, v := range list {
		if keep(v) {
			out = append(out, v)
		}
	}
	return out
}
