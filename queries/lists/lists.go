package lists

import (
	"cmp"
	"slices"
)

// Unique sorts the list in place and drops doubles.
func Unique[T cmp.Ordered](list []T) []T {
	slices.Sort(list)
	return slices.Compact(list)
}

// KeysOf are the keys of a map, sorted.
func KeysOf[K cmp.Ordered, V any](m map[K]V) []K {
	keys := make([]K, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// ByKey makes a map of a list.
func ByKey[K comparable, V any](list []V, key func(V) K) map[K]V {
	m := make(map[K]V, len(list))
	for _, v := range list {
		m[key(v)] = v
	}
	return m
}

// Mapped is the list with f applied to each.
func Mapped[T, U any](list []T, f func(T) U) []U {
	out := make([]U, 0, len(list))
	for _, v := range list {
		out = append(out, f(v))
	}
	return out
}

// Kept are the items for which keep holds.
func Kept[T any](list []T, keep func(T) bool) []T {
	var out []T
	for _, v := range list {
		if keep(v) {
			out = append(out, v)
		}
	}
	return out
}

// Order is 1 for what is to come last, else 0: to sort by.
func Order(last bool) int {
	if last {
		return 1
	}
	return 0
}
