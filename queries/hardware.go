package queries

import (
	"slices"

	"matewell/graph"
)

// IsHardware reports whether a kind of part is loose hardware, which only holds
// other parts together: the sorts that fasteners.csv holds.
func IsHardware(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"bolt", "nut", "washer", "seal-washer", "stud", "banjo-bolt", "circlip",
		"split-pin", "clip", "insert", "collar"}, kind)
}
