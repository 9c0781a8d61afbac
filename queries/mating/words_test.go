package mating

import (
	"testing"

	"matewell/graph"
)

func TestAskText(t *testing.T) {
	tests := []struct {
		name string
		ask  Ask
		want string
	}{
		{"with a tool", Ask{What: "bore", Where: "hub, seat", Gauge: "bore gauge", Accuracy: "0.01 mm"}, "measure bore of " +
			"hub, seat with a bore gauge to 0.01 mm"},
		{"by eye", askFor(made("sensor-ring"), "teeth"), "find number of teeth or slots of bench/sensor-ring, sensor-ring " +
			"by eye: exact count"},
		{"no place", Ask{What: "bolt centres", Gauge: "vernier caliper", Accuracy: "0.1 mm"}, "measure bolt centres with " +
			"a vernier caliper to 0.1 mm"},
		{"no tool known", Ask{What: "stroke", Where: "hub"}, "measure stroke of hub"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.ask.Text(); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// Whatever is asked for names where, with what and how exactly.
func TestEveryDimensionSaysHowToMeasureIt(t *testing.T) {
	for _, kind := range graph.FeatureKinds() {
		for _, d := range kind.Dims {
			a := askFor(made(kind.Name), d.Name)
			if a.What == "" || a.Where == "" || a.Gauge == "" || a.Accuracy == "" {
				t.Errorf("%s %s: %+v, want what, where, gauge and accuracy", kind.Name, d.Name, a)
			}
			if a.Gauge == graph.ByEye && a.Accuracy[0] >= '0' && a.Accuracy[0] <= '9' {
				t.Errorf("%s %s: %s to %s: the eye measures nothing", kind.Name, d.Name, a.Gauge, a.Accuracy)
			}
		}
	}
}
