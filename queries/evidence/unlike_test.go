package evidence_test

import (
	"math"
	"testing"

	"matewell/graph"
	"matewell/queries/evidence"
)

func TestUnlike(t *testing.T) {
	sprocket := func(dims ...string) graph.Part {
		f := graph.Feature{Name: "teeth", Kind: "sprocket", Dims: map[string][]graph.Reading{}}
		for i := 0; i < len(dims); i += 2 {
			f.Dims[dims[i]] = []graph.Reading{{Text: dims[i+1]}}
		}
		return graph.Part{Features: []graph.Feature{f}}
	}
	built := sprocket("pitch", "15.875 mm", "teeth", "17", "width", "8.8 mm")
	for name, test := range map[string]struct {
		part graph.Part
		want float64
	}{
		"the same":                  {built, 0},
		"the same in inches":        {sprocket("pitch", "0.625 in", "teeth", "17", "width", "8.8 mm"), 0},
		"two teeth of 17 fewer":     {sprocket("pitch", "15.875 mm", "teeth", "15", "width", "8.8 mm"), 2.0 / 17},
		"a tooth more, and thinner": {sprocket("pitch", "15.875 mm", "teeth", "18", "width", "4.4 mm"), 1.0/18 + 0.5},
		"teeth not counted":         {sprocket("pitch", "15.875 mm", "width", "8.8 mm"), 1},
		"nothing measured":          {graph.Part{}, 3},
	} {
		if got := evidence.Unlike(built, test.part); math.Abs(got-test.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", name, got, test.want)
		}
		if got := evidence.Unlike(test.part, built); math.Abs(got-test.want) > 1e-9 {
			t.Errorf("%s, the other way: %g, want %g", name, got, test.want)
		}
	}
}
