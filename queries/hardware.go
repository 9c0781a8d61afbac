package queries

import (
	"slices"

	"matewell/graph"
)

// IsHardware reports whether a kind of part is loose hardware, which only holds
// other parts together: the sorts that fasteners.csv holds.
func IsHardware(kind graph.KindID) bool {
	return kind != "" && IsOrderedBySize(kind) ||
		slices.Contains([]graph.KindID{"seal-washer", "banjo-bolt", "collar"}, kind)
}

// IsOrderedBySize reports whether a kind of part is hardware of which there are
// hundreds, got by its sizes and not looked for among all numbers; what has no kind
// counts as such.
func IsOrderedBySize(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"", "bolt", "nut", "washer", "stud", "clip", "circlip", "split-pin", "insert"},
		kind)
}
