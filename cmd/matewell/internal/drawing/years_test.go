package drawing

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/differ"
)

// A bar ends at each mark, so that no number lies under one, also where the number stays.
func TestBarsEndAtMarks(t *testing.T) {
	changed := differ.Step{Class: differ.ClassCosmetic, Known: true, Onward: true, Back: true}
	same := differ.Step{Class: differ.ClassSame}
	for name, tt := range map[string]struct {
		parts []graph.PartID
		steps []differ.Step
		bars  int
	}{
		"the same throughout":          {[]graph.PartID{"T 1", "T 1", "T 1"}, []differ.Step{same, same}, 1},
		"another number, but the same": {[]graph.PartID{"T 1", "T 1a", "T 1a"}, []differ.Step{same, same}, 1},
		"one number, fewer colours":    {[]graph.PartID{"T 1", "T 1", "T 1"}, []differ.Step{changed, same}, 2},
		"two numbers":                  {[]graph.PartID{"T 1", "T 1", "T 2"}, []differ.Step{same, changed}, 2},
		"nothing in the middle":        {[]graph.PartID{"T 1", "", "T 1"}, []differ.Step{changed, changed}, 2},
	} {
		var b strings.Builder
		drawStrip(&b, differ.Strip{Position: "a/b", Parts: tt.parts, Steps: tt.steps}, 0, 100)
		if got := strings.Count(b.String(), "<rect"); got != tt.bars {
			t.Errorf("%s: %d bars, want %d", name, got, tt.bars)
		}
	}
}
