package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: a flange is made up for by a washer. ISO 7089 from memory:
// 1.6 mm thick for M8. One diameter of thread in steel carries.
func TestPlainHeadForFlange(t *testing.T) {
	bolt := func(head, length string) Side {
		return made("male-thread", "thread", "M8x1.25", "length", length, "class", "8.8", "head", head)
	}
	hole := made("female-thread", "thread", "M8x1.25", "depth", "40 mm", "hole", "through", "material", "steel", "grip",
		"20 mm")
	held := func(was, now, length string, through ...Layer) BoltCase {
		built := BoltCase{Bolt: bolt(was, "35 mm"), Into: hole, AsBuilt: true, Through: through}
		return BoltCase{Bolt: bolt(now, length), Into: hole, Built: &built, Through: through}
	}
	washer := Layer{Side: made("washer", "inside", "8.4 mm", "outside", "16 mm", "thickness", "1.6 mm")}
	for _, tt := range []struct {
		name   string
		in     BoltCase
		under  graph.Verdict // NoVerdict where nothing is to be done
		engage graph.Verdict
	}{
		{"a plain one for a flange", held("hexagon flange", "hexagon", "35 mm"), graph.FitsWithChanges, yes},
		{"socket cap for a washer head", held("hexagon washer head", "socket cap", "35 mm"), graph.FitsWithChanges, yes},
		{"near miss: a flange for a flange", held("hexagon flange", "socket flange", "35 mm"), graph.NoVerdict, yes},
		{"near miss: a plain one for a plain one", held("hexagon", "socket", "35 mm"), graph.NoVerdict, yes},
		{"near miss: a washer lies there", held("hexagon flange", "hexagon", "35 mm", washer), graph.NoVerdict, yes},
		{"nobody knows the old head", held("", "hexagon", "35 mm"), graph.NoVerdict, yes},
		{"the washer takes the thread it needs", held("hexagon flange", "hexagon", "28.5 mm"), graph.FitsWithChanges, no},
		{"near miss: a flange as short", held("hexagon", "hexagon", "28.5 mm"), graph.NoVerdict, yes},
	} {
		checks := JudgeBolt(tt.in)
		if c, _ := named(checks, "under the head"); c.Verdict != tt.under {
			t.Errorf("%s: under the head %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.under)
		}
		if c, _ := named(checks, "thread engagement"); c.Verdict != tt.engage {
			t.Errorf("%s: engagement %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.engage)
		}
	}
}
