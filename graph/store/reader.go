package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/cayleygraph/quad"
)

// named is fetch, or everything of the sort when no identity is given.
func named[K identity, T any](ctx context.Context, s *Store, c codec[K, T], ids []K) ([]T, error) {
	if len(ids) == 0 {
		return walk(ctx, s, c, c.everything(), []quad.IRI{c.class}, everyone[T]())
	}
	return fetch(ctx, s, c, ids)
}

func setOf[K comparable](list []K) map[K]bool {
	set := make(map[K]bool, len(list))
	for _, k := range list {
		set[k] = true
	}
	return set
}

// in wants records that name one of a list.
func in[K comparable, T any](list []K, of func(T) K) wanted[T] {
	set := setOf(list)
	return wanted[T]{has: func(v T) bool { return set[of(v)] }}
}

// inField is in where one field of the record tells.
func inField[K ~string, T any](field string, list []K, of func(T) K) wanted[T] {
	set := setOf(list)
	return wanted[T]{func(v T) bool { return set[of(v)] }, fieldIn(field, set)}
}

// anyIn is in for records that name several.
func anyIn[K comparable, T any](list []K, of func(T) []K) wanted[T] {
	set := setOf(list)
	return wanted[T]{has: func(v T) bool { return slices.ContainsFunc(of(v), func(k K) bool { return set[k] }) }}
}

// froms gives the identities from which a predicate leads to one of the nodes,
// sorted, each once, from all layers.
func froms[K identity](ctx context.Context, s *Store, predicate quad.IRI, nodes []quad.IRI) ([]K, error) {
	var ids []K
	for _, l := range s.layers {
		found, err := l.from(ctx, predicate, nodes)
		if err != nil {
			return nil, fmt.Errorf("store: look up: %w", readError(err))
		}
		for _, node := range found {
			if id, ok := identityOf[K](node); ok {
				ids = append(ids, id)
			}
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}
