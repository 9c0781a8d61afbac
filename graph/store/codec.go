package store

import (
	"cmp"
	"context"
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

func (c codec[K, T]) sort() string { return c.name }

func (c codec[K, T]) gather(f graph.Facts, emit func(entry) error) error {
	for _, v := range *c.list(&f) {
		text, err := encode(v)
		if err != nil {
			return err
		}
		home, _ := c.at(v)
		if err := emit(entry{home: home, id: string(c.id(v)), text: text}); err != nil {
			return err
		}
	}
	return nil
}

func (c codec[K, T]) pack(home quad.IRI, entries []entry, write func(quad.Quad) error) (int, error) {
	list := make([]T, len(entries))
	for i, e := range entries {
		if err := decode(string(e.text), &list[i]); err != nil {
			return 0, err
		}
	}
	list = union(c, [][]T{list})
	shared := c.home != nil || c.homeOf != nil
	for i, n := 0, 1; i < len(list); i, n = i+fullBundle, n+1 {
		some := list[i:min(i+fullBundle, len(list))]
		node := home
		if shared {
			node = bundleNode(home, c.name, n)
		}
		if err := c.packBundle(node, home, some, write); err != nil {
			return 0, err
		}
	}
	return len(list), nil
}

func (c codec[K, T]) packBundle(node, home quad.IRI, list []T, write func(quad.Quad) error) error {
	text, err := packed(list)
	if err != nil {
		return err
	}
	e := edgesTo{from: node, quads: []quad.Quad{{Subject: node, Predicate: termHolds, Object: quad.String(text)}}}
	if c.homeOf != nil {
		e.add(c.homes(), home)
	}
	if c.every {
		e.add(c.everything(), c.class)
	}
	for _, v := range list {
		if c.edges != nil {
			c.edges(v, &e)
		}
	}
	for _, q := range e.quads {
		if err := write(q); err != nil {
			return err
		}
	}
	return nil
}

func (c codec[K, T]) add(f *graph.Facts, bundles []bundle) error {
	list, err := unpack[T](bundles)
	into := c.list(f)
	*into = append(*into, list...)
	return err
}

// homes is the edge from the bundles of a sort to their home.
func (c codec[K, T]) homes() quad.IRI { return termHome + quad.IRI(c.name) }

// everything is the edge from the records of a sort to its class.
func (c codec[K, T]) everything() quad.IRI { return termEvery + quad.IRI(c.name) }

func (c codec[K, T]) overlay(piece, upper *graph.Facts) {
	above := c.list(upper)
	if len(*above) == 0 {
		return
	}
	for i, v := range *c.list(piece) {
		at, found := slices.BinarySearchFunc(*above, c.id(v), func(u T, id K) int { return cmp.Compare(c.id(u), id) })
		if found {
			(*c.list(piece))[i] = c.merge(v, (*above)[at])
			*above = slices.Delete(*above, at, at+1)
		}
	}
}

func (c codec[K, T]) amend(ctx context.Context, a *amending, home quad.IRI, changed changes) (was, is int, err error) {
	shared := c.home != nil || c.homeOf != nil
	bundles, err := bundlesAt(ctx, a.level, home, c.name, shared)
	if err != nil {
		return 0, 0, err
	}
	before := make([][]heldLine, len(bundles))
	for i, b := range bundles {
		err := eachLine([]bundle{b}, func(line string) error {
			was++
			id, ok := textField(line, "ID")
			if !ok {
				var v T
				if err := decode(line, &v); err != nil {
					return err
				}
				id = string(c.id(v))
			}
			before[i] = append(before[i], heldLine{id, line})
			return nil
		})
		if err != nil {
			return 0, 0, err
		}
	}
	after, touched, err := amendLines(before, changed)
	if err != nil {
		return 0, 0, err
	}
	for i := range touched {
		node := home
		if shared {
			node = bundleNode(home, c.name, i+1)
		}
		if err := c.writeLines(node, home, before, i, a.remove); err != nil {
			return 0, 0, err
		}
		if err := c.writeLines(node, home, after, i, a.add); err != nil {
			return 0, 0, err
		}
	}
	for _, lines := range after {
		is += len(lines)
	}
	return was, is, nil
}

// writeLines adds the quads of the i-th of some bundles, if there is such a one.
func (c codec[K, T]) writeLines(node, home quad.IRI, bundles [][]heldLine, i int, into map[quad.Quad]bool) error {
	if i >= len(bundles) || len(bundles[i]) == 0 {
		return nil
	}
	list := make([]T, len(bundles[i]))
	read := lineReader[T]()
	for at, line := range bundles[i] {
		if err := read(line.text, &list[at]); err != nil {
			return err
		}
	}
	return c.packBundle(node, home, list, func(q quad.Quad) error {
		into[q] = true
		return nil
	})
}
