package mating

import (
	"testing"

	"matewell/graph"
)

// Two yokes that agree may still hold the tubes further apart than those built in.
func TestTubesApart(t *testing.T) {
	yoke := func(spacing string) Side { return made("yoke-offset", "offset", "30 mm", "spacing", spacing) }
	built := Meeting{A: yoke("194 mm"), B: yoke("194 mm")}
	for _, tt := range []struct {
		name         string
		upper, lower string
		built        *Meeting
		want         graph.Verdict
	}{
		{"as far apart as built", "194 mm", "194 mm", &built, yes},
		{"near miss: 0.2 mm more", "194.2 mm", "194.2 mm", &built, yes},
		{"20 mm further apart", "214 mm", "214 mm", &built, open},
		{"44 mm closer", "150 mm", "150 mm", &built, open},
		{"unlike each other", "214 mm", "194 mm", &built, no},
		{"nobody measured those built in", "214 mm", "214 mm", &Meeting{A: yoke(""), B: yoke("")}, yes},
		{"not measured", "", "194 mm", &built, open},
	} {
		m := Meeting{A: yoke(tt.upper), B: yoke(tt.lower), Built: tt.built}
		if got := Worst(Judge(m)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}
