package mating

import (
	"slices"
	"testing"

	"matewell/graph"
)

// What can mate is written down where files are checked too, and must be what
// the rules judge.
func TestMeetingsAreThoseOfTheRules(t *testing.T) {
	for _, k := range graph.FeatureKinds() {
		if got, want := graph.Meets(k.Name), Meets(k.Name); !slices.Equal(got, want) {
			t.Errorf("graph/meets.go says that %q meets %q, the rules say %q", k.Name, got, want)
		}
	}
}

func TestMeets(t *testing.T) {
	tests := []struct {
		name, kind string
		want       []string
	}{
		{"a bore takes a shaft, a bolt or a sleeve", "bore", []string{"male-thread", "shaft", "sleeve"}},
		{"a shaft has five sorts of mates", "shaft", []string{"bearing", "bearing-seat", "bore", "seal", "sleeve"}},
		{"two male threads never mate", "male-thread", []string{"bore", "clevis", "eye", "female-thread", "washer"}},
		{"patterns meet their like", "bolt-pattern", []string{"bolt-pattern"}},
		{"no rule knows it", "row-of-teeth", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Meets(tt.kind); !slices.Equal(got, tt.want) {
				t.Errorf("%v, want %v", got, tt.want)
			}
		})
	}
}
