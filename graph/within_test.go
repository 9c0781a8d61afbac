package graph_test

import (
	"math"
	"testing"

	"matewell/graph"
)

func TestHolesTouch(t *testing.T) {
	for _, test := range []struct {
		name         string
		holes        int
		circle, hole float64
		want         bool
	}{
		{"five of 10.5 on 100", 5, 100, 10.5, false},
		{"six that meet: the chord of six is the radius", 6, 40, 20, true},
		{"six, a tenth of metal between", 6, 40, 19.9, false},
		{"two on top of one another", 2, 8, 8.5, true},
		{"one alone", 1, 0, 8, false},
	} {
		if got := graph.HolesTouch(test.holes, test.circle, test.hole); got != test.want {
			t.Errorf("%s: %v", test.name, got)
		}
	}
}

func TestLeavesMetal(t *testing.T) {
	for _, test := range []struct {
		name                          string
		circle, hole, outside, inside float64
		want                          bool
	}{
		{"a disc", 80, 8.5, 296, 64, true},
		{"holes through the edge", 300, 10.5, 310, 64, false},
		{"half a millimetre of metal", 299, 10.5, 310, 64, true},
		{"in the bore", 64, 8.5, 296, 64, false},
		{"nobody gave the edge", 300, 10.5, 0, 64, true},
		{"nobody gave the bore", 30, 8.5, 296, 0, true},
	} {
		if got := graph.LeavesMetal(test.circle, test.hole, test.outside, test.inside); got != test.want {
			t.Errorf("%s: %v", test.name, got)
		}
	}
}

// A sprocket of 17 teeth for a chain of 12.70 mm pitch has a pitch circle of 69.11 mm in the
// tables of ISO 606 (unit pitch circle 5.4422, from memory), rollers 8.51 mm.
func TestRootCircle(t *testing.T) {
	if got := graph.RootCircle(17, 12.70, 8.51); math.Abs(got-(69.11-8.51)) > 0.02 {
		t.Errorf("root circle %.3f", got)
	}
	if got := graph.RootCircle(2, 12.70, 8.51); got != 0 {
		t.Errorf("two teeth: %.3f", got)
	}
}
