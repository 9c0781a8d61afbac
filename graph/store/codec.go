package store

import (
	"cmp"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// codec is all that the store knows of one sort of record.
type codec[K identity, T any] struct {
	class quad.IRI // what an export says it is
	name  string   // the sort in a store
	id    func(T) K
	list  func(*graph.Facts) *[]T

	// every says that the sort is asked for as a whole.
	every bool
	// homeOf is the home at which a record shares bundles with others, by its
	// identity; nil for a bundle by itself, at its own node.
	homeOf func(K) quad.IRI
	// home is that of sorts whose identity doesn't tell it, and loose says so:
	// nobody asks for them by identity.
	home  func(T) quad.IRI
	loose bool
	// edges adds what questions walk from; nil for none.
	edges func(v T, e *edgesTo)
	// merge is what two layers say of one thing, the lower one first.
	merge func(lower, upper T) T

	// write and read turn a record into statements and back: for export and
	// import only, a store keeps records whole.
	write func(s *sheet, v T)
	read  func(r *record) T
}

// at is where the bundle of a record is, and whether others share it.
func (c codec[K, T]) at(v T) (home quad.IRI, shared bool) {
	switch {
	case c.home != nil:
		return c.home(v), true
	case c.homeOf != nil:
		return c.homeOf(c.id(v)), true
	}
	return iri(c.id(v)), false
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
