package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: what a pin may be loose in its hole.
func TestJudgeTwice(t *testing.T) {
	for _, tt := range []struct {
		name, one, other string
		want             graph.Verdict
	}{
		{"the same", "8 mm", "8 mm", yes},
		{"near miss: pin and hole", "8 mm", "8.4 mm", yes},
		{"another size", "5.5 mm", "8.2 mm", open},
		{"recorded once", "8 mm", "", graph.NoVerdict},
	} {
		in := TwiceCase{One: made("pad", "pin", tt.one), OneDim: "pin", Other: made("bore").with("diameter", tt.other),
			OtherDim: "diameter"}
		if got := Worst(JudgeTwice(in)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}
