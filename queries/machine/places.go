package machine

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// Places are the positions of one variant by the kinds of feature that what sits
// there has, as built or now; each list sorted.
type Places map[string][]graph.PositionID

// PlacesWith finds the positions of the variant whose kind of part has a feature of
// one of some kinds, and loads what sits there. Those of one model are read once
// for each set of kinds.
func (s *Setup) PlacesWith(ctx context.Context, featureKinds ...string) (Places, error) {
	ids, err := s.library.positionsWith(ctx, s.Variant.Model, featureKinds)
	if err != nil {
		return nil, err
	}
	if err := s.Load(ctx, ids...); err != nil {
		return nil, err
	}
	found := Places{}
	for _, id := range ids {
		if !slices.Contains(s.Seat(id).Position.On, s.Variant.ID) {
			continue
		}
		for _, kind := range featureKinds {
			if HasKind(s.Seat(id).Part, kind) || HasKind(s.AsBuilt().Seat(id).Part, kind) {
				found[kind] = append(found[kind], id)
			}
		}
	}
	return found, nil
}

// positionsWith are the positions of a model whose kind of part has a feature of
// one of some kinds, sorted.
func (l *Library) positionsWith(ctx context.Context, model graph.ModelID, featureKinds []string) ([]graph.PositionID,
	error) {
	key := string(model) + " " + strings.Join(featureKinds, " ")
	if ids, ok := l.with[key]; ok {
		return ids, nil
	}
	kinds, err := l.r.KindsWith(ctx, featureKinds...)
	if err != nil {
		return nil, err
	}
	var ids []graph.PositionID
	if len(kinds) > 0 {
		if ids, err = l.r.PositionsOfKind(ctx, kinds...); err != nil {
			return nil, err
		}
	}
	ids = lists.Unique(lists.Kept(ids, func(id graph.PositionID) bool { return id.Model() == model }))
	l.with[key] = ids
	return ids, nil
}
