package graph_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// Every order speaks of two lengths that its kind of feature has.
func TestOrdersAreOfDimensions(t *testing.T) {
	some := 0
	for _, k := range graph.FeatureKinds() {
		for _, o := range graph.Orders(k.Name) {
			some++
			for _, name := range []string{o.Less, o.More} {
				if d, ok := k.Dim(name); !ok || d.Type != measure.Length {
					t.Errorf("%s has no length %q", k.Name, name)
				}
			}
		}
	}
	if some < 20 {
		t.Errorf("only %d orders belong to a kind of feature", some)
	}
}

// A dimension that decides nothing says why, in words that follow its name; one
// that a joint can't be judged without decides.
func TestWhatDecidesNothing(t *testing.T) {
	for _, k := range graph.FeatureKinds() {
		for _, d := range k.Dims {
			if d.Must && !d.Decides() {
				t.Errorf("%s of %s must be known and decides nothing: %s", d.Name, k.Name, d.WhyNot())
			}
			if !d.Decides() && d.Compared {
				t.Errorf("%s of %s is compared and decides nothing", d.Name, k.Name)
			}
		}
	}
}

func TestHowMeet(t *testing.T) {
	tests := []struct {
		name, a, b string
		want       graph.Meeting
	}{
		{"judged", "banjo", "port", graph.CanMeet},
		{"the other way", "port", "banjo", graph.CanMeet},
		{"with its like", "points", "points", graph.CanMeet},
		{"by hand", "washer", "eye", graph.NoRule},
		{"never", "banjo", "tyre", graph.CantMeet},
		{"two threads of one sort", "male-thread", "male-thread", graph.CantMeet},
		{"a kind that nothing knows", "horn-note", "port", graph.CantMeet},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := graph.HowMeet(tt.a, tt.b); got != tt.want {
				t.Errorf("HowMeet(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
			}
		})
	}
}

// Both lists of pairs name kinds of feature, and no pair stands in both.
func TestMeetingsNameKinds(t *testing.T) {
	for _, k := range graph.FeatureKinds() {
		for _, other := range graph.Meets(k.Name) {
			if _, ok := graph.FeatureKindNamed(other); !ok {
				t.Errorf("%s meets %q, which is no kind of feature", k.Name, other)
			}
		}
	}
}
