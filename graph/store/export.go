package store

import (
	"context"
	"fmt"
	"slices"
	"strings"

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

// exported is every fact as a quad, sorted by its N-Quads line, each once. It
// is written anew from the domain types: what layers say of one thing is then
// one record, as questions see it. What follows from the facts and only serves
// readers of published vocabularies is among it: see quantity.go.
func exported(ctx context.Context, s *Store) ([]quad.Quad, error) {
	f, err := s.Facts(ctx)
	if err != nil {
		return nil, fmt.Errorf("store: export: %w", err)
	}
	quads := statementsOf(f)
	lines := make(map[quad.Quad]string, len(quads))
	for _, q := range quads {
		lines[q] = statement(q)
	}
	slices.SortFunc(quads, func(a, b quad.Quad) int { return strings.Compare(lines[a], lines[b]) })
	return slices.Compact(quads), nil
}
