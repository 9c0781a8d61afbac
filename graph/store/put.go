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

// quadsOf writes a data set as quads, each once.
func quadsOf(f graph.Facts) []quad.Quad {
	s := &sheet{}
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
	return s.quads
}

func writeAll[K identity, T any](s *sheet, c codec[K, T], list []T) {
	for _, v := range list {
		c.write(s, v)
	}
}
