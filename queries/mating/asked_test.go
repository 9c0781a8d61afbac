package mating

import (
	"testing"

	"matewell/graph"
)

// TestAskedByTheMachine: what a machine asks is read off the part built in, never off
// one that is put on in its stead, which may ask for more and not for less. What
// only the new part says is unknown of the machine. Source: UN R75 for load and
// speed; ISO 898-1 for the classes.
func TestAskedByTheMachine(t *testing.T) {
	at := func(s Side, part graph.PartID) Side {
		s.Position, s.Part = "m:front/holder", part
		return s
	}
	tyre := func(load, speed string) Side { return made("tyre", "load", load, "speed", speed) }
	need := func(load, speed string) Side {
		return made("tyre-need", "wheel", "front").with("load", load).with("speed", speed)
	}
	beam := func(kick string) Side { return made("beam", "kick", kick) }
	plate := func(kick string) Side { return made("traffic").with("kick", kick) }
	for _, tt := range []struct {
		name           string
		a, now, built  Side
		same, notKnown bool // the holder is that built in; nobody knows what was built in
		rule           string
		want           graph.Verdict
	}{
		{"load as built", tyre("58", "W"), need("58", "W"), need("58", "W"), true, false, "tyre load", yes},
		{"a wheel that asks less lowers nothing", tyre("38", "P"), need("38", "P"), need("58", "W"), false, false,
			"tyre load", no},
		{"nor the speed", tyre("58", "P"), need("38", "P"), need("58", "W"), false, false, "tyre speed", no},
		{"near miss: one below the machine", tyre("57", "W"), need("57", "W"), need("58", "W"), false, false, "tyre load",
			no},
		{"near miss: as the machine asks", tyre("58", "W"), need("57", "V"), need("58", "W"), false, false, "tyre load", yes},
		{"a wheel that asks more", tyre("58", "W"), need("61", "W"), need("58", "W"), false, false, "tyre load", no},
		{"a wheel that says nothing", tyre("58", "W"), need("", ""), need("58", "W"), false, false, "tyre load", yes},
		{"missing: only the new wheel says", tyre("58", "W"), need("58", "W"), need("", ""), false, false, "tyre load", open},
		{"missing: its speed", tyre("58", "W"), need("58", "W"), need("", ""), false, false, "tyre speed", open},
		{"missing: nobody knows the old wheel", tyre("58", "W"), need("58", "W"), Side{}, false, true, "tyre load", open},
		{"below even what the new wheel asks", tyre("38", "W"), need("58", "W"), Side{}, false, true, "tyre load", no},
		{"missing: nobody says", tyre("58", "W"), need("", ""), need("", ""), false, false, "tyre load", open},
		{"beam of the market", beam("left"), plate("left"), plate("left"), true, false, "beam side", yes},
		{"another plate is no other market", beam("right"), plate("right"), plate("left"), false, false, "beam side", no},
		{"a beam for both", beam("both"), plate("right"), plate("left"), false, false, "beam side", yes},
		{"missing: the old plate says nothing", beam("left"), plate("left"), plate(""), false, false, "beam side", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: tt.a, B: at(tt.now, "new"), WasBuilt: []Side{}}
			if tt.same {
				m.B.Part = "old"
			}
			if !tt.notKnown {
				m.WasBuilt = append(m.WasBuilt, at(tt.built, "old"))
			}
			if c := the(t, Judge(m), tt.rule); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// TestClassAskedByTheMachine: a part with another hole that lists a weaker bolt does
// not let a weaker one in than was built in.
func TestClassAskedByTheMachine(t *testing.T) {
	hole := func(part graph.PartID, class string) Side {
		s := made("female-thread", "thread", "M8x1.25", "depth", "30 mm", "hole", "through", "material", "steel").
			with("bolt-class", class)
		s.Position, s.Part = "m:fork/leg", part
		return s
	}
	bolt := func(class string) Side {
		return made("male-thread", "thread", "M8x1.25", "length", "30 mm", "grip", "10 mm").with("class", class)
	}
	for _, tt := range []struct {
		name       string
		now, built Side
		has        string
		want       graph.Verdict
	}{
		{"as listed", hole("old", "8.8"), hole("old", "8.8"), "8.8", yes},
		{"a leg that lists less", hole("new", "8.8"), hole("old", "10.9"), "8.8", no},
		{"near miss: as strong as was built in", hole("new", "8.8"), hole("old", "10.9"), "10.9", yes},
		{"a leg that lists more", hole("new", "10.9"), hole("old", "8.8"), "8.8", no},
		{"the old leg lists none: the bolt built in counts", hole("new", "8.8"), hole("old", ""), "8.8", no},
		{"missing class", hole("new", "8.8"), hole("old", "8.8"), "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			was := bolt("10.9")
			m := Meeting{A: bolt(tt.has), B: tt.now, WasBuilt: []Side{was, tt.built}, Built: &Meeting{A: was, B: tt.built}}
			if c := the(t, Judge(m), "bolt class"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}
