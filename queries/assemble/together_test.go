package assemble

import (
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
)

// Common practice, no source: a machine in pieces goes together from the frame
// out, one assembly after the other where that can be.
func TestTogether(t *testing.T) {
	c := Case{Replaced: []graph.PositionID{"m:frame/frame", "m:wheel/axle", "m:wheel/hub", "m:wheel/nut", "m:brake/disc",
		"m:brake/bolt"},
		After: map[graph.PositionID][]graph.PositionID{"m:wheel/hub": {"m:frame/frame"}},
		There: map[graph.PositionID]bool{}, Joints: []Joint{
			{ID: "a", A: "m:wheel/axle", B: "m:wheel/hub", Holds: true, Shaft: "m:wheel/axle",
				Fasteners: []graph.PositionID{"m:wheel/nut"}},
			{ID: "b", A: "m:brake/disc", B: "m:wheel/hub", Holds: true, Fasteners: []graph.PositionID{"m:brake/bolt"}}}}
	got := Together(c)
	want := []graph.PositionID{"m:frame/frame", "m:wheel/hub", "m:wheel/axle", "m:wheel/nut", "m:brake/disc",
		"m:brake/bolt"}
	if !slices.Equal(got.Order, want) {
		t.Errorf("order %v, want %v", got.Order, want)
	}
	held := got.HeldUp(func(id graph.PositionID) bool { return id != "m:wheel/hub" })
	for _, id := range []graph.PositionID{"m:wheel/hub", "m:wheel/axle", "m:wheel/nut", "m:brake/bolt"} {
		if !slices.Equal(held[id], []graph.PositionID{"m:wheel/hub"}) {
			t.Errorf("%s is held up by %v, want by the hub", id, held[id])
		}
	}
	for _, id := range []graph.PositionID{"m:brake/disc", "m:frame/frame"} {
		if len(held[id]) > 0 {
			t.Errorf("%s is held up by %v, want by nothing", id, held[id])
		}
	}
}

// TestTogetherWaits: whatever the joints are, each place comes once, and none
// before one it waits for, but for those in a circle.
func TestTogetherWaits(t *testing.T) {
	places := []graph.PositionID{"m:a/1", "m:a/2", "m:a/3", "m:b/1", "m:b/2", "m:c/1"}
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.SampledFrom(places)
		c := Case{Replaced: places, There: map[graph.PositionID]bool{}, After: map[graph.PositionID][]graph.PositionID{}}
		for range rapid.IntRange(0, 6).Draw(t, "after") {
			id := place.Draw(t, "place")
			c.After[id] = append(c.After[id], place.Draw(t, "before"))
		}
		for range rapid.IntRange(0, 6).Draw(t, "joints") {
			c.Joints = append(c.Joints, Joint{A: place.Draw(t, "a"), B: place.Draw(t, "b"), Holds: rapid.Bool().Draw(t, "holds"),
				Fasteners: rapid.SliceOfN(place, 0, 2).Draw(t, "bolts")})
		}
		got := Together(c)
		if all := slices.Sorted(slices.Values(got.Order)); !slices.Equal(all, places) {
			t.Fatalf("order %v", got.Order)
		}
		for i, id := range got.Order {
			for _, before := range got.Waits[id] {
				if slices.Index(got.Order, before) > i && !slices.Contains(got.Cycle, id) {
					t.Fatalf("%s comes before %s, which it waits for: %v", id, before, got.Order)
				}
			}
		}
		held := got.HeldUp(func(graph.PositionID) bool { return true })
		if len(held) > 0 {
			t.Fatalf("with all at hand %v are held up", slices.Collect(maps.Keys(held)))
		}
	})
}

// Common practice, no source: a wheel is put together before its axle goes through it,
// tube before bearings, bearings and seals in their seats, the tyre on its rim.
func TestWheelTogether(t *testing.T) {
	c := Case{Replaced: []graph.PositionID{"m:w/axle", "m:w/bearing", "m:w/seal", "m:w/tube", "m:w/tyre", "m:w/wheel"},
		There: map[graph.PositionID]bool{}, Joints: []Joint{
			{ID: "a", A: "m:w/axle", B: "m:w/bearing", Holds: true, Shaft: "m:w/axle"},
			{ID: "b", A: "m:w/axle", B: "m:w/tube", Holds: true, Shaft: "m:w/axle"},
			{ID: "c", A: "m:w/bearing", B: "m:w/wheel", Holds: true, Seat: "m:w/wheel"},
			{ID: "d", A: "m:w/seal", B: "m:w/wheel", Holds: true, Seat: "m:w/wheel"},
			{ID: "e", A: "m:w/tyre", B: "m:w/wheel", Holds: true, Seat: "m:w/wheel"},
			{A: "m:w/tube", B: "m:w/bearing", Holds: true, Inner: "m:w/tube"}}}
	got := Together(c)
	want := []graph.PositionID{"m:w/wheel", "m:w/tube", "m:w/bearing", "m:w/seal", "m:w/tyre", "m:w/axle"}
	if !slices.Equal(got.Order, want) {
		t.Errorf("order %v, want %v", got.Order, want)
	}
}

// Common practice, no source: one bearing, the tube, the other bearing; discs are bolted
// to a wheel on the bench; the nut of an axle comes off first and goes on last.
func TestWheelOnTheBench(t *testing.T) {
	c := Case{Replaced: []graph.PositionID{"disc", "wheel"}, There: map[graph.PositionID]bool{},
		After: map[graph.PositionID][]graph.PositionID{"axle": {"wheel"}}, Joints: []Joint{
			{ID: "a", A: "axle", B: "bearing-left", Holds: true, Shaft: "axle"},
			{ID: "b", A: "axle", B: "bearing-right", Holds: true, Shaft: "axle"},
			{ID: "c", A: "axle", B: "tube", Holds: true, Shaft: "axle"},
			{ID: "d", A: "bearing-left", B: "wheel", Holds: true, Seat: "wheel"},
			{ID: "e", A: "bearing-right", B: "wheel", Holds: true, Seat: "wheel"},
			{ID: "f", A: "disc", B: "wheel", Holds: true, Fasteners: []graph.PositionID{"disc-bolt"}},
			{ID: "g", A: "axle", B: "arm", Holds: true, Shaft: "axle"},
			{ID: "h", A: "axle-nut", B: "axle", Holds: true, Nut: "axle-nut"},
			{ID: "i", A: "arm", B: "frame", Holds: true}, {ID: "k", A: "frame", B: "engine", Holds: true},
			{ID: "l", A: "frame", B: "tank", Holds: true}, {ID: "m", A: "frame", B: "seat", Holds: true},
			{ID: "n", A: "frame", B: "fork", Holds: true}, {ID: "o", A: "frame", B: "lamp", Holds: true},
			{ID: "p", A: "frame", B: "horn", Holds: true}, {ID: "q", A: "frame", B: "stand", Holds: true},
			{A: "tube", B: "bearing-left", Holds: true, Inner: "tube"},
			{A: "tube", B: "bearing-right", Holds: true, Inner: "tube"}}}
	for _, j := range c.Joints {
		for _, id := range j.Places() {
			c.There[id] = true
		}
	}
	for _, replaced := range [][]graph.PositionID{{"disc", "wheel"}, {"disc", "tube", "wheel"}} {
		c.Replaced = replaced
		got := Arrange(c)
		if got.MoveTo["bearing-left"] != "wheel" || len(got.Cycle) > 0 {
			t.Errorf("%v: bearings go into %v, circle %v", replaced, got.MoveTo, got.Cycle)
		}
		at := func(id graph.PositionID) int { return slices.Index(got.Order, id) }
		for _, turn := range [][]graph.PositionID{{"bearing-left", "tube", "bearing-right", "wheel", "axle", "axle-nut"},
			{"disc", "disc-bolt", "wheel"}} {
			for i := range turn[1:] {
				if at(turn[i]) < 0 && turn[i] != "tube" || at(turn[i+1]) >= 0 && at(turn[i]) > at(turn[i+1]) {
					t.Errorf("%v: %s must come before %s: %v", replaced, turn[i], turn[i+1], got.Order)
				}
			}
		}
	}
}

// Common practice, no source: what goes into a fork leg goes in before the wheel and the
// caliper, since the leg comes out for it, be the leg on the machine already or not; what
// is bolted to the leg alone need not.
func TestLegIsFilledFirst(t *testing.T) {
	const leg, seal, dust, spring = "m:fork/leg", "m:fork/seal", "m:fork/dust-seal", "m:fork/spring"
	const wheel, axle, caliper, guard = "m:wheel/wheel", "m:wheel/axle", "m:brake/caliper", "m:body/guard"
	joints := []Joint{
		{ID: "a", A: seal, B: leg, Holds: true, Seat: leg, Pressed: true},
		{ID: "b", A: dust, B: seal, Inner: seal},
		{ID: "c", A: spring, B: leg, Holds: true},
		{ID: "d", A: axle, B: leg, Holds: true, Shaft: axle},
		{ID: "e", A: axle, B: wheel, Holds: true, Shaft: axle},
		{ID: "f", A: caliper, B: leg, Holds: true, Fasteners: []graph.PositionID{"m:brake/bolt"}},
		{ID: "g", A: guard, B: leg, Holds: true, Fasteners: []graph.PositionID{"m:body/bolt"}}}
	for _, there := range []bool{true, false} {
		c := Case{Replaced: []graph.PositionID{"m:body/bolt", guard, "m:brake/bolt", caliper, dust, seal, spring, axle,
			wheel},
			There: map[graph.PositionID]bool{leg: there}, After: map[graph.PositionID][]graph.PositionID{}, Joints: joints,
			Wheels: []Wheel{{Hub: wheel, Axles: []graph.PositionID{axle}, Around: []graph.PositionID{caliper},
				Carriers: []graph.PositionID{leg}, On: map[graph.PositionID]int{}}}}
		if !there {
			c.Replaced = append(c.Replaced, leg)
		}
		order := Together(c).Order
		at := func(id graph.PositionID) int { return slices.Index(order, id) }
		for _, id := range []graph.PositionID{seal, dust, spring} {
			if at(id) > at(wheel) || at(id) > at(caliper) {
				t.Errorf("leg on the machine %v: %s goes in after the wheel or the caliper: %v", there, id, order)
			}
		}
		if there && at(guard) < 0 || slices.Contains(Together(c).Waits[wheel], guard) {
			t.Errorf("the wheel waits for what is bolted to the leg: %v", order)
		}
	}
}

// Common practice, no source: the bolts of a part go in straight after it, a washer before
// its bolt, and not once other parts are over them; a stud goes in before what goes over it, its
// nut after that.
func TestBoltsStraightAfter(t *testing.T) {
	c := Case{Replaced: []graph.PositionID{"m:a/base", "m:a/bolt-of-lid", "m:a/lid", "m:a/washer-of-lid", "m:a/lever",
		"m:a/pipe", "m:a/stud", "m:a/nut"},
		After: map[graph.PositionID][]graph.PositionID{"m:a/lever": {"m:a/lid"}},
		There: map[graph.PositionID]bool{},
		Small: map[graph.PositionID]bool{"m:a/bolt-of-lid": true, "m:a/washer-of-lid": true, "m:a/stud": true,
			"m:a/nut": true},
		Studs: map[graph.PositionID]graph.PositionID{"m:a/stud": "m:a/base"},
		Joints: []Joint{
			{ID: "lid", A: "m:a/lid", B: "m:a/base", Holds: true,
				Fasteners: []graph.PositionID{"m:a/bolt-of-lid", "m:a/washer-of-lid"}},
			{ID: "under", A: "m:a/washer-of-lid", B: "m:a/bolt-of-lid", Inner: "m:a/washer-of-lid"},
			{ID: "pipe", A: "m:a/pipe", B: "m:a/base", Holds: true, Fasteners: []graph.PositionID{"m:a/stud", "m:a/nut"}},
			{ID: "over", A: "m:a/stud", B: "m:a/nut", Inner: "m:a/stud"}}}
	want := []graph.PositionID{"m:a/base", "m:a/stud", "m:a/lid", "m:a/washer-of-lid", "m:a/bolt-of-lid", "m:a/pipe",
		"m:a/nut", "m:a/lever"}
	if got := Together(c); !slices.Equal(got.Order, want) || len(got.Cycle) > 0 {
		t.Errorf("order %v, want %v", got.Order, want)
	}
}
