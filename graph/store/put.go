package store

import (
	"context"
	"fmt"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// batch is how many quads go into the store at a time.
const batch = 20_000

// Put adds facts to a store that can be written to. Facts that are there
// already stay as they are, so that putting the same again changes nothing.
// progress may be nil; it is told how many of how many quads are in.
func (s *Store) Put(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	quads := quadsOf(f)
	for start := 0; start < len(quads); start += batch {
		end := min(start+batch, len(quads))
		if err := s.layers[0].apply(ctx, quads[start:end], nil); err != nil {
			return fmt.Errorf("store: put: %w", err)
		}
		if progress != nil {
			progress(end, len(quads))
		}
	}
	return nil
}

// Replace makes a store that can be written to hold these facts and no others,
// in one step: whoever reads sees all of the change or nothing of it. progress
// may be nil.
func (s *Store) Replace(ctx context.Context, f graph.Facts, progress func(done, total int)) error {
	if len(s.layers) != 1 {
		return errLayers
	}
	var held []quad.Quad
	err := s.layers[0].each(ctx, func(q quad.Quad) error {
		held = append(held, q)
		return nil
	})
	if err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	wanted := quadsOf(f)
	add, remove := without(wanted, held), without(held, wanted)
	if err := s.layers[0].apply(ctx, add, remove); err != nil {
		return fmt.Errorf("store: replace: %w", err)
	}
	if progress != nil {
		progress(len(wanted), len(wanted))
	}
	return nil
}

// without gives the quads of a list that another doesn't have.
func without(list, other []quad.Quad) []quad.Quad {
	held := make(map[quad.Quad]struct{}, len(other))
	for _, q := range other {
		held[q] = struct{}{}
	}
	var left []quad.Quad
	for _, q := range list {
		if _, ok := held[q]; !ok {
			left = append(left, q)
		}
	}
	return left
}

// quadsOf writes a data set as quads, each once.
func quadsOf(f graph.Facts) []quad.Quad { return (&sheet{}).allOf(f) }

func (s *sheet) allOf(f graph.Facts) []quad.Quad {
	writeAll(s, sourceCodec(), f.Sources)
	writeAll(s, brandCodec(), f.Brands)
	writeAll(s, kindCodec(), f.Kinds)
	writeAll(s, modelCodec(), f.Models)
	writeAll(s, variantCodec(), f.Variants)
	writeAll(s, assemblyCodec(), f.Assemblies)
	writeAll(s, positionCodec(), f.Positions)
	writeAll(s, partCodec(), f.Parts)
	writeAll(s, fitmentCodec(), f.Fitments)
	writeAll(s, jointCodec(), f.Joints)
	writeAll(s, runCodec(), f.Runs)
	writeAll(s, circuitCodec(), f.Circuits)
	writeAll(s, stackCodec(), f.Stacks)
	writeAll(s, supersessionCodec(), f.Supersessions)
	writeAll(s, findingCodec(), f.Findings)
	writeAll(s, bikeCodec(), f.Bikes)
	return s.all()
}

func writeAll[K identity, T any](s *sheet, c codec[K, T], list []T) {
	for _, v := range list {
		c.write(s, v)
	}
}
