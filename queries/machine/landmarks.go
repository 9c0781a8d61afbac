package machine

import (
	"slices"
	"strings"

	"matewell/graph"
)

// Landmarks are the positions of a variant that geometry, gearing and speed
// depend on, wherever they are named.
type Landmarks struct {
	Frame, Engine, Rocker graph.PositionID
	Yokes, Legs, Shocks   []graph.PositionID
	Tyre, Ring            map[string]graph.PositionID // by "front" and "rear"
}

// landmarkKinds are the feature kinds by which landmarks are found.
func landmarkKinds() []string {
	return []string{"frame-geometry", "yoke-offset", "fork-length", "link-ratio", "tyre", "primary-gearing", "sensor-ring"}
}

func (l *Landmarks) add(p graph.Position, part graph.Part) {
	id, end := p.ID, EndOf(p)
	for _, f := range part.Features {
		switch f.Kind {
		case "frame-geometry":
			l.Frame = firstOf(l.Frame, id)
		case "primary-gearing":
			l.Engine = firstOf(l.Engine, id)
		case "link-ratio":
			l.Rocker = firstOf(l.Rocker, id)
		case "yoke-offset":
			l.Yokes = append(l.Yokes, id)
		case "tyre":
			if !HasKind(part, "shaft") { // a tube inside has its size too, and a stem
				l.Tyre[end] = firstOf(l.Tyre[end], id)
			}
		case "sensor-ring":
			l.Ring[end] = firstOf(l.Ring[end], id)
		case "fork-length":
			switch lengthOf(part) {
			case forkLeg:
				l.Legs = append(l.Legs, id)
			case shock:
				l.Shocks = append(l.Shocks, id)
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
	case HasKind(p, "tube") && !HasKind(p, "clamp"):
		return forkLeg
	case HasKind(p, "eye") || HasKind(p, "clevis"):
		return shock
	}
	return ""
}

// EndOf is "front" or "rear": by the side of the position, else by its name;
// empty when neither says.
func EndOf(p graph.Position) string {
	for _, text := range []string{p.Side, p.ID.Local(), p.Name} {
		for _, end := range []string{"front", "rear"} {
			if strings.Contains(text, end) {
				return end
			}
		}
	}
	return ""
}

// IsForOtherWheel reports whether a tyre is made for the other wheel than that of its
// place: which one it is made for is written on it.
func IsForOtherWheel(at graph.Position, part graph.Part) bool {
	size, ok := FeatureOfKind(part, "tyre")
	end := EndOf(at)
	if !ok || end == "" {
		return false
	}
	return map[string]string{"front": "rear", "rear": "front"}[end] == strings.ToLower(BestText(size, "place"))
}

// HasLandmark reports whether a part has a feature by which a landmark is told.
func HasLandmark(p graph.Part) bool {
	return slices.ContainsFunc(landmarkKinds(), func(kind string) bool { return HasKind(p, kind) })
}

// TouchesGeometry reports whether any of the changed positions had or gets a
// part that a landmark is told by.
func TouchesGeometry(before, after *Setup) bool {
	for _, id := range after.Changed() {
		for _, part := range []graph.Part{before.Seat(id).Part, after.Seat(id).Part} {
			if HasLandmark(part) || slices.ContainsFunc([]string{"sprocket", "chain", "pulley", "belt"},
				func(kind string) bool { return HasKind(part, kind) }) {
				return true
			}
		}
	}
	return false
}
