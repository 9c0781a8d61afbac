package store

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"
)

// codec turns one domain type into facts and back.
type codec[K identity, T any] struct {
	class quad.IRI
	id    func(T) K
	write func(s *sheet, v T)
	read  func(r *record) T
}

// fetch reads the named things, sorted by identity, each once. What the store
// doesn't have is left out.
func fetch[K identity, T any](ctx context.Context, s *Store, c codec[K, T], ids []K) ([]T, error) {
	if len(ids) == 0 {
		return nil, nil
	}
	ids = slices.Clone(ids)
	slices.Sort(ids)
	ids = slices.Compact(ids)
	nodes := make([]quad.IRI, len(ids))
	for i, id := range ids {
		nodes[i] = iri(id)
	}
	found, err := s.records(ctx, nodes)
	if err != nil {
		return nil, err
	}
	var list []T
	for _, node := range nodes {
		if r := found[node]; r != nil && r.is(c.class) {
			list = append(list, c.read(r))
		}
	}
	return list, nil
}

// all is fetch for every thing of a class.
func all[K identity, T any](ctx context.Context, s *Store, c codec[K, T]) ([]T, error) {
	return pointing(ctx, s, c, rdfType, []quad.Value{c.class})
}

// named is fetch, or all when no identity is given.
func named[K identity, T any](ctx context.Context, s *Store, c codec[K, T], ids []K) ([]T, error) {
	if len(ids) == 0 {
		return all(ctx, s, c)
	}
	return fetch(ctx, s, c, ids)
}

// pointing reads the things that a predicate leads from to one of the objects.
func pointing[K identity, T any](ctx context.Context, s *Store, c codec[K, T], predicate quad.IRI, objects []quad.Value) ([]T, error) {
	ids, err := pointingIDs[K](ctx, s, predicate, objects)
	if err != nil {
		return nil, err
	}
	return fetch(ctx, s, c, ids)
}

// pointingIDs gives the identities of one sort that a predicate leads from to
// one of the objects, sorted, each once.
func pointingIDs[K identity](ctx context.Context, s *Store, predicate quad.IRI, objects []quad.Value) ([]K, error) {
	if len(objects) == 0 {
		return nil, nil
	}
	nodes, err := s.subjects(ctx, predicate, objects)
	if err != nil {
		return nil, err
	}
	var ids []K
	for _, node := range nodes {
		if id, ok := identityOf[K](node); ok {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), nil
}

func (r *record) is(class quad.IRI) bool {
	found := false
	r.each(rdfType, func(v value) { found = found || v.object == class })
	return found
}

// sortedBy sorts a list by a key.
func sortedBy[T any, K cmp.Ordered](list []T, key func(T) K) []T {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
	return list
}

// step escapes text for use as one step of a predicate or of a part's node.
func step(text string) string { return strings.ReplaceAll(escape(text), "/", "%2F") }

// under is the predicate for a name under a prefix: termDim with "bore".
func under(prefix quad.IRI, names ...string) quad.IRI {
	steps := make([]string, len(names))
	for i, name := range names {
		steps[i] = step(name)
	}
	return prefix + quad.IRI(strings.Join(steps, "/"))
}
