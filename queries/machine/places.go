package machine

import (
	"matewell/graph"
)

// Places are the positions of one variant by the kinds of feature that what sits
// there has, as built or now; each list sorted.
type Places map[string][]graph.PositionID
