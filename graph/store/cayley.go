package store

import (
	"context"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/iterator"
	"github.com/cayleygraph/quad"
)

// cayley is a backend over any of Cayley's quad stores. It reads by node
// through QuadIterator and resolves the names of all nodes found in one batch:
// paths and shapes would resolve them one at a time.
type cayley struct {
	qs cayleygraph.QuadStore
}

// names resolves references to values, each once.
type names struct {
	index map[any]int // by key
	refs  []cayleygraph.Ref
}

// none is the index of an absent value, such as no label.
const none = -1

func (n *names) add(ref cayleygraph.Ref, err error) (int, error) {
	if err != nil || ref == nil {
		return none, err
	}
	key := ref.Key()
	if at, ok := n.index[key]; ok {
		return at, nil
	}
	if n.index == nil {
		n.index = map[any]int{}
	}
	at := len(n.refs)
	n.index[key] = at
	n.refs = append(n.refs, ref)
	return at, nil
}

func (c *cayley) about(ctx context.Context, nodes []quad.IRI) ([]quad.Quad, error) {
	var seen names
	var found []quadAt
	for _, node := range nodes {
		ref, err := c.qs.ValueOf(node)
		if err != nil {
			return nil, err
		}
		if ref == nil {
			continue
		}
		err = c.scan(ctx, c.qs.QuadIterator(quad.Subject, ref), func(link cayleygraph.Ref) error {
			at, err := c.refer(&seen, link, node)
			found = append(found, at)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	values, err := cayleygraph.ValuesOf(ctx, c.qs, seen.refs)
	if err != nil {
		return nil, err
	}
	quads := make([]quad.Quad, len(found))
	for i, at := range found {
		quads[i] = at.quad(values)
	}
	return quads, nil
}

// quadAt is a quad whose values are still to be looked up.
type quadAt struct {
	subject                  quad.IRI
	predicate, object, label int
}

func (c *cayley) refer(seen *names, link cayleygraph.Ref, subject quad.IRI) (quadAt, error) {
	at := quadAt{subject: subject}
	var err error
	if at.predicate, err = seen.add(c.qs.QuadDirection(link, quad.Predicate)); err != nil {
		return at, err
	}
	if at.object, err = seen.add(c.qs.QuadDirection(link, quad.Object)); err != nil {
		return at, err
	}
	at.label, err = seen.add(c.qs.QuadDirection(link, quad.Label))
	return at, err
}

func (at quadAt) quad(values []quad.Value) quad.Quad {
	q := quad.Quad{Subject: at.subject, Predicate: values[at.predicate], Object: values[at.object]}
	if at.label != none {
		q.Label = values[at.label]
	}
	return q
}

func (c *cayley) subjects(ctx context.Context, predicate quad.IRI, objects []quad.Value) ([]quad.Value, error) {
	wanted, err := c.qs.ValueOf(predicate)
	if err != nil || wanted == nil {
		return nil, err
	}
	var seen names
	for _, object := range objects {
		ref, err := c.qs.ValueOf(object)
		if err != nil {
			return nil, err
		}
		if ref == nil {
			continue
		}
		err = c.scan(ctx, c.qs.QuadIterator(quad.Object, ref), func(link cayleygraph.Ref) error {
			p, err := c.qs.QuadDirection(link, quad.Predicate)
			if err != nil || p == nil || p.Key() != wanted.Key() {
				return err
			}
			_, err = seen.add(c.qs.QuadDirection(link, quad.Subject))
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return cayleygraph.ValuesOf(ctx, c.qs, seen.refs)
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
	return c.qs.ApplyDeltas(deltas, cayleygraph.IgnoreOpts{})
}

func (c *cayley) close() error { return c.qs.Close() }
