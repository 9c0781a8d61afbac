package mating

import (
	"testing"

	"matewell/graph"
)

// ISO 273 for how much wider than its bolt a washer may be; one that seals no looser than a banjo's, which is common
// practice, no source: they are sold by thread, 12.2 mm for M12, 14.2 mm for M14.
func TestWashersUnderAnotherBolt(t *testing.T) {
	bolt := func(thread string) Side { return made("male-thread", "thread", thread, "length", "25 mm") }
	hole := func(thread string) Side {
		return made("female-thread", "thread", thread, "depth", "20 mm", "hole", "blind", "material", "steel", "grip", "3 mm")
	}
	ring := func(part graph.PartID, inside string) []Side {
		w := made("washer", "outside", "16 mm", "thickness", "1 mm").with("inside", inside)
		w.Part, w.PartKind = part, "seal-washer"
		return []Side{w}
	}
	plainRing := func(inside string) []Side {
		w := ring("new", inside)
		w[0].PartKind = "washer"
		return w
	}
	was := Meeting{A: bolt("M10x1"), B: hole("M10x1"), Sealing: ring("old", "10.2 mm")}
	for _, tt := range []struct {
		name    string
		thread  string
		washers []Side
		want    graph.Verdict // NoVerdict where none is to be judged
	}{
		{"nothing changed", "M10x1", ring("old", "10.2 mm"), graph.NoVerdict},
		{"one nobody measured, as built", "M10x1", ring("old", ""), graph.NoVerdict},
		{"another washer of the size", "M10x1", ring("new", "10.4 mm"), yes},
		{"another bolt as thick", "M10x1.25", ring("old", "10.2 mm"), graph.NoVerdict},
		{"a thicker bolt", "M12x1", ring("old", "10.2 mm"), no},
		{"a thinner bolt", "M8x1", ring("old", "10.2 mm"), no},
		{"near miss: a thicker bolt with its washer", "M12x1", ring("new", "12.2 mm"), yes},
		{"another washer nobody measured", "M10x1", ring("new", ""), open},
		{"a sealing one as loose as of the next thread", "M12x1.25", ring("new", "14.2 mm"), no},
		{"near miss: the play of a banjo's", "M12x1.25", ring("new", "12.6 mm"), yes},
		{"a plain one as loose as a coarse hole", "M12x1.25", plainRing("14.2 mm"), yes},
	} {
		m := Meeting{A: bolt(tt.thread), B: hole(tt.thread), Sealing: tt.washers, Built: &was}
		c, _ := named(Judge(m), "washer")
		if c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.want)
		}
		if c.Verdict == no && !c.Washer {
			t.Errorf("%s: no washer that suits is named", tt.name)
		}
	}
	stud := Meeting{A: made("eye", "bore", "14.2 mm", "width", "24 mm"),
		B: made("clevis", "gap", "24.5 mm", "bolt", "14 mm"), Washers: ring("old", "14.5 mm")}
	m := stud
	m.Washers, m.Built = ring("new", "20 mm"), &stud
	if c := the(t, Judge(m), "washer"); c.Verdict != no {
		t.Errorf("wide over a stud: %s (%s)", c.Verdict, c.Why)
	}
}
