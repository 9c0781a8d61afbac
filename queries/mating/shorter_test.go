package mating

import (
	"testing"

	"matewell/graph"
)

// A leg 15 mm shorter makes a path of 400 mm no longer, and at most 15 mm shorter: a hose of
// 420 mm has 20 to 35 mm to spare. One 15 mm longer asks for 435 mm. Geometry; what is spare is
// common practice, no source.
func TestShorterLegsLengthenNoHose(t *testing.T) {
	var needs []graph.RunNeed
	for _, lock := range []string{"left", "centre", "right"} {
		for _, fork := range []string{"extended", "compressed"} {
			needs = append(needs, graph.RunNeed{Lock: lock, Fork: fork, Length: []graph.Reading{{Text: "400 mm"}}})
		}
	}
	leg := made("fork-length", "length", "760 mm", "travel", "120 mm")
	for length, want := range map[string]graph.Verdict{"745 mm": yes, "760 mm": yes, "730 mm": mod, "775 mm": open} {
		c := the(t, JudgeRun(RunCase{Line: made("hose", "length", "420 mm"), Needs: needs, Turns: true, Travels: true,
			Lengthens: []Move{{Was: leg, Now: leg.with("length", length)}}}), "run length")
		if c.Verdict != want || want != open && len(c.Orders) > 0 {
			t.Errorf("legs of %s: %s (%s), orders %v, want %s", length, c.Verdict, c.Why, c.Orders, want)
		}
	}
}
