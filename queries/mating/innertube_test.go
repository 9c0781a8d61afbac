package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: a tube is for the sizes of tyre that its maker lists.
func TestTubeInTyre(t *testing.T) {
	tube := func(size string) Side {
		s := made("tyre").with("size", size)
		s.PartKind = tubeKind
		return s
	}
	tyre, rim := made("tyre", "size", "100/90-18"), made("rim", "diameter", "457.2 mm", "width", "47 mm")
	built := Meeting{A: tube("100/90-18"), B: rim}
	for _, tt := range []struct {
		name string
		m    Meeting
		want graph.Verdict
	}{
		{"of the tyre's size", Meeting{A: tube("100/90-18"), B: tyre}, yes},
		{"the other way round", Meeting{A: tyre, B: tube("100/90-18")}, yes},
		{"for a wider tyre", Meeting{A: tube("120/90-18"), B: tyre}, open},
		{"near miss: 10 mm wider", Meeting{A: tube("110/90-18"), B: tyre}, open},
		{"for another rim", Meeting{A: tube("100/90-19"), B: tyre}, no},
		{"for a range that holds it", Meeting{A: tube("2.75/3.00-18"), B: tyre.with("size", "3.00-18")}, yes},
		{"for a range that does not", Meeting{A: tube("2.75/3.00-18"), B: tyre.with("size", "3.50-18")}, open},
		{"size not known", Meeting{A: tube(""), B: tyre}, open},
		{"on its rim as built", Meeting{A: tube("100/90-18"), B: rim, Built: &built}, yes},
		{"another on its rim", Meeting{A: tube("120/90-18"), B: rim, Built: &built}, open},
		{"nobody knows what was built in", Meeting{A: tube("100/90-18"), B: rim}, open},
		{"on the rim of another size", Meeting{A: tube("100/90-19"), B: rim, Built: &built}, no},
	} {
		if got := Judge(tt.m); Worst(got) != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, got, tt.want)
		}
	}
}
