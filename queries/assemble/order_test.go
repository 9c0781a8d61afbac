package assemble

import (
	"slices"
	"testing"

	"matewell/graph"
)

// What must be on first comes first; between equals the names decide; what waits
// in a circle, and what waits for that, is left over and named.
func TestOrderOfWork(t *testing.T) {
	tests := []struct {
		name         string
		waits        map[graph.PositionID][]graph.PositionID
		order, cycle []graph.PositionID
	}{
		{"nothing waits", nil, []graph.PositionID{"axle", "disc", "wheel"}, nil},
		{"a wheel after its disc, the axle after the wheel",
			map[graph.PositionID][]graph.PositionID{"wheel": {"disc"}, "axle": {"wheel"}},
			[]graph.PositionID{"disc", "wheel", "axle"}, nil},
		{"two wait for each other", map[graph.PositionID][]graph.PositionID{"wheel": {"disc"}, "disc": {"wheel"}},
			[]graph.PositionID{"axle", "disc", "wheel"}, []graph.PositionID{"disc", "wheel"}},
		{"one waits for a circle", map[graph.PositionID][]graph.PositionID{"wheel": {"disc"}, "disc": {"wheel"},
			"axle": {"wheel"}},
			[]graph.PositionID{"axle", "disc", "wheel"}, []graph.PositionID{"axle", "disc", "wheel"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			order, cycle := sorted([]graph.PositionID{"wheel", "axle", "disc"}, tt.waits)
			if !slices.Equal(order, tt.order) || !slices.Equal(cycle, tt.cycle) {
				t.Errorf("order %v, circle %v, want %v and %v", order, cycle, tt.order, tt.cycle)
			}
		})
	}
}
