package examine_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

func feature(name, kind string, dims ...string) graph.Feature {
	f := graph.Feature{Name: name, Kind: kind, Dims: map[string][]graph.Reading{}}
	for i := 0; i < len(dims); i += 2 {
		f.Dims[dims[i]] = []graph.Reading{{Text: dims[i+1]}}
	}
	return f
}

// TestShifts: a bracket serves by what it gives. Source: (D fitted - D design) / 2,
// geometry.
func TestShifts(t *testing.T) {
	leg := mating.Side{Position: "m:front/leg", Feature: feature("lug", "caliper-mount", "style", "radial", "spacing",
		"108 mm", "thread", "M10x1.25", "disc", "310 mm")}
	caliper := mating.Side{Position: "m:front/caliper",
		Feature: feature("mount", "caliper-mount", "style", "radial", "spacing", "100 mm", "hole", "10.5 mm", "disc",
			"310 mm")}
	sides := []graph.Feature{
		feature("leg-side", "caliper-mount", "style", "radial", "spacing", "108 mm", "hole", "10.5 mm", "disc", "310 mm"),
		feature("caliper-side", "caliper-mount", "style", "radial", "spacing", "100 mm", "thread", "M10x1.25", "disc",
			"310 mm")}
	tests := []struct {
		name  string
		disc  string
		shift []graph.Feature
		want  bool
	}{
		{"7 mm by one for 7", "324 mm", []graph.Feature{feature("shift", "shift", "outward", "7 mm")}, true},
		{"7 mm by one for 12", "324 mm", []graph.Feature{feature("shift", "shift", "outward", "12 mm")}, false},
		{"7 mm by one for 7.5", "324 mm", []graph.Feature{feature("shift", "shift", "outward", "7.5 mm")}, false},
		{"7 mm by one nobody measured", "324 mm", []graph.Feature{feature("shift", "shift")}, false},
		{"none by one that shifts by its discs 0", "310 mm", nil, true},
		{"7 mm by one that shifts by its discs 0", "324 mm", nil, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			part := graph.Part{ID: "Varnhegg V-1", Features: append(append([]graph.Feature{}, sides...), tt.shift...)}
			disc := mating.Side{Feature: feature("rim", "disc-rim", "diameter", tt.disc)}
			for _, way := range [][2]mating.Side{{leg, caliper}, {caliper, leg}} {
				if got := examine.Shifts(part, way[0], way[1], disc); got != tt.want {
					t.Errorf("got %v, want %v", got, tt.want)
				}
			}
		})
	}
}

// TestHasMetal: 5 holes of 8.5 mm on 78 and on 90 mm lie 6 mm apart where they
// line up and 26.6 mm where the ring is turned half a step (law of cosines: 39 and
// 45 mm at 36 degrees); on 78 and 80 mm with 6 and 5 holes they lie no more than
// 4.3 mm apart however it is turned, and run into one another.
func TestHasMetal(t *testing.T) {
	circle := func(count, at string) mating.Side {
		return mating.Side{Feature: feature("holes", "bolt-pattern", "count", count, "spacing", at, "hole", "8.5 mm")}
	}
	ring := graph.Part{ID: "Varnhegg R-1"}
	tests := []struct {
		name string
		a, b mating.Side
		part graph.Part
		want bool
	}{
		{"turned half a step", circle("5", "78 mm"), circle("5", "90 mm"), ring, true},
		{"circles that overlap", circle("6", "78 mm"), circle("5", "80 mm"), ring, false},
		{"less than the mildest rule between, as measured", circle("5", "78 mm"), circle("5", "90 mm"),
			graph.Part{ID: "Varnhegg R-2", Features: []graph.Feature{feature("metal", "plate", "material", "steel", "between",
				"18 mm", "edge", "13 mm")}}, false},
		{"a hole nobody measured", mating.Side{Feature: feature("holes", "bolt-pattern", "count", "5", "spacing", "78 mm")},
			circle("5", "80 mm"), ring, true},
		{"no holes at all", mating.Side{Feature: feature("bore", "bore")}, circle("5", "80 mm"), ring, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := examine.HasMetal(tt.part, tt.a, tt.b); got != tt.want {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}
