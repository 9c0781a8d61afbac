package machine

import (
	"slices"
	"strings"

	"matewell/graph"
)

// OtherSide is the position on the other side by its name; empty when the name has
// no side.
func OtherSide(id graph.PositionID) graph.PositionID {
	text := string(id)
	switch {
	case strings.HasSuffix(text, "-left"):
		return graph.PositionID(strings.TrimSuffix(text, "left") + "right")
	case strings.HasSuffix(text, "-right"):
		return graph.PositionID(strings.TrimSuffix(text, "right") + "left")
	}
	return ""
}

// sideOf is "left" or "right", as a position says or by its name; empty for one of
// neither side.
func sideOf(at graph.Position) string {
	if at.Side == "left" || at.Side == "right" {
		return at.Side
	}
	for _, side := range []string{"left", "right"} {
		if at.Side == "" && strings.HasSuffix(string(at.ID), "-"+side) {
			return side
		}
	}
	return ""
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
