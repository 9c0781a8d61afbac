package mating

import (
	"slices"
	"testing"
)

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
