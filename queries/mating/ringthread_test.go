package mating

import (
	"testing"

	"matewell/graph"
)

// ISO 898-2: a nut lower than 0.8 d does not carry its bolt, however fine the thread. That
// a cap or a stem bolt need not have its last turn in is common practice, no source.
func TestRingSizedThreads(t *testing.T) {
	shaft := made("male-thread", "thread", "M20x1", "length", "14 mm")
	nut := made("female-thread", "thread", "M20x1", "depth", "12 mm", "hole", "through", "material", "steel", "grip",
		"1 mm", "across-flats", "30 mm")
	stem := made("female-thread", "thread", "M22x1", "depth", "28 mm", "hole", "through", "material", "steel", "grip",
		"4 mm")
	cap := made("male-thread", "thread", "M36x1.5", "length", "16 mm", "duty", "cap")
	tube := made("female-thread", "thread", "M36x1.5", "depth", "17 mm", "hole", "through", "material", "steel", "grip",
		"1 mm", "duty", "cap")
	bolt := made("male-thread", "thread", "M22x1", "length", "30 mm")
	on := func(a, b Side) Meeting { return Meeting{A: a, B: b} }
	for _, tt := range []struct {
		name    string
		is, was Meeting
		want    graph.Verdict
	}{
		{"a nut as high as the one built in", on(shaft, nut), on(shaft, nut), yes},
		{"near miss: half a millimetre lower", on(shaft, nut.with("depth", "11.5 mm")), on(shaft, nut), yes},
		{"a thin nut", on(shaft, nut.with("depth", "5 mm")), on(shaft, nut), no},
		{"a ring nut as low, by what is said", on(shaft, nut.with("depth", "7 mm").with("duty", "ring")),
			on(shaft, nut.with("duty", "ring")), open},
		{"its height not measured", on(shaft, nut.with("depth", "")), on(shaft, nut), open},
		{"a stem bolt with 0.9 d of 24 mm", on(bolt.with("length", "24 mm"), stem), on(bolt, stem), yes},
		{"one with 0.7 d", on(bolt.with("length", "19.5 mm"), stem), on(bolt, stem), open},
		{"a hole that leaves 0.7 d", on(bolt, stem.with("depth", "15.5 mm")), on(bolt, stem), open},
		{"a cap that lacks less than its last turn", on(cap.with("length", "15 mm"), tube), on(cap, tube), yes},
		{"a cap that lacks three", on(cap.with("length", "11 mm"), tube), on(cap, tube), open},
	} {
		m := tt.is
		m.Built, m.WasBuilt = &tt.was, []Side{tt.was.A, tt.was.B}
		if c := the(t, Judge(m), "thread engagement"); c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.want)
		}
	}
}
