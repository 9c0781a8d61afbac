package store

import (
	"context"
	"errors"
	"fmt"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// batch is how many quads go into the store at a time.
const batch = 20_000

// errLayers is returned by what would write to a layered store, which has no
// one place to write to.
var errLayers = errors.New("store: a layered store is read only")

// Put adds facts to a store that can be written to, as a layer over what is
// there would. Putting the same again changes nothing. progress may be nil.
func (s *Store) Put(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	if len(s.layers[0].header.Holds) > 0 {
		held, err := s.Facts(ctx)
		if err != nil {
			return fmt.Errorf("store: put: %w", err)
		}
		f = together([]graph.Facts{held, f})
	}
	return s.Replace(ctx, f, progress)
}

// ReplaceFrom is Replace for facts that feed hands over piece by piece.
func (s *Store) ReplaceFrom(ctx context.Context, feed func(add func(graph.Facts) error) error, progress func(done, total int)) error {
	var parts []graph.Facts
	err := feed(func(f graph.Facts) error {
		parts = append(parts, f)
		return nil
	})
	if err != nil {
		return err
	}
	return s.Replace(ctx, together(parts), progress)
}

// Replace makes a store that can be written to hold these facts and no others,
// in one step: whoever reads sees all of the change or nothing of it. progress
// may be nil.
func (s *Store) Replace(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	wanted, err := quadsOf(ctx, f)
	if err != nil {
		return err
	}
	held := map[quad.Quad]bool{}
	err = s.layers[0].each(ctx, func(q quad.Quad) error {
		held[q] = true
		return nil
	})
	if err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	var add, remove []quad.Quad
	for _, q := range wanted {
		if !held[q] {
			add = append(add, q)
		}
		delete(held, q)
	}
	for q := range held {
		remove = append(remove, q)
	}
	if err := s.layers[0].apply(ctx, add, remove); err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	if progress != nil {
		progress(len(wanted), len(wanted))
	}
	level, err := openLevel(ctx, s.layers[0].backend, true)
	s.layers[0] = level
	return err
}
