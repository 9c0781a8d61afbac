package store

import (
	"context"
	"errors"
	"slices"

	"github.com/cayleygraph/cayley/graph/memstore"

	"matewell/graph"
)

// Store implements graph.Reader over one quad store, or over several in
// layers. It may be used from several goroutines at once, but not while Put
// runs on a store in memory.
type Store struct {
	layers []level // lowest first, at least one
	// identity is another for every other content; empty when nobody can tell.
	identity string
	// connection says how a server is reached.
	connection string
}

// Identity is a text that is another for every store of other content: a
// generation on disk never changes. It is empty for a store that may change, as
// a server's or one in memory, or that has layers.
func (s *Store) Identity() string { return s.identity }

// Connection says in words how private the connection to a server is; empty for
// a store that has none.
func (s *Store) Connection() string { return s.connection }

var _ graph.Reader = (*Store)(nil)

// Memory gives an empty store in memory.
func Memory() (*Store, error) {
	return &Store{layers: []level{{backend: newCayley(memstore.New())}}}, nil
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
	return &Store{layers: layers}
}

// Close releases the store and every layer of it.
func (s *Store) Close() error {
	var errs []error
	for _, layer := range s.layers {
		errs = append(errs, layer.close())
	}
	return errors.Join(errs...)
}

// opened gives the store on one backend.
func opened(ctx context.Context, b backend, empty bool) (*Store, error) {
	l, err := openLevel(ctx, b, empty)
	if err != nil {
		return nil, errors.Join(err, b.close())
	}
	return &Store{layers: []level{l}}, nil
}
