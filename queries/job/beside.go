package job

import (
	"matewell/graph"
)

// Beside is what was noted on a machine of one's own of a place that the job has open, or
// that meets it or shares its circuit: a worn or broken part, one that hangs elsewhere.
type Beside struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Says     []string         `json:"says"`
	// Stop is true for what must not be ridden with: it is scrap, or it hangs where nobody
	// built it.
	Stop bool `json:"stop,omitempty"`
}
