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
	return append((&sheet{plain: true}).allOf(f), quantitiesOf(f)...)
}

// exported is every fact as a quad, sorted by its N-Quads line, each once. It
// is written anew from the domain types: what layers say of one thing is then
// one record, as questions see it. What follows from the facts and only serves
// readers of published vocabularies is among it: see quantity.go.
func (s *Store) exported(ctx context.Context) ([]quad.Quad, error) {
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
