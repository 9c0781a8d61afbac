package store

import (
	"context"
	"fmt"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// statementsOf is a data set as quads for others to read: with every variant
// named, and with quantities as numbers.
func statementsOf(f graph.Facts) []quad.Quad {
	return append(statedIn(f), quantitiesOf(f)...)
}

// statedIn is a data set as quads, without what only follows from its texts.
func statedIn(f graph.Facts) []quad.Quad {
	s := &sheet{}
	state(s, sourceCodec(), f.Sources)
	state(s, brandCodec(), f.Brands)
	state(s, kindCodec(), f.Kinds)
	state(s, modelCodec(), f.Models)
	state(s, variantCodec(), f.Variants)
	state(s, assemblyCodec(), f.Assemblies)
	state(s, positionCodec(), f.Positions)
	state(s, partCodec(), f.Parts)
	state(s, fitmentCodec(), f.Fitments)
	state(s, jointCodec(), f.Joints)
	state(s, runCodec(), f.Runs)
	state(s, circuitCodec(), f.Circuits)
	state(s, stackCodec(), f.Stacks)
	state(s, supersessionCodec(), f.Supersessions)
	state(s, findingCodec(), f.Findings)
	state(s, bikeCodec(), f.Bikes)
	state(s, jobCodec(), f.Jobs)
	return s.quads
}

func state[K identity, T any](s *sheet, c codec[K, T], list []T) {
	for _, v := range list {
		c.write(s, v)
	}
}

// eachStatement visits every fact as a quad, in no order, some more than once. It
// is written anew from the domain types: what layers say of one thing is then one
// record, as questions see it. What follows from the facts and only serves readers
// of published vocabularies is among it: see quantity.go. No more than a piece of
// the lowest layer is in memory at a time.
func eachStatement(ctx context.Context, s *Store, visit func(quad.Quad) error) error {
	err := pieces(ctx, s, func(f graph.Facts) error {
		for _, q := range statementsOf(f) {
			if err := visit(q); err != nil {
				return err
			}
		}
		return ctx.Err()
	})
	if err != nil {
		return fmt.Errorf("store: export: %w", err)
	}
	return nil
}

// pieceBytes is how much of a store, as it lies there, is made facts of at a time.
const pieceBytes = 1 << 20

// pieces hands over all that the store holds: the lowest layer piece by piece, each
// with what the layers above say of its things, then what only they have.
func pieces(ctx context.Context, s *Store, visit func(graph.Facts) error) error {
	above := make([]graph.Facts, 0, len(s.layers))
	for _, l := range s.layers[1:] {
		f, err := factsOf(ctx, l)
		if err != nil {
			return err
		}
		above = append(above, f)
	}
	upper := together(above)
	var gathered []bundle
	size := 0
	hand := func() error {
		f, err := factsIn(gathered)
		if err != nil {
			return err
		}
		for _, k := range keepers() {
			k.overlay(&f, &upper)
		}
		gathered, size = nil, 0
		return visit(f)
	}
	err := s.layers[0].held(ctx, func(b bundle) error {
		gathered, size = append(gathered, b), size+len(b.text)
		if size < pieceBytes {
			return nil
		}
		return hand()
	})
	if err != nil {
		return readError(err)
	}
	if err := hand(); err != nil {
		return err
	}
	return visit(upper)
}

// sortedStatements sorts what eachStatement visits by a text and gives each once.
func sortedStatements(ctx context.Context, s *Store, text func(quad.Quad) string, visit func(string) error) error {
	var lines sorter
	defer lines.close()
	if err := eachStatement(ctx, s, func(q quad.Quad) error { return lines.add(text(q)) }); err != nil {
		return err
	}
	last, any := "", false
	return lines.each(ctx, func(line string) error {
		if any && line == last {
			return nil
		}
		last, any = line, true
		return visit(line)
	})
}
