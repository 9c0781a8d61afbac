package mating

import (
	"testing"

	"matewell/graph"
)

// That a tenth less is to be asked about is common practice, no source.
func TestGripLengthAsBuilt(t *testing.T) {
	clamp := made("clamp", "diameter", "54 mm", "length", "40 mm", "split", "yes")
	tube := made("tube", "diameter", "54 mm", "length", "180 mm")
	bar := tube
	bar.PartKind = "handlebar"
	built := Meeting{A: clamp, B: tube}
	for _, tt := range []struct {
		name string
		in   Meeting
		want graph.Verdict
	}{
		{"as built", Meeting{A: clamp, B: tube}, yes},
		{"near miss: a tenth less", Meeting{A: clamp.with("length", "36.5 mm"), B: tube}, yes},
		{"a clamp that holds by a fifth of it", Meeting{A: clamp.with("length", "8 mm"), B: tube}, open},
		{"longer than the tube is free", Meeting{A: clamp.with("length", "200 mm"), B: tube}, no},
		{"a leg with less tube free", Meeting{A: clamp, B: tube.with("length", "60 mm")}, yes},
		{"a bar with less tube free", Meeting{A: clamp, B: bar.with("length", "60 mm")}, open},
		{"near miss: a bar with a little less", Meeting{A: clamp, B: bar.with("length", "175 mm")}, yes},
		{"length missing", Meeting{A: clamp.with("length", ""), B: tube}, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.in.Built = &built
			if c := the(t, Judge(tt.in), "grip length"); c.Verdict != tt.want {
				t.Errorf("%s, want %s: %s", c.Verdict, tt.want, c.Why)
			}
		})
	}
}

// Holes for spokes: the series of ISO 273.
func TestThinHolesMatch(t *testing.T) {
	hub := made("bolt-pattern", "count", "36", "spacing", "150 mm", "hole", "3.6 mm")
	for _, tt := range []struct {
		hole string
		want graph.Verdict
	}{{"3.6 mm", yes}, {"3.2 mm", yes}, {"2.7 mm", mod}, {"", open}} {
		if c := the(t, Judge(Meeting{A: hub, B: hub.with("hole", tt.hole)}), "bolts in holes"); c.Verdict != tt.want {
			t.Errorf("%q: %s, want %s: %s", tt.hole, c.Verdict, tt.want, c.Why)
		}
	}
}
