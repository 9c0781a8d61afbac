package assemble

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/queries/lists"
)

// wheelCase is the front end of an invented machine: legs in a yoke, an axle
// pinched in the left leg, a wheel with bearings and a disc, a caliper with its
// hose.
func wheelCase(replaced ...graph.PositionID) Case {
	c := Case{Replaced: replaced, There: map[graph.PositionID]bool{},
		After: map[graph.PositionID][]graph.PositionID{"axle": {"wheel"}, "hose": {"caliper"}},
		Bends: map[graph.PositionID]bool{"hose": true}}
	add := func(j Joint) {
		j.ID = graph.JointID(fmt.Sprint("j", len(c.Joints)))
		c.Joints = append(c.Joints, j)
		for _, id := range j.Places() {
			c.There[id] = true
		}
	}
	add(Joint{A: "leg", B: "yoke", Fasteners: []graph.PositionID{"yoke-bolt"}, Holds: true})
	add(Joint{A: "frame", B: "yoke", Fasteners: []graph.PositionID{"head-nut"}, Holds: true})
	for _, part := range []graph.PositionID{"engine", "tank", "seat", "swingarm"} {
		add(Joint{A: "frame", B: part, Holds: true})
	}
	add(Joint{A: "axle", B: "leg", Fasteners: []graph.PositionID{"pinch-bolt"}, Holds: true, Shaft: "axle"})
	add(Joint{A: "bearing", B: "axle", Holds: true, Shaft: "axle"})
	add(Joint{A: "bearing", B: "wheel", Holds: true})
	add(Joint{A: "tyre", B: "wheel", Holds: true})
	add(Joint{A: "disc", B: "wheel", Fasteners: []graph.PositionID{"disc-bolt"}, Holds: true})
	add(Joint{A: "caliper", B: "disc"})
	add(Joint{A: "caliper", B: "leg", Fasteners: []graph.PositionID{"caliper-bolt"}, Holds: true})
	add(Joint{A: "hose", B: "caliper", Fasteners: []graph.PositionID{"banjo-bolt"}, Holds: true, Fluid: true})
	add(Joint{A: "hose", B: "yoke", Holds: true})
	return c
}

// Common practice, no source: what turns on a shaft comes off once nut and shaft are out,
// and so does what is pressed into it or lies in there; what only hangs on it, or stands
// beside, leaves the shaft where it is.
func TestArrangeTakesThePivotOut(t *testing.T) {
	for replaced, want := range map[graph.PositionID][]graph.PositionID{
		"arm":      {"pivot-nut", "pivot", "sleeve", "arm", "needle", "guard-bolt", "guard"},
		"needle":   {"pivot-nut", "pivot", "arm", "needle", "sleeve"},
		"sleeve":   {"pivot-nut", "pivot", "arm", "sleeve"},
		"guard":    {"guard-bolt", "guard"},
		"footrest": {"footrest"},
	} {
		c := Case{Replaced: []graph.PositionID{replaced}, There: map[graph.PositionID]bool{}, Root: "frame",
			After: map[graph.PositionID][]graph.PositionID{}, Bends: map[graph.PositionID]bool{}}
		for i, j := range []Joint{
			{A: "pivot", B: "frame", Shaft: "pivot"}, {A: "pivot", B: "pivot-nut", Nut: "pivot-nut"},
			{A: "sleeve", B: "pivot", Shaft: "pivot"}, {A: "needle", B: "arm", Seat: "arm", Pressed: true},
			{A: "needle", B: "sleeve"}, {A: "guard", B: "arm", Fasteners: []graph.PositionID{"guard-bolt"}},
			{A: "frame", B: "footrest"}, {A: "frame", B: "engine"}, {A: "frame", B: "tank"},
		} {
			j.ID, j.Holds = graph.JointID(fmt.Sprint("j", i)), true
			c.Joints = append(c.Joints, j)
			for _, id := range j.Places() {
				c.There[id] = true
			}
		}
		off := slices.Clone(Arrange(c).Order)
		slices.Reverse(off)
		if !slices.Equal(off, want) {
			t.Errorf("for %s comes off %v, want %v", replaced, off, want)
		}
	}
}

// Common practice, no source: how one takes a front wheel, a leg or a caliper out.
func TestArrange(t *testing.T) {
	tests := []struct {
		name     string
		replaced []graph.PositionID
		off      []graph.PositionID
		moves    map[graph.PositionID]graph.PositionID
		with     []graph.PositionID
	}{
		{name: "a wheel: axle out first, bearing and disc move over", replaced: []graph.PositionID{"wheel"},
			off:   []graph.PositionID{"pinch-bolt", "axle", "wheel", "tyre", "disc-bolt", "disc", "bearing"},
			moves: map[graph.PositionID]graph.PositionID{"bearing": "wheel", "disc": "wheel", "tyre": "wheel"}},
		{name: "a caliper: the hose before its own bolts", replaced: []graph.PositionID{"caliper"},
			off: []graph.PositionID{"banjo-bolt", "hose", "caliper-bolt", "caliper"}},
		{name: "a leg: the wheel comes off as one", replaced: []graph.PositionID{"leg"},
			off:  []graph.PositionID{"yoke-bolt", "pinch-bolt", "axle", "wheel", "caliper-bolt", "leg"},
			with: []graph.PositionID{"bearing", "disc", "disc-bolt", "tyre"}},
		{name: "nothing hangs on the seat", replaced: []graph.PositionID{"seat"}, off: []graph.PositionID{"seat"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := wheelCase(tt.replaced...)
			a := Arrange(c)
			off := slices.Clone(a.Order)
			slices.Reverse(off)
			if !slices.Equal(off, tt.off) {
				t.Errorf("comes off: %v, want %v", off, tt.off)
			}
			if fmt.Sprint(a.MoveTo) != fmt.Sprint(tt.moves) {
				t.Errorf("moves over: %v, want %v", a.MoveTo, tt.moves)
			}
			if !slices.Equal(a.With["wheel"], tt.with) {
				t.Errorf("stays on the wheel: %v, want %v", a.With["wheel"], tt.with)
			}
			boltsAreOut(t, c, a)
		})
	}
}

// A stud stays in what it is screwed into: of a header only the nuts come off, and of a sprocket
// on a carrier that comes off as one and goes back. Into a new head it moves over. Common
// practice, no source.
func TestStudsStay(t *testing.T) {
	const head, header, stud, nut = "head", "header", "stud", "nut"
	for _, tt := range []struct {
		replaced graph.PositionID
		off      []graph.PositionID
	}{
		{header, []graph.PositionID{nut, header}},
		{head, []graph.PositionID{nut, stud, head}}, // the header hangs on the frame too
	} {
		a := Arrange(Case{Replaced: []graph.PositionID{tt.replaced}, Root: "frame",
			There: map[graph.PositionID]bool{head: true, header: true, stud: true, nut: true, "frame": true},
			Studs: map[graph.PositionID]graph.PositionID{stud: head},
			Joints: []Joint{{ID: "head-on-frame", A: head, B: "frame", Holds: true},
				{ID: "header-on-head", A: header, B: head, Holds: true, Fasteners: []graph.PositionID{stud, nut}},
				{ID: "header-on-frame", A: header, B: "frame", Holds: true},
				{ID: "stud-thread", A: stud, B: head, Holds: true}, {A: stud, B: nut, Inner: stud}}})
		off := slices.Clone(a.Order)
		slices.Reverse(off)
		missing := lists.Kept(slices.Clone(tt.off), func(id graph.PositionID) bool { return !slices.Contains(off, id) })
		if slices.Contains(off, stud) != slices.Contains(tt.off, stud) || len(missing) > 0 {
			t.Errorf("%s: comes off %v, want %v", tt.replaced, off, tt.off)
		}
	}
}

// drawCase is a machine joined together at random, bolts shared or not, with
// some places empty.
func drawCase(t *rapid.T) Case {
	n := rapid.IntRange(2, 9).Draw(t, "parts")
	part := func(i int) graph.PositionID { return graph.PositionID(fmt.Sprintf("part-%d", i)) }
	c := Case{There: map[graph.PositionID]bool{}, After: map[graph.PositionID][]graph.PositionID{},
		Bends: map[graph.PositionID]bool{}}
	for i := range n {
		c.There[part(i)] = rapid.IntRange(0, 7).Draw(t, "there") > 0
		if rapid.IntRange(0, 5).Draw(t, "bends") == 0 {
			c.Bends[part(i)] = true
		}
		if i > 0 && rapid.IntRange(0, 3).Draw(t, "rests") == 0 {
			c.After[part(i)] = []graph.PositionID{part(rapid.IntRange(0, i-1).Draw(t, "on"))}
		}
		if rapid.IntRange(0, 2).Draw(t, "replaced") == 0 {
			c.Replaced = append(c.Replaced, part(i))
		}
	}
	for k := range rapid.IntRange(1, 14).Draw(t, "joints") {
		a, b := rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")
		if a == b {
			continue
		}
		j := Joint{ID: graph.JointID(fmt.Sprint("j", k)), A: part(a), B: part(b),
			Holds: rapid.IntRange(0, 4).Draw(t, "holds") > 0,
			Fluid: rapid.IntRange(0, 4).Draw(t, "fluid") == 0}
		for range rapid.IntRange(0, 2).Draw(t, "bolts") {
			bolt := graph.PositionID(fmt.Sprintf("bolt-%d", rapid.IntRange(0, 9).Draw(t, "bolt")))
			if !slices.Contains(j.Fasteners, bolt) {
				j.Fasteners = append(j.Fasteners, bolt)
				c.There[bolt] = true
			}
		}
		if rapid.IntRange(0, 5).Draw(t, "shaft") == 0 {
			j.Shaft = j.A
		}
		c.Joints = append(c.Joints, j)
	}
	return c
}

// No step touches a part whose bolts are still in, and nothing is left on what
// comes off.
func TestNoPartIsTouchedWithItsBoltsIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCase(t)
		a := Arrange(c)
		if len(a.Cycle) > 0 {
			t.Fatalf("nothing waits in a circle here, but %v", a.Cycle)
		}
		for _, id := range c.Replaced {
			if !slices.Contains(a.Order, id) {
				t.Errorf("%s is replaced, but in no step", id)
			}
		}
		boltsAreOut(t, c, a)
	})
}

type failer interface {
	Errorf(format string, args ...any)
}

// boltsAreOut takes a machine apart step by step, knowing nothing of how the
// order was found.
func boltsAreOut(t failer, c Case, a Arranged) {
	off := map[graph.PositionID]bool{}
	for _, id := range slices.Backward(a.Order) {
		off[id] = true
		if !c.There[id] {
			continue
		}
		for _, j := range c.Joints {
			if !slices.Contains(j.Ends(), id) || a.MoveTo[j.Other(id)] == id || slices.Contains(a.With[id], j.Other(id)) {
				continue // what moves over comes off on the bench, and what stays on comes off with it
			}
			for _, bolt := range j.Fasteners {
				if c.There[bolt] && !off[bolt] {
					t.Errorf("%s comes off with %s still in (order of fitting %v)", id, bolt, a.Order)
				}
			}
		}
		for other, on := range c.After {
			if slices.Contains(on, id) && c.There[other] && !off[other] && !slices.Contains(a.With[id], other) &&
				!hangs(c, a, other, off) {
				t.Errorf("%s comes off with %s on it (order of fitting %v)", id, other, a.Order)
			}
		}
	}
}

// hangs reports whether a hose is left by one end on what is still there, or comes off
// with it.
func hangs(c Case, a Arranged, hose graph.PositionID, off map[graph.PositionID]bool) bool {
	return c.Bends[hose] && slices.ContainsFunc(c.Joints, func(j Joint) bool {
		on := j.Other(hose)
		return slices.Contains(j.Ends(), hose) && j.Fluid && c.There[on] && (!off[on] || slices.Contains(a.With[on], hose))
	})
}

// A circle of what must be on first is named; everything else is still in order.
func TestArrangeNamesACircle(t *testing.T) {
	c := wheelCase("wheel")
	c.After["wheel"] = []graph.PositionID{"axle"}
	if a := Arrange(c); !slices.Contains(a.Cycle, "wheel") || !slices.Contains(a.Cycle, "axle") {
		t.Errorf("circle %v, want wheel and axle in it", a.Cycle)
	}
}
