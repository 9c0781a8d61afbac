package donor

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
)

// A demand that no open place decides is one all the same: the solver asks it of the
// first. It was handed on without a slot, and the whole question failed.
func TestSlotsOfWhatNothingDecides(t *testing.T) {
	p := &planner{memory: newMemory(nil, nil), slotAt: map[graph.PositionID]int{"a": 0, "b": 1},
		slots: []*donorSlot{{at: "a"}, {at: "b"}}}
	tests := []struct {
		name   string
		places []graph.PositionID
		want   []int
	}{
		{"one of two", []graph.PositionID{"b", "c"}, []int{1}},
		{"both", []graph.PositionID{"a", "b"}, []int{0, 1}},
		{"none", []graph.PositionID{"c"}, []int{0}},
	}
	for _, tt := range tests {
		d := &demand{Connection: examine.Connection{What: examine.OfRun, Places: tt.places}}
		if slotsOf(p, d); !slices.Equal(d.slots, tt.want) {
			t.Errorf("%s: slots %v, want %v", tt.name, d.slots, tt.want)
		}
	}
}
