package store

import (
	"context"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/iterator"
	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
)

// cayley is a backend over any of Cayley's quad stores, by its public
// interface.
type cayley struct {
	qs cayleygraph.QuadStore
	// into is how quads are found that lead to a node by a predicate, and out how those
	// that lead from one; checked says that those it gives have the predicate.
	into, out func(node, predicate cayleygraph.Ref) (links iterator.Shape, checked bool)
}

func newCayley(qs cayleygraph.QuadStore) *cayley {
	along := func(d quad.Direction) func(node, _ cayleygraph.Ref) (iterator.Shape, bool) {
		return func(node, _ cayleygraph.Ref) (iterator.Shape, bool) { return qs.QuadIterator(d, node), false }
	}
	return &cayley{qs: qs, into: along(quad.Object), out: along(quad.Subject)}
}

// newIndexed is a backend over a key-value store with our indexes.
func newIndexed(qs cayleygraph.QuadStore) *cayley {
	by := func(index kv.QuadIndex) func(node, predicate cayleygraph.Ref) (iterator.Shape, bool) {
		return func(node, predicate cayleygraph.Ref) (iterator.Shape, bool) {
			end, isNode := node.(kv.Int64Value)
			by, isPredicate := predicate.(kv.Int64Value)
			if !isNode || !isPredicate {
				return iterator.NewNull(), true
			}
			scan := kv.IndexScan{Index: index, Values: []uint64{uint64(end), uint64(by)}}
			return scan.BuildIterator(qs), true
		}
	}
	return &cayley{qs: qs, into: by(indexes()[1]), out: by(indexes()[0])}
}

func (c *cayley) own(ctx context.Context, nodes []quad.IRI) ([]bundle, error) {
	subjects := make([]cayleygraph.Ref, 0, len(nodes))
	names := make([]quad.IRI, 0, len(nodes))
	for _, node := range nodes {
		ref, err := c.qs.ValueOf(node)
		if err != nil {
			return nil, err
		}
		if ref != nil {
			subjects, names = append(subjects, ref), append(names, node)
		}
	}
	var all []bundle
	err := c.texts(ctx, subjects, names, func(some []bundle) error {
		all = append(all, some...)
		return nil
	})
	return all, err
}

// atOnce is how many bundles are in memory together, each several times while Cayley
// turns it from what LevelDB keeps into a text: of the most used bolt 13,000 are read.
const atOnce = 128

// texts visits the bundles of nodes, some at a time; names are those of the nodes, nil
// when nobody has looked them up.
func (c *cayley) texts(ctx context.Context, subjects []cayleygraph.Ref, names []quad.IRI,
	visit func([]bundle) error) error {
	holds, err := c.qs.ValueOf(termHolds)
	if err != nil || holds == nil {
		return err
	}
	for len(subjects) > 0 {
		n := min(atOnce, len(subjects))
		var some []quad.IRI
		if names != nil {
			some, names = names[:n], names[n:]
		}
		bundles, err := c.someTexts(ctx, holds, subjects[:n], some)
		if err != nil {
			return err
		}
		if err := visit(bundles); err != nil {
			return err
		}
		subjects = subjects[n:]
	}
	return ctx.Err()
}

// someTexts gives the bundles of nodes.
func (c *cayley) someTexts(ctx context.Context, holds cayleygraph.Ref, subjects []cayleygraph.Ref,
	names []quad.IRI) ([]bundle, error) {
	var literals []cayleygraph.Ref
	var owners []int
	for i, subject := range subjects {
		links, checked := c.out(subject, holds)
		err := c.scan(ctx, links, func(link cayleygraph.Ref) error {
			if !checked {
				p, err := c.qs.QuadDirection(link, quad.Predicate)
				if err != nil || p == nil || p.Key() != holds.Key() {
					return err
				}
			}
			object, err := c.qs.QuadDirection(link, quad.Object)
			literals, owners = append(literals, object), append(owners, i)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	values, err := cayleygraph.ValuesOf(ctx, c.qs, literals)
	if err != nil {
		return nil, err
	}
	bundles := make([]bundle, len(values))
	for i, v := range values {
		text, ok := v.(quad.String)
		if names != nil {
			bundles[i].node = names[owners[i]]
		}
		if !ok {
			return nil, damagedAt(bundles[i].node)
		}
		bundles[i].text = string(text)
	}
	return bundles, nil
}

// links gives the nodes from which a predicate leads to one of the nodes.
func (c *cayley) links(ctx context.Context, predicate quad.IRI, nodes []quad.IRI) ([]cayleygraph.Ref, error) {
	by, err := c.qs.ValueOf(predicate)
	if err != nil || by == nil {
		return nil, err
	}
	var found []cayleygraph.Ref
	seen := map[any]bool{}
	for _, node := range nodes {
		ref, err := c.qs.ValueOf(node)
		if err != nil {
			return nil, err
		}
		if ref == nil {
			continue
		}
		links, checked := c.into(ref, by)
		err = c.scan(ctx, links, func(link cayleygraph.Ref) error {
			if !checked {
				p, err := c.qs.QuadDirection(link, quad.Predicate)
				if err != nil || p == nil || p.Key() != by.Key() {
					return err
				}
			}
			subject, err := c.qs.QuadDirection(link, quad.Subject)
			if err == nil && !seen[subject.Key()] {
				seen[subject.Key()] = true
				found = append(found, subject)
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return found, nil
}

func (c *cayley) walk(ctx context.Context, predicate quad.IRI, nodes []quad.IRI, visit func([]bundle) error) error {
	subjects, err := c.links(ctx, predicate, nodes)
	if err != nil {
		return err
	}
	return c.texts(ctx, subjects, nil, visit)
}

func (c *cayley) from(ctx context.Context, predicate quad.IRI, nodes []quad.IRI) ([]quad.IRI, error) {
	subjects, err := c.links(ctx, predicate, nodes)
	if err != nil {
		return nil, err
	}
	values, err := cayleygraph.ValuesOf(ctx, c.qs, subjects)
	if err != nil {
		return nil, err
	}
	found := make([]quad.IRI, 0, len(values))
	for _, v := range values {
		node, ok := v.(quad.IRI)
		if !ok {
			return nil, damagedAt(predicate)
		}
		found = append(found, node)
	}
	return found, nil
}

func (c *cayley) each(ctx context.Context, visit func(quad.Quad) error) error {
	return c.scan(ctx, c.qs.QuadsAllIterator(), func(link cayleygraph.Ref) error {
		q, err := c.qs.Quad(link)
		if err != nil {
			return err
		}
		return visit(q)
	})
}

func (c *cayley) held(ctx context.Context, visit func(bundle) error) error {
	holds, err := c.qs.ValueOf(termHolds)
	if err != nil || holds == nil {
		return err
	}
	return c.scan(ctx, c.qs.QuadsAllIterator(), func(link cayleygraph.Ref) error {
		p, err := c.qs.QuadDirection(link, quad.Predicate)
		if err != nil || p == nil || p.Key() != holds.Key() {
			return err
		}
		q, err := c.qs.Quad(link)
		if err != nil {
			return err
		}
		return visitBundle(q, visit)
	})
}

// visitBundle visits the bundle of a quad, if it leads to one.
func visitBundle(q quad.Quad, visit func(bundle) error) error {
	text, isText := q.Object.(quad.String)
	node, isNode := q.Subject.(quad.IRI)
	if !isText || !isNode || q.Predicate != termHolds {
		return nil
	}
	return visit(bundle{node, string(text)})
}

// scan visits the quads of an iterator.
func (c *cayley) scan(ctx context.Context, shape iterator.Shape, visit func(link cayleygraph.Ref) error) error {
	it := shape.Iterate()
	defer it.Close()
	for it.Next(ctx) {
		if err := visit(it.Result()); err != nil {
			return err
		}
	}
	if err := it.Err(); err != nil {
		return err
	}
	return ctx.Err()
}

func (c *cayley) apply(ctx context.Context, add, remove []quad.Quad) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	deltas := make([]cayleygraph.Delta, 0, len(add)+len(remove))
	for _, q := range remove {
		deltas = append(deltas, cayleygraph.Delta{Quad: q, Action: cayleygraph.Delete})
	}
	for _, q := range add {
		deltas = append(deltas, cayleygraph.Delta{Quad: q, Action: cayleygraph.Add})
	}
	return c.qs.ApplyDeltas(deltas, cayleygraph.IgnoreOpts{IgnoreDup: true, IgnoreMissing: true})
}

func (c *cayley) close() error { return c.qs.Close() }
