package donor

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// What is made and put between leaves the parts as they are; what is drilled, bored
// or turned down does not. The texts are those of the rules.
func TestAlters(t *testing.T) {
	order := []mating.Order{{Kind: "ring"}}
	tests := []struct {
		do     string
		effort graph.Effort
		orders []mating.Order
		want   bool
	}{
		{"drill the thread out of one side", graph.EffortDrillShim, nil, true},
		{"open the holes of the lug from 8 mm to 10.5 mm", graph.EffortDrillShim, nil, true},
		{"make or alter 2 holes", graph.EffortLatheWeld, order, true},
		{"face 0.5 mm off each side of the bush", graph.EffortLatheWeld, nil, true},
		{"turn a sleeve for the bore", graph.EffortLatheWeld, order, false},
		{"turn a locating ring, or bore the recess when it is the narrow one", graph.EffortLatheWeld, order, false},
		{"let the bracket carry the caliper 12 mm nearer to the axle", graph.EffortLatheWeld, nil, false},
		{"put 3 mm spacers between caliper and lugs", graph.EffortDrillShim, order, false},
		{"make the spacers beside the hub 2 mm shorter in all, 1 mm each side: the rim stays where it is",
			graph.EffortLatheWeld, nil, false},
		{"fit a 6302 in its place, 1 mm wider on its side: take that off the spacer", graph.EffortLatheWeld, nil, false},
		{"take one link out: 108 links", graph.EffortHandTools, nil, false},
	}
	for _, tt := range tests {
		c := mating.Check{Verdict: graph.FitsWithChanges, Effort: tt.effort, Do: []string{tt.do}, Orders: tt.orders}
		if got := alters(c); got != tt.want {
			t.Errorf("%q: %v, want %v", tt.do, got, tt.want)
		}
	}
}

// Only the parts that are named are spared, unless all are.
func TestIsRuledOut(t *testing.T) {
	o := examine.Outcome{
		Ends: []examine.End{{Position: "skerry-620:fork/leg-left"}, {Position: "skerry-620:front-brake/caliper-left"}},
		Checks: []mating.Check{{Verdict: graph.FitsWithChanges, Effort: graph.EffortDrillShim,
			Do: []string{"open the holes of the lug"}}}}
	p := &planner{task: &task{spared: map[graph.PositionID]bool{"skerry-620:fork/leg-left": true}}}
	if !isRuledOut(p, o) {
		t.Error("the leg is drilled though it is spared")
	}
	p.spared = map[graph.PositionID]bool{"skerry-620:fork/leg-right": true}
	if isRuledOut(p, o) {
		t.Error("the left leg is not spared with the right one")
	}
	p.spared = map[graph.PositionID]bool{"skerry-620:fork/leg-left": true}
	for do, want := range map[string]bool{
		"open the holes of front-brake/caliper-left, lugs from 8 mm to 10.5 mm": false, // work on the other end
		"open the holes of fork/leg-left, lugs from 8 mm to 10.5 mm":            true,
		"open the holes of fork/leg-left-lower from 8 mm to 10.5 mm":            true, // none of the ends: any may be meant
	} {
		o.Checks[0].Do = []string{do}
		if got := isRuledOut(p, o); got != want {
			t.Errorf("%q with the leg spared: ruled out %v, want %v", do, got, want)
		}
	}
	p.q.ReversibleAll = true
	if !isRuledOut(p, o) {
		t.Error("a part is drilled though all are spared")
	}
}

// What a hub asks of the spacers beside it is told apart from the lengths of those that are
// ordered for the same row; where none are, or for another row, it stands alone.
func TestBesideOrdered(t *testing.T) {
	at := func(what, id string, places ...graph.PositionID) examine.Outcome {
		o := examine.Outcome{What: what, ID: id}
		for _, p := range places {
			o.Ends = append(o.Ends, examine.End{Position: p})
		}
		return o
	}
	const spacer = "make the spacers beside the hub 2 mm shorter in all, 1 mm each side"
	hub := donorWay{outcome: at(examine.OfInnerRow, "m:rear/wheel", "m:rear/wheel"),
		modify: []DonorModify{{Do: spacer, spacers: true}}}
	row := donorWay{outcome: at(examine.OfStack, "m:rear", "m:rear/axle", "m:rear/wheel"), orders: []mating.Order{{}}}
	elsewhere := donorWay{outcome: at(examine.OfStack, "m:front", "m:front/wheel"), orders: []mating.Order{{}}}
	unordered := donorWay{outcome: row.outcome}
	for _, tt := range []struct {
		name string
		way  donorWay
		ways []donorWay
		want string
	}{
		{"ordered for its row", hub, []donorWay{row}, spacer + "; that comes on top of the lengths ordered"},
		{"ordered for another row", hub, []donorWay{elsewhere}, spacer},
		{"none ordered", hub, []donorWay{unordered}, spacer},
		{"the row itself", donorWay{outcome: row.outcome, modify: hub.modify}, []donorWay{row}, spacer},
	} {
		if got := besideOrdered(tt.way, tt.ways); len(got) != 1 || got[0].Do != tt.want {
			t.Errorf("%s: %v, want %q", tt.name, got, tt.want)
		}
	}
	if hub.modify[0].Do != spacer {
		t.Error("the way itself was changed")
	}
}
