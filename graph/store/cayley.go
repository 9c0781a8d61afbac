package store

import (
	"context"
	"slices"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/iterator"
	"github.com/cayleygraph/quad"
)

// cayley is a backend over any of Cayley's quad stores. It reads by node
// through QuadIterator and resolves the values of all nodes found in one
// batch: paths and shapes would resolve them one at a time.
type cayley struct {
	qs cayleygraph.QuadStore
}

// levels is how records are read level by level; a server is asked for a whole
// level at once.
type levels interface {
	// ref is the reference of a node; nil when the store doesn't have it.
	ref(node quad.Value) (cayleygraph.Ref, error)
	// links gives the quads whose subject is one of the nodes.
	links(ctx context.Context, seen *names, nodes []int) ([]quadRef, error)
	// resolve looks up the values of all nodes added since the last time.
	resolve(ctx context.Context, seen *names) error
}

// aboutNodes reads the nodes, then the parts of their records by the
// references that the level before led to, which need no search by value.
func aboutNodes(ctx context.Context, l levels, nodes []quad.IRI) ([]quad.Quad, error) {
	seen := &names{}
	for _, node := range nodes {
		if _, err := seen.add(l.ref(node)); err != nil {
			return nil, err
		}
	}
	level := make([]int, len(seen.refs))
	asked := map[int]bool{}
	for i := range level {
		level[i] = i
		asked[i] = true
	}
	var quads []quad.Quad
	for len(level) > 0 {
		links, err := l.links(ctx, seen, level)
		if err != nil {
			return nil, err
		}
		if err := l.resolve(ctx, seen); err != nil {
			return nil, err
		}
		level = level[:0]
		quads = slices.Grow(quads, len(links))
		for _, link := range links {
			quads = append(quads, seen.quad(link))
			if !asked[link.object] && isPart(seen.values[link.object], seen.values[link.subject]) {
				asked[link.object] = true
				level = append(level, link.object)
			}
		}
	}
	return quads, nil
}

func (c *cayley) about(ctx context.Context, nodes []quad.IRI) ([]quad.Quad, error) {
	return aboutNodes(ctx, c, nodes)
}

func (c *cayley) ref(node quad.Value) (cayleygraph.Ref, error) { return c.qs.ValueOf(node) }

func (c *cayley) links(ctx context.Context, seen *names, nodes []int) ([]quadRef, error) {
	var links []quadRef
	for _, node := range nodes {
		err := c.scan(ctx, c.qs.QuadIterator(quad.Subject, seen.refs[node]), func(ref cayleygraph.Ref) error {
			l, err := c.refer(seen, ref, node)
			links = append(links, l)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return links, nil
}

// refer takes the nodes of a quad other than its subject, which is known.
func (c *cayley) refer(seen *names, ref cayleygraph.Ref, subject int) (quadRef, error) {
	l := quadRef{subject: subject}
	var err error
	if l.predicate, err = seen.add(c.qs.QuadDirection(ref, quad.Predicate)); err != nil {
		return l, err
	}
	if l.object, err = seen.add(c.qs.QuadDirection(ref, quad.Object)); err != nil {
		return l, err
	}
	l.label, err = seen.add(c.qs.QuadDirection(ref, quad.Label))
	return l, err
}

func (c *cayley) resolve(ctx context.Context, seen *names) error {
	values, err := cayleygraph.ValuesOf(ctx, c.qs, seen.unresolved())
	seen.values = append(seen.values, values...)
	return err
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
	if err := c.resolve(ctx, &seen); err != nil {
		return nil, err
	}
	return seen.values, nil
}

func (c *cayley) each(ctx context.Context, visit func(quad.Quad) error) error {
	return c.eachBy(ctx, c, visit)
}

// eachBatch is how many quads each resolves together.
const eachBatch = 4096

func (c *cayley) eachBy(ctx context.Context, l levels, visit func(quad.Quad) error) error {
	seen, links := &names{}, []quadRef(nil)
	flush := func() error {
		if err := l.resolve(ctx, seen); err != nil {
			return err
		}
		for _, link := range links {
			if err := visit(seen.quad(link)); err != nil {
				return err
			}
		}
		seen, links = &names{}, links[:0]
		return nil
	}
	err := c.scan(ctx, c.qs.QuadsAllIterator(), func(ref cayleygraph.Ref) error {
		subject, err := seen.add(c.qs.QuadDirection(ref, quad.Subject))
		if err != nil {
			return err
		}
		link, err := c.refer(seen, ref, subject)
		links = append(links, link)
		if err != nil || len(links) < eachBatch {
			return err
		}
		return flush()
	})
	if err != nil {
		return err
	}
	return flush()
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
