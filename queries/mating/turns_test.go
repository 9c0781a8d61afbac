package mating

import (
	"testing"

	"matewell/graph"
)

// A grip must turn where the one built in turned, and sit fast where that sat fast,
// whatever its bore. Common practice, no source.
func TestTurnsAsBuilt(t *testing.T) {
	bar := made("bar-end", "diameter", "22.2 mm", "straight", "240 mm", "peg-hole", "no")
	grip := func(bore, turns string) Side {
		return made("bar-fitting", "bore", bore, "width", "118 mm", "turns", turns, "peg", "no")
	}
	for _, test := range []struct {
		name string
		is   Side
		was  Side
		want graph.Verdict
	}{
		{"a throttle grip for a throttle grip", grip("22.4 mm", "yes"), grip("22.5 mm", "yes"), yes},
		{"a fixed grip on the throttle", grip("22.2 mm", "no"), grip("22.4 mm", "yes"), no},
		{"near miss: the bore of a throttle grip, and fast", grip("22.4 mm", "no"), grip("22.4 mm", "yes"), no},
		{"a throttle grip on the fixed side", grip("22.4 mm", "yes"), grip("22.2 mm", "no"), no},
		{"a fixed grip on the fixed side", grip("22.2 mm", "no"), grip("22.2 mm", "no"), yes},
		{"nobody says whether it turns", grip("22.4 mm", ""), grip("22.4 mm", "yes"), open},
		{"nobody says of the one built in", grip("22.2 mm", "no"), grip("22.2 mm", ""), yes},
	} {
		m := Meeting{A: test.is, B: bar, Built: &Meeting{A: test.was, B: bar}}
		if c := the(t, Judge(m), "fitting on bar"); c.Verdict != test.want {
			t.Errorf("%s: %s (%s), want %s", test.name, c.Verdict, c.Why, test.want)
		}
	}
}
