package part_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/demotest"
	"matewell/queries/part"
	"matewell/queries/readertest"
)

// TestUnrecordedFramesMayBeIt: a number that no interval holds may belong to any variant
// whose frame numbers nobody recorded, whether its model is named or not; where all are
// recorded it belongs to none, and where an interval holds it, to that one alone.
func TestUnrecordedFramesMayBeIt(t *testing.T) {
	full := demotest.Facts(t)
	without := full
	without.Variants = slices.Clone(full.Variants)
	open := 0
	for i, v := range without.Variants {
		if v.ID.Model() == "fjeld-750" && v.Market == "eu" {
			without.Variants[i].Frames = measure.Frames{}
			open++
		}
	}
	for _, c := range []struct {
		name, frame, on string
		graph.Facts
		want int
	}{
		{"nobody recorded them", "ZZ9-004512", "", without, open},
		{"of the model named", "ZZ9-004512", "fjeld-750", without, open},
		{"of another model", "ZZ9-004512", "skerry-620", without, 0},
		{"all recorded", "ZZ9-004512", "", full, 0},
		{"in an interval", "TK6A-010601", "", without, 1},
	} {
		a, err := part.Identify(t.Context(), readertest.New(c.Facts), part.IdentifyQuestion{Frame: c.frame, On: c.on})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Candidates) != c.want {
			t.Errorf("%s: %d candidates, want %d", c.name, len(a.Candidates), c.want)
		}
		for _, candidate := range a.Candidates {
			if c.frame == "ZZ9-004512" && candidate.Why != "its frame numbers are not recorded" {
				t.Errorf("%s: %s: %q", c.name, candidate.Variant, candidate.Why)
			}
		}
	}
	if open == 0 {
		t.Fatal("nothing was left out")
	}
}
