package donor

import (
	"slices"

	"matewell/graph"
)

// What is loosened, measured, set and secured around what comes off and goes on. All of it
// is common practice, no source.

// isSetCable reports whether a cable works something by how much slack it has.
func isSetCable(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"clutch-cable", "throttle-cable", "choke-cable", "brake-cable"}, kind)
}

func isTab(kind graph.KindID) bool { return kind == "tab-washer" }
