package donor

import (
	"testing"

	"matewell/graph"
)

// Of several parts that a donor keeps because none of them can be exchanged alone, nobody
// looked whether they can together: nothing is proved then. One alone is looked at.
func TestMayExchangeMore(t *testing.T) {
	for _, tt := range []struct {
		free map[graph.PositionID]bool
		want bool
	}{
		{nil, false},
		{map[graph.PositionID]bool{"m:pegs/block": true, "m:pegs/plate": true}, false},
		{map[graph.PositionID]bool{"m:pegs/block": false, "": false}, false},
		{map[graph.PositionID]bool{"m:pegs/block": false, "m:pegs/plate": false}, true},
	} {
		p := &planner{task: &task{}, memory: &memory{free: tt.free}}
		if got := mayExchangeMore(p); got != tt.want {
			t.Errorf("%v: %v", tt.free, got)
		}
	}
}
