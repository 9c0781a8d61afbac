package mating_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/mating"
)

// The torque of a joint as built is no torque for a bolt of another thread or of a lower
// strength (ISO 898-1: 8.8 has 800 N/mm2, 10.9 has 1000; ISO 3506-1: A2-70 has 700, and yields at 450); for a
// stronger one, and for one that nobody marked, it stays the joint's.
func TestLesserBolts(t *testing.T) {
	bolt := func(thread, class string) graph.Feature {
		dims := map[string][]graph.Reading{"thread": {{Text: thread}}}
		if class != "" {
			dims["class"] = []graph.Reading{{Text: class}}
		}
		return graph.Feature{Name: "thread", Kind: "male-thread", Dims: dims}
	}
	for name, tt := range map[string]struct {
		now, built graph.Feature
		want       bool
	}{
		"the same":             {bolt("M8x1.25", "8.8"), bolt("M8x1.25", "8.8"), false},
		"coarse pitch unsaid":  {bolt("M8", "8.8"), bolt("M8x1.25", "8.8"), false},
		"thinner":              {bolt("M8x1.25", "10.9"), bolt("M10x1.25", "10.9"), true},
		"another pitch":        {bolt("M10x1.5", "8.8"), bolt("M10x1.25", "8.8"), true},
		"a lower class":        {bolt("M8x1.25", "8.8"), bolt("M8x1.25", "10.9"), true},
		"stainless":            {bolt("M8x1.25", "A2-70"), bolt("M8x1.25", "10.9"), true},
		"for stainless":        {bolt("M8x1.25", "8.8"), bolt("M8x1.25", "A2-70"), false},
		"an old head number":   {bolt("M8x1.25", "9T"), bolt("M8x1.25", "8.8"), true},
		"no class at all":      {bolt("M8x1.25", "special"), bolt("M8x1.25", "8.8"), true},
		"a higher class":       {bolt("M8x1.25", "10.9"), bolt("M8x1.25", "8.8"), false},
		"nobody read the head": {bolt("M8x1.25", ""), bolt("M8x1.25", "10.9"), false},
	} {
		if got := mating.IsLesserBolt(tt.now, tt.built); got != tt.want {
			t.Errorf("%s: %v, want %v", name, got, tt.want)
		}
	}
}
