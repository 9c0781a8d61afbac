package donor

import (
	"slices"
	"testing"

	"matewell/queries/plan"
)

// A slot at which everything comes out the same decides nothing, and is left out; of what
// costs something, or hangs on the slot beside others only, nothing is.
func TestIdleSlots(t *testing.T) {
	free := &trial{ways: []donorWay{{}}}
	dead := &trial{}
	dear := &trial{ways: []donorWay{{cost: plan.Cost{Parts: 1}}}}
	two := [][]alike{{{option: 0}, {option: 1}}, {{option: 0}, {option: 1}}}
	tests := []struct {
		name   string
		of     [][]alike
		trials []*trial // of the first sort at the first slot with each at the second, and so on
		want   []int
	}{
		{"all hold", two, []*trial{free, free, free, free}, []int{0, 1}},
		{"the first decides", two, []*trial{free, free, dead, dead}, []int{1}},
		{"the second decides", two, []*trial{free, dead, free, dead}, []int{0}},
		{"both decide", two, []*trial{free, dead, dead, free}, nil},
		{"only with one of the other", two, []*trial{free, free, free, dead}, nil},
		{"one was not tried", two, []*trial{free, free, nil, dead}, []int{1}},
		{"it costs something", two, []*trial{dear, dear, dear, dear}, nil},
		{"one sort", [][]alike{{{option: 0}}, {{option: 0}, {option: 1}}}, []*trial{free, dead}, []int{0}},
	}
	for _, tt := range tests {
		of := table{sorts: sorts{of: tt.of, which: [][]int{{0, 1}, {0, 1}}}, trials: tt.trials}
		idle := of.idle()
		if !slices.Equal(idle, tt.want) {
			t.Errorf("%s: idle %v, want %v", tt.name, idle, tt.want)
		}
		less := of.without(idle)
		for a := range tt.of[0] {
			for b := range tt.of[1] {
				choice := []int{a, b}
				if whole, part := of.at(choice), less.at(without(choice, idle)); whole.isFree() != part.isFree() {
					t.Errorf("%s: with %v left out, %v comes out another way", tt.name, idle, choice)
				}
			}
		}
	}
}
