package gauge_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/gauge"
	"matewell/queries/readertest"
)

func reading(text string) []graph.Reading { return []graph.Reading{{Text: text}} }

// Sizes are gathered once each, whatever the unit they were written in, and what
// can't be read or can't be is left out.
func TestSizes(t *testing.T) {
	bolt := func(id, length string) graph.Part {
		return graph.Part{ID: graph.PartID(id), Kind: "bolt", Features: []graph.Feature{{Name: "thread", Kind: "male-thread",
			Dims: map[string][]graph.Reading{"thread": reading("M8x1.25"), "length": reading(length),
				"across-flats": reading("12 mm")}}}}
	}
	ring := func(id, inside, outside string) graph.Part {
		return graph.Part{ID: graph.PartID(id), Kind: "washer", Features: []graph.Feature{{Name: "ring", Kind: "washer",
			Dims: map[string][]graph.Reading{"inside": reading(inside), "outside": reading(outside)}}}}
	}
	facts := graph.Facts{
		Kinds: []graph.Kind{{ID: "bolt", Features: []graph.KindFeature{{Name: "thread", Kind: "male-thread"}}},
			{ID: "washer", Features: []graph.KindFeature{{Name: "ring", Kind: "washer"}}}},
		Parts: []graph.Part{bolt("A 1", "25 mm"), bolt("A 2", "2.5 cm"), bolt("A 3", "30 mm"),
			ring("A 4", "8.4 mm", "16 mm"), ring("A 5", "8.4 mm", "16.0 mm"), ring("A 6", "20 mm", "16 mm"),
			ring("A 7", "wide", "16 mm")},
	}
	s, err := gauge.Sizes(t.Context(), readertest.New(facts))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Threads) != 1 || s.Threads[0].Nominal != 8 || s.Threads[0].Pitch != 1.25 || len(s.Threads[0].Lengths) != 2 {
		t.Errorf("threads %+v, want M8 with lengths 25 and 30", s.Threads)
	}
	if len(s.Spanners) != 1 || s.Spanners[0].AcrossFlats != 12 {
		t.Errorf("spanners %+v, want 12", s.Spanners)
	}
	if len(s.Rings) != 1 || s.Rings[0].Inside != 8.4 || s.Rings[0].Outside != 16 {
		t.Errorf("rings %+v, want 8.4 x 16", s.Rings)
	}
}
