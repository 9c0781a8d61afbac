package store

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// How often parts are listed, and the first of their fitments, without reading
// all: a list leads from the node of a part to the number of its fitments.

// listingsNode leads to the directory of the list.
const listingsNode quad.IRI = identities + "listings"

// listed are the layers that hold fitments.
func listed(s *Store) []level {
	return slices.DeleteFunc(slices.Clone(s.layers), func(l level) bool { return !l.has(fitmentCodec().name) })
}

func fitmentCounts(ctx context.Context, s *Store, parts []graph.PartID) (map[graph.PartID]int, error) {
	counts := map[graph.PartID]int{}
	listed := listed(s)
	if len(listed) > 1 { // they may say the same
		all, err := s.FitmentsOf(ctx, parts...)
		for _, f := range all {
			counts[f.Part]++
		}
		return counts, err
	}
	if len(listed) == 0 || len(parts) == 0 {
		return counts, ctx.Err()
	}
	asked := map[string]graph.PartID{}
	for _, id := range parts {
		asked[string(iri(id))] = id
	}
	n, err := listAt[plainID](ctx, listed[0], listingsNode, fitmentCodec().name)
	if err != nil {
		return nil, err
	}
	keys := make([]string, 0, len(asked))
	for key := range asked {
		keys = append(keys, key)
	}
	entries, err := n.pages(ctx, n.holding(keys), func(key string) bool { _, ok := asked[key]; return ok })
	for _, e := range entries {
		if counts[asked[e.Key]], err = strconv.Atoi(string(e.ID)); err != nil {
			return nil, fmt.Errorf("%w: %q is no number of fitments", ErrDamaged, e.ID)
		}
	}
	return counts, err
}

func fitmentsUpTo(ctx context.Context, s *Store, n int, parts []graph.PartID) ([]graph.Fitment, error) {
	listed := listed(s)
	if len(listed) > 1 || n > fullBundle || n < 1 {
		all, err := s.FitmentsOf(ctx, parts...)
		return firstOfEach(all, n), err
	}
	if len(listed) == 0 {
		return nil, ctx.Err()
	}
	// The first bundle of a part holds the first of its fitments.
	nodes := distinct(parts, func(id graph.PartID) quad.IRI { return bundleNode(iri(id), fitmentCodec().name, 1) })
	bundles, err := listed[0].own(ctx, nodes)
	if err != nil {
		return nil, fmt.Errorf("store: read: %w", readError(err))
	}
	var found []graph.Fitment
	for _, b := range bundles {
		some, err := pick([]bundle{b}, firstLines[graph.Fitment](n))
		if err != nil {
			return nil, err
		}
		found = append(found, some...)
	}
	return union(fitmentCodec(), [][]graph.Fitment{found}), ctx.Err()
}

// firstLines wants the first n records of one bundle.
func firstLines[T any](n int) wanted[T] {
	return wanted[T]{func(T) bool { return true }, func(string) bool { n--; return n >= 0 }}
}

// firstOfEach keeps the first n fitments of each part.
func firstOfEach(all []graph.Fitment, n int) []graph.Fitment {
	have := map[graph.PartID]int{}
	all = slices.DeleteFunc(all, func(f graph.Fitment) bool {
		have[f.Part]++
		return have[f.Part] > n
	})
	if len(all) == 0 {
		return nil
	}
	return all
}
