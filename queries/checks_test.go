package queries_test

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
)

// Only what applies to what was touched is tried afterwards.
func TestChecksAfter(t *testing.T) {
	tests := []struct {
		name      string
		touched   queries.Touched
		has, lack []string
	}{
		{"a line that was opened", queries.Touched{Safety: []graph.Safety{graph.SafetyBrake}, Fluid: true, Lines: true,
			Joints: true},
			[]string{"full lock, both ways", "extended", "compressed", "firm", "no leak", "walking pace"},
			[]string{"Chain", "Headlamp"}},
		{"a brake, its fluid left alone", queries.Touched{Safety: []graph.Safety{graph.SafetyBrake}},
			[]string{"Pump each brake"}, []string{"firm after", "full lock"}},
		{"bars", queries.Touched{Bars: true}, []string{"full lock"}, []string{"walking pace"}},
		{"a chain", queries.Touched{Chain: true, Safety: []graph.Safety{graph.SafetyDrive}},
			[]string{"slack", "walking pace"}, []string{"lock"}},
		{"a belt", queries.Touched{Belt: true, Safety: []graph.Safety{graph.SafetyDrive}},
			[]string{"flanges", "gauge", "walking pace"}, []string{"Chain", "clip"}},
		{"a clutch", queries.Touched{Safety: []graph.Safety{graph.SafetyDrive}}, []string{"clutch pulled"},
			[]string{"Chain"}},
		{"a footrest", queries.Touched{Safety: []graph.Safety{graph.SafetyFooting}}, []string{"full weight"},
			[]string{"walking", "Chain"}},
		{"a throttle", queries.Touched{Safety: []graph.Safety{graph.SafetyThrottle}}, []string{"snaps shut"},
			[]string{"leak"}},
		{"fuel", queries.Touched{Safety: []graph.Safety{graph.SafetyFuel}}, []string{"no leak, no smell"}, []string{"lever"}},
		{"a headlamp", queries.Touched{Beam: true, Safety: []graph.Safety{graph.SafetyLights}},
			[]string{"aim", "Every lamp"}, []string{"walking"}},
		{"nothing that matters", queries.Touched{}, nil, []string{"lock", "lever", "lamp"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Join(queries.ChecksAfter(tt.touched), "\n")
			for _, want := range tt.has {
				if !strings.Contains(text, want) {
					t.Errorf("nothing of %q in:\n%s", want, text)
				}
			}
			for _, not := range tt.lack {
				if strings.Contains(text, not) {
					t.Errorf("%q in:\n%s", not, text)
				}
			}
		})
	}
}
