package queries

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
)

// landmarks are the positions of a variant that geometry, gearing and speed
// depend on, wherever they are named.
type landmarks struct {
	frame, engine, rocker graph.PositionID
	yokes, legs, shocks   []graph.PositionID
	tyre, ring            map[string]graph.PositionID // by "front" and "rear"
}

// landmarkKinds are the feature kinds by which landmarks are found.
func landmarkKinds() []string {
	return []string{"frame-geometry", "yoke-offset", "fork-length", "link-ratio", "tyre", "primary-gearing", "sensor-ring"}
}

// findLandmarks finds the landmarks of the variant and loads what sits there.
func (s *Setup) findLandmarks(ctx context.Context) (*landmarks, error) {
	kinds, err := s.library.reader().KindsWith(ctx, landmarkKinds()...)
	if err != nil || len(kinds) == 0 {
		return &landmarks{}, err
	}
	positions, err := s.library.reader().PositionsOfKind(ctx, kinds...)
	if err != nil {
		return nil, err
	}
	positions = kept(positions, func(id graph.PositionID) bool { return id.Model() == s.Variant.Model })
	if err := s.Load(ctx, positions...); err != nil {
		return nil, err
	}
	found := &landmarks{tyre: map[string]graph.PositionID{}, ring: map[string]graph.PositionID{}}
	for _, id := range positions {
		if seat := s.Seat(id); slices.Contains(seat.Position.On, s.Variant.ID) {
			found.add(seat.Position, s.AsBuilt().Seat(id).Part)
			found.add(seat.Position, seat.Part) // a part that was described no further still stands where it stands
		}
	}
	found.yokes, found.legs, found.shocks = unique(found.yokes), unique(found.legs), unique(found.shocks)
	return found, nil
}

func (l *landmarks) add(p graph.Position, part graph.Part) {
	id, end := p.ID, wheelEnd(p)
	for _, f := range part.Features {
		switch f.Kind {
		case "frame-geometry":
			l.frame = firstOf(l.frame, id)
		case "primary-gearing":
			l.engine = firstOf(l.engine, id)
		case "link-ratio":
			l.rocker = firstOf(l.rocker, id)
		case "yoke-offset":
			l.yokes = append(l.yokes, id)
		case "tyre":
			l.tyre[end] = firstOf(l.tyre[end], id)
		case "sensor-ring":
			l.ring[end] = firstOf(l.ring[end], id)
		case "fork-length":
			switch lengthOf(part) {
			case forkLeg:
				l.legs = append(l.legs, id)
			case shock:
				l.shocks = append(l.shocks, id)
			}
		}
	}
}

func firstOf(have, id graph.PositionID) graph.PositionID {
	if have == "" {
		return id
	}
	return have
}

// What a part with a fork-length is, told by what else it has.
const (
	forkLeg = "fork leg" // gripped by the yokes
	shock   = "shock"    // hung by eyes
)

// lengthOf tells a fork leg from a shock; empty for risers and springs, which
// move neither axle.
func lengthOf(p graph.Part) string {
	switch {
	case hasKind(p, "tube") && !hasKind(p, "clamp"):
		return forkLeg
	case hasKind(p, "eye") || hasKind(p, "clevis"):
		return shock
	}
	return ""
}

// wheelEnd is "front" or "rear": by the side of the position, else by its name;
// empty when neither says.
func wheelEnd(p graph.Position) string {
	for _, text := range []string{p.Side, p.ID.Local(), p.Name} {
		for _, end := range []string{"front", "rear"} {
			if strings.Contains(text, end) {
				return end
			}
		}
	}
	return ""
}

// touchesGeometry reports whether any of the changed positions had or gets a
// part that a landmark is told by.
func touchesGeometry(before, after *Setup) bool {
	for _, id := range after.Changed() {
		for _, part := range []graph.Part{before.Seat(id).Part, after.Seat(id).Part} {
			if slices.ContainsFunc(landmarkKinds(), func(kind string) bool { return hasKind(part, kind) }) ||
				hasKind(part, "sprocket") || hasKind(part, "chain") {
				return true
			}
		}
	}
	return false
}
