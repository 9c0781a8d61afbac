package store

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// Store implements graph.Reader over one quad store, or over several in
// layers. It may be used from several goroutines at once, but not while Put
// runs on a store in memory.
type Store struct {
	layers []backend  // lowest first, at least one
	sets   *knownSets // of variants, from all layers
}

func newStore(layers ...backend) *Store {
	return &Store{layers: layers, sets: &knownSets{sets: records{}}}
}

var _ graph.Reader = (*Store)(nil)

// backend is what is asked of a quad store: everything else is built on it.
type backend interface {
	// about gives every quad whose subject is one of the nodes, or a part of
	// a record that they lead to, in no order.
	about(ctx context.Context, nodes []quad.IRI) ([]quad.Quad, error)
	// subjects gives the subjects of the quads with the predicate and one of
	// the objects, in no order, perhaps several times.
	subjects(ctx context.Context, predicate quad.IRI, objects []quad.Value) ([]quad.Value, error)
	// each visits every quad, in no order.
	each(ctx context.Context, visit func(quad.Quad) error) error
	// apply adds quads and takes others away, all or nothing. Those that are
	// there, or gone, already are passed over.
	apply(ctx context.Context, add, remove []quad.Quad) error
	close() error
}

// errLayers is returned by Put for a layered store, which has no one place to
// write to.
var errLayers = errors.New("store: a layered store is read only")

// Memory gives an empty store in memory.
func Memory() (*Store, error) {
	return newStore(&cayley{qs: memstore.New()}), nil
}

// Over gives the store with others on top of it: a union of what they all
// say. Readings, sources and sets of all layers come back together; of a
// single-valued fact, a numbered list, or a line kept by name (what a bike has
// at a position, a line of a kit) the last layer that states it wins. Closing
// the result closes every layer.
func (s *Store) Over(upper ...*Store) *Store {
	layers := slices.Clone(s.layers)
	for _, u := range upper {
		layers = append(layers, u.layers...)
	}
	return newStore(layers...)
}

// Close releases the store and every layer of it.
func (s *Store) Close() error {
	var errs []error
	for _, layer := range s.layers {
		errs = append(errs, layer.close())
	}
	return errors.Join(errs...)
}

// records reads all facts about the nodes and about the parts of their
// records, from all layers. A node without facts has no record.
func (s *Store) records(ctx context.Context, nodes []quad.IRI) (records, error) {
	found := records{}
	if err := s.readInto(ctx, found, nodes); err != nil {
		return nil, err
	}
	return found, s.addSets(ctx, found)
}

// readInto adds to records what all layers say about the nodes and about the
// parts of their records.
func (s *Store) readInto(ctx context.Context, found records, nodes []quad.IRI) error {
	for layer, b := range s.layers {
		quads, err := b.about(ctx, nodes)
		if err != nil {
			return fmt.Errorf("store: read: %w", err)
		}
		for _, q := range quads {
			found.add(q, layer)
		}
	}
	return nil
}

func (found records) add(q quad.Quad, layer int) {
	node, _ := q.Subject.(quad.IRI)
	predicate, _ := q.Predicate.(quad.IRI)
	r := found[node]
	if r == nil {
		r = &record{node: node, parts: found, only: allLayers}
		found[node] = r
	}
	r.values = append(r.values, value{predicate, q.Object, q.Label, layer})
}

// isPart reports whether a node is a part of the record that another is or
// belongs to.
func isPart(node, other quad.Value) bool {
	part, ok := node.(quad.IRI)
	if !ok {
		return false
	}
	owner, _ := other.(quad.IRI)
	own := root(owner)
	return len(part) > len(own) && part[len(own)] == '#' && part[:len(own)] == own
}

// subjects gives the nodes that a predicate leads from to one of the objects,
// sorted, each once, from all layers.
func (s *Store) subjects(ctx context.Context, predicate quad.IRI, objects []quad.Value) ([]quad.IRI, error) {
	var nodes []quad.IRI
	for _, b := range s.layers {
		values, err := b.subjects(ctx, predicate, objects)
		if err != nil {
			return nil, fmt.Errorf("store: look up: %w", err)
		}
		for _, v := range values {
			if node, ok := v.(quad.IRI); ok {
				nodes = append(nodes, node)
			}
		}
	}
	slices.Sort(nodes)
	return slices.Compact(nodes), nil
}
