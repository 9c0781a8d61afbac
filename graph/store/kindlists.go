package store

import (
	"context"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// Which parts are of a kind, and at which positions of which model one belongs: two
// sorted lists, so that the first few, those of one model, and how many there are in
// all are told without a record being read.
const (
	kindPartsNode  quad.IRI = identities + "kind-parts"
	kindPlacesNode quad.IRI = identities + "kind-places"
)

// kindEnd parts a kind from the model behind it in the list of positions.
const kindEnd = "\n"

// kindsIn are the kinds of a data set's parts and positions. Positions without a kind
// are among them, since the list also tells which positions there are.
func kindsIn(f graph.Facts, part func(kind string, id graph.PartID) error,
	place func(kindAndModel string, id graph.PositionID) error) error {
	for _, p := range f.Parts {
		if p.Kind == "" {
			continue
		}
		if err := part(string(p.Kind), p.ID); err != nil {
			return err
		}
	}
	for _, p := range f.Positions {
		if err := place(placeKey(p.Kind, p.Model), p.ID); err != nil {
			return err
		}
	}
	return nil
}

func placeKey(kind graph.KindID, model graph.ModelID) string {
	return string(kind) + kindEnd + string(model)
}

// partsOfKind gives the first most parts of each kind, all when most is 0.
func partsOfKind(ctx context.Context, s *Store, most int, kinds []graph.KindID) ([]graph.PartID, error) {
	var all []graph.PartID
	for _, kind := range eachOnce(kinds) {
		var ids []graph.PartID
		for _, l := range s.layers {
			n, err := listAt[graph.PartID](ctx, l, kindPartsNode, partCodec().name)
			if err != nil {
				return nil, err
			}
			some, err := n.idsWhere(ctx, string(kind), most, func(key []byte) bool { return string(key) == string(kind) })
			if err != nil {
				return nil, err
			}
			ids = append(ids, some...)
		}
		slices.Sort(ids)
		if ids = slices.Compact(ids); most > 0 {
			ids = ids[:min(most, len(ids))]
		}
		all = append(all, ids...)
	}
	slices.Sort(all)
	return slices.Compact(all), ctx.Err()
}

// eachOnce are the identities that are not empty, each once.
func eachOnce[K identity](ids []K) []K {
	ids = slices.DeleteFunc(slices.Clone(ids), func(id K) bool { return id == "" })
	slices.Sort(ids)
	return slices.Compact(ids)
}

func positionsOfKind(ctx context.Context, s *Store, kinds []graph.KindID) ([]graph.PositionID, error) {
	return placesWhere(ctx, s, kinds, func(n sortedList[graph.PositionID]) ([]graph.PositionID, error) {
		var ids []graph.PositionID
		for _, kind := range eachOnce(kinds) {
			begin := placeKey(kind, "")
			some, err := n.idsWhere(ctx, begin, 0, func(key []byte) bool { return strings.HasPrefix(string(key), begin) })
			if err != nil {
				return nil, err
			}
			ids = append(ids, some...)
		}
		return ids, nil
	})
}

func positionsOfKindOn(ctx context.Context, s *Store, model graph.ModelID,
	kinds []graph.KindID) ([]graph.PositionID, error) {
	keys := make([]string, 0, len(kinds))
	for _, kind := range eachOnce(kinds) {
		keys = append(keys, placeKey(kind, model))
	}
	return placesWhere(ctx, s, kinds, func(n sortedList[graph.PositionID]) ([]graph.PositionID, error) {
		return n.under(ctx, keys)
	})
}

// placesWhere gives the positions of some kinds that look finds in the list of each
// layer, sorted. A layer may give a position another kind than one below has: so where
// several have positions, those that were found are read.
func placesWhere(ctx context.Context, s *Store, kinds []graph.KindID,
	look func(sortedList[graph.PositionID]) ([]graph.PositionID, error)) ([]graph.PositionID, error) {
	ids, layers, err := placesIn(ctx, s, look)
	if err != nil || layers < 2 || len(ids) == 0 {
		return ids, err
	}
	places, err := s.Positions(ctx, ids...)
	ids = nil
	for _, p := range places {
		if slices.Contains(kinds, p.Kind) {
			ids = append(ids, p.ID)
		}
	}
	return ids, err
}

// placesIn gives the positions that look finds in the list of each layer, sorted, and
// how many layers have any positions.
func placesIn(ctx context.Context, s *Store,
	look func(sortedList[graph.PositionID]) ([]graph.PositionID, error)) (ids []graph.PositionID, layers int, err error) {
	for _, l := range s.layers {
		if !l.has(positionCodec().name) {
			continue
		}
		layers++
		n, err := listAt[graph.PositionID](ctx, l, kindPlacesNode, positionCodec().name)
		if err != nil {
			return nil, 0, err
		}
		some, err := look(n)
		if err != nil {
			return nil, 0, err
		}
		ids = append(ids, some...)
	}
	slices.Sort(ids)
	return slices.Compact(ids), layers, ctx.Err()
}

func positionIDs(ctx context.Context, s *Store, models []graph.ModelID) ([]graph.PositionID, error) {
	if len(models) == 0 {
		return nil, ctx.Err()
	}
	asked := map[string]bool{}
	for _, id := range models {
		asked[string(id)] = true
	}
	ids, _, err := placesIn(ctx, s, func(n sortedList[graph.PositionID]) ([]graph.PositionID, error) {
		return n.idsWhere(ctx, "", 0, func(key []byte) bool {
			_, model, _ := strings.Cut(string(key), kindEnd)
			return asked[model]
		})
	})
	return ids, err
}
