package store

import (
	"cmp"
	"context"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// A bundle is what is kept as one literal: one record, or several of one sort
// that are read together, such as the positions of an assembly. One quad leads
// from the bundle's node to the literal, further ones from the node to what
// questions walk from: see layout.go.
type bundle struct {
	node quad.IRI // empty where nobody asked for it by name
	text string   // a JSON array of records, each on a line of its own
}

// fullBundle is how many records a bundle holds at most: reading fifty of them
// takes about as long as finding the bundle.
const fullBundle = 50

// bundleNode is the node of the n-th bundle of a sort, from 1, at a home.
func bundleNode(home quad.IRI, name string, n int) quad.IRI {
	return home + "#" + quad.IRI(name+"/"+strconv.Itoa(n))
}

// packed writes records as the text of a bundle.
func packed[T any](list []T) (string, error) {
	var text strings.Builder
	text.WriteByte('[')
	for i, v := range list {
		line, err := encode(v)
		if err != nil {
			return "", err
		}
		if i > 0 {
			text.WriteString(lineEnd)
		}
		text.Write(line)
	}
	text.WriteByte(']')
	return text.String(), nil
}

// lineEnd parts the records of a bundle. No text within a record holds it, since
// a line feed is escaped there.
const lineEnd = ",\n"

// unpack reads the records of bundles.
func unpack[T any](bundles []bundle) ([]T, error) {
	if reflect.TypeFor[T]() == reflect.TypeFor[graph.Fitment]() {
		return pick(bundles, wanted[T]{func(T) bool { return true }, func(string) bool { return true }})
	}
	if len(bundles) == 0 {
		return nil, nil
	}
	n := len(bundles) // a line feed parts two records, and nothing else has one
	for _, b := range bundles {
		n += strings.Count(b.text, "\n")
	}
	list := make([]T, 0, n)
	for _, b := range bundles {
		some := list[len(list):] // read in place, as far as there is room
		if err := decode(b.text, &some); err != nil {
			return nil, fmt.Errorf("%w (%s)", err, b.node)
		}
		list = append(list, some...)
	}
	return list, nil
}

// wanted says which records of bundles are asked for. Most are passed over by a
// look at one field: that costs a tenth of reading them.
type wanted[T any] struct {
	has func(T) bool
	// may looks at the text of a record; it may let too many pass. Nil lets all.
	may func(line string) bool
}

// everyone wants them all.
func everyone[T any]() wanted[T] { return wanted[T]{has: func(T) bool { return true }} }

// pick reads those records of bundles that are wanted.
func pick[T any](bundles []bundle, w wanted[T]) ([]T, error) {
	if w.may == nil {
		list, err := unpack[T](bundles)
		return slices.DeleteFunc(list, func(v T) bool { return !w.has(v) }), err
	}
	var list gathered[T]
	read := lineReader[T]()
	err := eachLine(bundles, func(line string) error {
		if !w.may(line) {
			return nil
		}
		var v T
		err := read(line, &v)
		if err == nil && w.has(v) {
			list.add(v)
		}
		return err
	})
	return list.all(), err
}

// gathered is a list in the making, of pieces that are put together once: one that
// grows is copied again and again, which of the most used bolt takes longer than
// reading it.
type gathered[T any] struct {
	full [][]T
	last []T
}

// mostOfPiece is how many things a piece of a list in the making holds at most.
const mostOfPiece = 1024

func (g *gathered[T]) add(v T) {
	if len(g.last) == cap(g.last) {
		g.addAll(make([]T, 0, min(max(4, 2*len(g.last)), mostOfPiece)))
	}
	g.last = append(g.last, v)
}

// addAll adds a list, which is handed over.
func (g *gathered[T]) addAll(list []T) {
	if len(g.last) > 0 {
		g.full = append(g.full, g.last)
	}
	g.last = list
}

// all is the list, nil when nothing was added.
func (g *gathered[T]) all() []T {
	if len(g.full) == 0 {
		return g.last
	}
	return slices.Concat(append(g.full, g.last)...)
}

// eachLine visits the records of bundles as they are written.
func eachLine(bundles []bundle, visit func(line string) error) error {
	for _, b := range bundles {
		inner, opens := strings.CutPrefix(b.text, "[")
		inner, closes := strings.CutSuffix(inner, "]")
		if !opens || !closes {
			return fmt.Errorf("%w: a record is cut off (%s)", ErrDamaged, b.node)
		}
		for line, more := "", inner != ""; more; {
			line, inner, more = strings.Cut(inner, lineEnd)
			if err := visit(line); err != nil {
				return fmt.Errorf("%w (%s)", err, b.node)
			}
		}
	}
	return nil
}

// textField gives what stands in a field of a record as encode writes it. It is
// for fields that stand before all lists and parts of the record; ok is false
// when the value can only be told by reading the record.
func textField(line, field string) (value string, ok bool) {
	_, rest, found := strings.Cut(line, `"`+field+`":"`)
	value, _, closed := strings.Cut(rest, `"`)
	return value, found && closed && !strings.Contains(value, `\`)
}

// fieldIn looks whether a field names one of the wanted.
func fieldIn[K ~string](field string, wanted map[K]bool) func(line string) bool {
	return func(line string) bool {
		value, ok := textField(line, field)
		return !ok || wanted[K(value)]
	}
}

// fetch reads the named things, sorted by identity, each once. What the store
// doesn't have is left out.
func fetch[K identity, T any](ctx context.Context, s *Store, c codec[K, T], ids []K) ([]T, error) {
	ids = slices.Clone(ids)
	slices.Sort(ids)
	ids = slices.Compact(ids)
	parts := make([][]T, len(s.layers))
	for i, l := range s.layers {
		found, err := fetchFrom(ctx, l, c, ids)
		if err != nil {
			return nil, err
		}
		parts[i] = found
	}
	return union(c, parts), nil
}

// fetchFrom is fetch for one layer; ids are sorted.
func fetchFrom[K identity, T any](ctx context.Context, l level, c codec[K, T], ids []K) ([]T, error) {
	if len(ids) == 0 || !l.has(c.name) {
		return nil, ctx.Err()
	}
	if c.homeOf != nil {
		set := setOf(ids)
		return picked(ctx, l, c.homes(), distinct(ids, c.homeOf),
			wanted[T]{func(v T) bool { return set[c.id(v)] }, fieldIn("ID", set)})
	}
	nodes := make([]quad.IRI, len(ids))
	for i, id := range ids {
		nodes[i] = iri(id)
	}
	bundles, err := l.own(ctx, nodes)
	if err != nil {
		return nil, fmt.Errorf("store: read: %w", readError(err))
	}
	return unpack[T](bundles) // each is one record, at a node that was asked for
}

// picked reads those records that are wanted of the bundles from which a predicate leads
// to one of the nodes.
func picked[T any](ctx context.Context, l level, predicate quad.IRI, nodes []quad.IRI, w wanted[T]) ([]T, error) {
	var list gathered[T]
	err := l.walk(ctx, predicate, nodes, func(bundles []bundle) error {
		some, err := pick(bundles, w)
		list.addAll(some)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("store: read: %w", readError(err))
	}
	return list.all(), nil
}

// distinct are the nodes of a list, each once.
func distinct[T any](list []T, node func(T) quad.IRI) []quad.IRI {
	nodes := make([]quad.IRI, 0, len(list))
	for _, v := range list {
		if n := node(v); n != "" {
			nodes = append(nodes, n)
		}
	}
	slices.Sort(nodes)
	return slices.Compact(nodes)
}

// walk reads the things to which bundles lead that point to one of the nodes,
// as far as they are wanted: a bundle may hold others too.
func walk[K identity, T any](ctx context.Context, s *Store, c codec[K, T], predicate quad.IRI, nodes []quad.IRI,
	w wanted[T]) ([]T, error) {
	if len(nodes) == 0 {
		return nil, nil
	}
	parts := make([][]T, len(s.layers))
	for i, l := range s.layers {
		if !l.has(c.name) {
			continue
		}
		var err error
		if parts[i], err = picked(ctx, l, predicate, nodes, w); err != nil {
			return nil, err
		}
	}
	if len(s.layers) == 1 {
		return union(c, parts), ctx.Err()
	}
	if err := complete(ctx, s, c, parts); err != nil {
		return nil, err
	}
	return slices.DeleteFunc(union(c, parts), func(v T) bool { return !w.has(v) }), ctx.Err()
}

// complete adds what other layers say of things that one of them found: a layer
// may take back a finding and say nothing else of it.
func complete[K identity, T any](ctx context.Context, s *Store, c codec[K, T], parts [][]T) error {
	if c.loose {
		return nil // all layers keep them at what they were asked by
	}
	var ids []K
	for _, part := range parts {
		for _, v := range part {
			ids = append(ids, c.id(v))
		}
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	for i, l := range s.layers {
		have := make(map[K]bool, len(parts[i]))
		for _, v := range parts[i] {
			have[c.id(v)] = true
		}
		missing := slices.DeleteFunc(slices.Clone(ids), func(id K) bool { return have[id] })
		more, err := fetchFrom(ctx, l, c, missing)
		if err != nil {
			return err
		}
		parts[i] = append(parts[i], more...)
	}
	return nil
}

// union puts together what the layers say, lowest first: each thing once,
// sorted by identity.
func union[K identity, T any](c codec[K, T], parts [][]T) []T {
	var all []T
	for _, part := range parts {
		if all == nil {
			all = part
		} else {
			all = append(all, part...)
		}
	}
	if byID := func(a, b T) int { return cmp.Compare(c.id(a), c.id(b)) }; !slices.IsSortedFunc(all, byID) {
		slices.SortStableFunc(all, byID)
	}
	kept := all[:0]
	for _, v := range all {
		if n := len(kept); n > 0 && c.id(kept[n-1]) == c.id(v) {
			kept[n-1] = c.merge(kept[n-1], v)
			continue
		}
		kept = append(kept, v)
	}
	if len(kept) == 0 {
		return nil
	}
	return kept
}
