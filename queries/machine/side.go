package machine

import (
	"slices"
	"strings"

	"matewell/graph"
)

// OtherSide is the position on the other side by its name; empty when the name has
// no side. The side is its last word that is one: "fork/leg-left", "fork/left",
// "front-brake/left-caliper", "front-brake-left/caliper".
func OtherSide(id graph.PositionID) graph.PositionID {
	start, end, side := sideIn(id)
	if side == "" {
		return ""
	}
	return id[:start] + graph.PositionID(otherSides[side]) + id[end:]
}

var otherSides = map[string]string{"left": "right", "right": "left"}

// sideIn is where the name of a position says its side, and which; none for a name
// without one. The name of the model is no part of that.
func sideIn(id graph.PositionID) (start, end int, side string) {
	text := string(id)
	for end = len(text); end > 0; end = start {
		if start = strings.LastIndexAny(text[:end], "-/:") + 1; otherSides[text[start:end]] != "" {
			return start, end, text[start:end]
		}
		if start--; start < 0 || text[start] == ':' {
			break
		}
	}
	return 0, 0, ""
}

// sideOf is "left" or "right", as a position says or by its name; empty for one of
// neither side.
func sideOf(at graph.Position) string {
	if at.Side != "" {
		if otherSides[at.Side] == "" {
			return ""
		}
		return at.Side
	}
	_, _, side := sideIn(at.ID)
	return side
}

// IsCalledForOtherSide reports whether a part is called left, and not right, at a
// position that is right, or the other way round.
func IsCalledForOtherSide(at graph.Position, part graph.Part) bool {
	words := strings.FieldsFunc(strings.ToLower(part.Name), func(c rune) bool {
		return strings.ContainsRune(" ,;()/", c)
	})
	isCalled := func(side string) bool { return slices.Contains(words, side) }
	switch sideOf(at) {
	case "left":
		return isCalled("right") && !isCalled("left")
	case "right":
		return isCalled("left") && !isCalled("right")
	}
	return false
}

// HasNoSide reports whether a part is a seal, bearing, washer, spring or ring and nothing
// else: what is round goes on either side. Common practice, no source.
func HasNoSide(part graph.Part) bool {
	round := []string{"seal", "bearing", "washer", "spring", "circlip"}
	for _, f := range part.Features {
		if f.Kind != "finish" && !slices.Contains(round, f.Kind) {
			return false
		}
	}
	return len(part.Features) > 0
}
