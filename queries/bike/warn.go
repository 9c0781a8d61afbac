package bike

import (
	"cmp"

	"matewell/graph"
)

// BagWarning is hardware that would go into a place by mistake and do harm.
type BagWarning struct {
	Bag  string `json:"bag"` // where the wrong piece lies
	Item string `json:"item"`
	// At are the positions it must not go to, Right what belongs there.
	At     []graph.PositionID `json:"at,omitempty"`
	Right  string             `json:"right"`
	Safety graph.Safety       `json:"safety,omitempty"`
	Danger string             `json:"danger"` // "bottoms", "too short", "weaker", "binds", "does not hold"
	Why    string             `json:"why"`
}

// What a wrong bolt does.
const (
	dangerBottoms = "bottoms"
	dangerShort   = "too short"
	dangerWeaker  = "weaker"
	dangerBinds   = "binds"
	dangerRefused = "does not hold" // by what it goes into, whatever its length
)

// sizeText is what belongs at a position: its part and size.
func sizeText(s slot) string {
	text := string(cmp.Or(s.number(), graph.PartID(s.part.Kind)))
	for _, dim := range []string{"thread", "length"} {
		if readings := s.size.Dims[dim]; len(readings) > 0 {
			text += map[string]string{"thread": " ", "length": " x "}[dim] + readings[0].Text
		}
	}
	return text
}
