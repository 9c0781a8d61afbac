package machine

import (
	"strings"
	"testing"

	"matewell/graph"
)

// The limits are invented; that a disc is worn out below the thickness stamped
// on it, and a drum above the diameter cast into it, is common practice, no
// source.
func TestStateOf(t *testing.T) {
	dims := func(pairs ...string) map[string][]graph.Reading {
		all := map[string][]graph.Reading{}
		for i := 0; i < len(pairs); i += 2 {
			all[pairs[i]] = []graph.Reading{{Text: pairs[i+1]}}
		}
		return all
	}
	part := graph.Part{ID: "Tarnholt 1", Features: []graph.Feature{ // sorted by name
		{Name: "axle", Kind: "shaft", Dims: dims("diameter", "17 mm")},
		{Name: "coil", Kind: "spring", Dims: dims("length", "355 mm", "minimum", "348 mm")},
		{Name: "drum", Kind: "drum", Dims: dims("diameter", "130 mm", "most", "131 mm")},
		{Name: "links", Kind: "chain", Dims: dims("most-span", "323 mm")},
		{Name: "pad", Kind: "pad", Dims: dims("thickness", "8 mm")},
		{Name: "rim", Kind: "disc-rim", Dims: dims("thickness", "4 mm", "minimum", "3.5 mm")},
		{Name: "stanchion", Kind: "shaft", Dims: dims("diameter", "41 mm", "most-runout", "0.2 mm")},
		{Name: "tread", Kind: "tyre", Dims: dims("least-tread", "1.6 mm")},
	}}
	tests := []struct {
		name, condition, feature, dim, value string
		want                                 graph.Soundness
		why                                  string
	}{
		{"nothing noted", "", "", "", "", graph.Sound, ""},
		{"cracked", "cracked", "", "", "", graph.Scrap, "cracked"},
		{"leaking", "leaking", "", "", "", graph.Doubtful, "renew what seals"},
		{"worn and nobody measured", "worn", "", "", "", graph.Doubtful, "measure it"},
		{"worn, within its limit", "worn", "rim", "thickness", "3.8 mm", graph.Sound, "3.8 mm, least 3.5 mm"},
		{"at its limit", "", "rim", "thickness", "3.5 mm", graph.Sound, "least 3.5 mm"},
		{"just below its limit", "", "rim", "thickness", "3.49 mm", graph.Scrap, "worn out"},
		{"in inches, below its limit", "", "rim", "thickness", "0.137 in", graph.Scrap, "worn out"}, // 3.48 mm
		{"in inches, within its limit", "", "rim", "thickness", "0.138 in", graph.Sound, ""},        // 3.51 mm
		{"cracked, though thick enough", "cracked", "rim", "thickness", "4 mm", graph.Scrap, "cracked"},
		{"scored, though thick enough", "scored", "rim", "thickness", "3.9 mm", graph.Doubtful, "how deep"},
		{"drum at its limit", "", "drum", "diameter", "131 mm", graph.Sound, "most 131 mm"},
		{"drum just over its limit", "", "drum", "diameter", "131.1 mm", graph.Scrap, "worn out"},
		{"no limit recorded", "", "pad", "lining", "2 mm", graph.Doubtful, "nobody recorded the least"},
		{"spring at its limit", "", "coil", "length", "348 mm", graph.Sound, "least 348 mm"},
		{"spring just shorter", "", "coil", "length", "347.5 mm", graph.Scrap, "sagged"},
		{"chain at its limit", "", "links", "span", "323 mm", graph.Sound, "most 323 mm"},
		{"chain drawn out", "", "links", "span", "323.5 mm", graph.Scrap, "drawn out"},
		{"fork tube straight enough", "", "stanchion", "runout", "0.2 mm", graph.Sound, "most 0.2 mm"},
		{"fork tube bent", "", "stanchion", "runout", "0.21 mm", graph.Scrap, "bent"},
		{"an axle for which nobody gave a limit", "", "axle", "runout", "0.05 mm", graph.Doubtful,
			"nobody recorded the most"},
		{"tread over its limit", "worn", "tread", "tread", "1.7 mm", graph.Sound, "least 1.6 mm"},
		{"tread under its limit", "", "tread", "tread", "1.5 mm", graph.Scrap, "worn out"},
		{"what does not wear", "", "rim", "diameter", "290 mm", graph.Sound, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := graph.Specimen{Condition: tt.condition}
			if tt.feature != "" {
				s.Measured = []graph.Measured{{Feature: tt.feature, Dim: tt.dim, Text: tt.value}}
			}
			got := stateOf(part, s)
			if got.Is != tt.want || !strings.Contains(got.Why, tt.why) || (got.Why == "") != (tt.why == "" &&
				got.Is == graph.Sound) && tt.why != "" {
				t.Errorf("StateOf = %s, %q; want %s with %q", got.Is, got.Why, tt.want, tt.why)
			}
		})
	}
}

// A limit that was read on the very piece counts for it, before what its number has. The
// limits are invented.
func TestStateOfWithItsOwnLimit(t *testing.T) {
	rim := graph.Part{ID: "Tarnholt 2", Features: []graph.Feature{{Name: "rim", Kind: "rim"}}}
	noted := func(dim, text string) graph.Measured { return graph.Measured{Feature: "rim", Dim: dim, Text: text} }
	for _, tt := range []struct {
		name     string
		measured []graph.Measured
		want     graph.Soundness
	}{
		{"beyond it", []graph.Measured{noted("most-sway", "2 mm"), noted("sway", "7 mm")}, graph.Scrap},
		{"near miss: at it", []graph.Measured{noted("sway", "2 mm"), noted("most-sway", "2 mm")}, graph.Sound},
		{"the limit of something else", []graph.Measured{noted("sway", "1 mm"), noted("most-hop", "2 mm")}, graph.Doubtful},
		{"no limit", []graph.Measured{noted("sway", "1 mm")}, graph.Doubtful},
	} {
		if got := stateOf(rim, graph.Specimen{Measured: tt.measured}); got.Is != tt.want {
			t.Errorf("%s: %s, %q; want %s", tt.name, got.Is, got.Why, tt.want)
		}
	}
}
