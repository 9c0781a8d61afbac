package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// fewestInSet is how many variants get a set of their own at least.
const fewestInSet = 3

// holdsOn writes the variants that a record holds on. Most records of a model
// hold on one of a few sets of its variants, and each of their sources says so:
// a store keeps such a set once and the record's link to it. An export names the
// variants one by one, which is what others look for.
func (p page) holdsOn(ids []graph.VariantID) {
	if p.sheet.plain || len(ids) < fewestInSet {
		link(p, termOn, ids...)
		return
	}
	p.fact(termOnSet, p.sheet.set(ids))
}

// set is the node of a set of variants, named by what is in it: the same in
// every layer.
func (s *sheet) set(ids []graph.VariantID) quad.IRI {
	ids = slices.Compact(slices.Sorted(slices.Values(ids)))
	texts := make([]string, len(ids))
	for i, id := range ids {
		texts[i] = string(id)
	}
	sum := sha256.Sum256([]byte(strings.Join(texts, "\x00")))
	node := quad.IRI(variantSets + hex.EncodeToString(sum[:8]))
	if _, have := s.sets[node]; have {
		return node
	}
	if s.sets == nil {
		s.sets = map[quad.IRI][]quad.Quad{}
	}
	for _, id := range ids {
		s.sets[node] = append(s.sets[node], quad.Quad{Subject: node, Predicate: termIncludes, Object: iri(id), Label: node})
	}
	return node
}

// all is every quad of the sheet, the sets last.
func (s *sheet) all() []quad.Quad {
	for _, node := range slices.Sorted(maps.Keys(s.sets)) {
		s.quads = append(s.quads, s.sets[node]...)
	}
	s.sets = nil
	return s.quads
}

// variants are the variants that a record holds on, sorted, each once, from
// all layers: those named and those of its sets.
func (r *record) variants() []graph.VariantID {
	ids := links[graph.VariantID](r, termOn)
	r.each(termOnSet, func(v value) {
		node, _ := v.object.(quad.IRI)
		if set := r.parts[node]; set != nil {
			ids = append(ids, links[graph.VariantID](set, termIncludes)...)
		}
	})
	slices.Sort(ids)
	return slices.Compact(ids)
}

// knownSets are the sets read so far. What is in a set never changes, since its
// name says what that is.
type knownSets struct {
	mu   sync.Mutex
	sets records
}

// addSets adds to records the sets of variants that they name.
func (s *Store) addSets(ctx context.Context, found records) error {
	wanted := map[quad.IRI]bool{}
	for _, r := range found {
		r.each(termOnSet, func(v value) {
			if node, ok := v.object.(quad.IRI); ok {
				wanted[node] = true
			}
		})
	}
	if len(wanted) == 0 {
		return nil
	}
	s.sets.mu.Lock()
	defer s.sets.mu.Unlock()
	var missing []quad.IRI
	for node := range wanted {
		if s.sets.sets[node] == nil {
			missing = append(missing, node)
		}
	}
	if len(missing) > 0 {
		if err := s.readInto(ctx, s.sets.sets, missing); err != nil {
			return err
		}
	}
	for node := range wanted {
		if set := s.sets.sets[node]; set != nil {
			found[node] = set
		}
	}
	return nil
}

// fitmentsOn are the fitments that hold on one of the variants, named or in a
// set; sorted, each once.
func (s *Store) fitmentsOn(ctx context.Context, variants []graph.VariantID) ([]graph.FitmentID, error) {
	named, err := pointingIDs[graph.FitmentID](ctx, s, termOn, iris(variants))
	if err != nil || len(variants) == 0 {
		return nil, err
	}
	sets, err := s.subjects(ctx, termIncludes, iris(variants))
	if err != nil {
		return nil, err
	}
	nodes := make([]quad.Value, len(sets))
	for i, set := range sets {
		nodes[i] = set
	}
	through, err := pointingIDs[graph.FitmentID](ctx, s, termOnSet, nodes)
	if err != nil {
		return nil, err
	}
	ids := append(named, through...)
	slices.Sort(ids)
	return slices.Compact(ids), nil
}
