package mating

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
)

// What can mate is written down where files are checked too, and must be what
// the rules judge. MATEWELL_UPDATE=1 writes it anew.
func TestMeetingsAreThoseOfTheRules(t *testing.T) {
	var want []string
	for _, k := range graph.FeatureKinds() {
		for _, other := range Meets(k.Name) {
			if k.Name <= other {
				want = append(want, k.Name+" "+other+"\n")
			}
		}
	}
	slices.Sort(want)
	file := filepath.Join("..", "..", "graph", "meetings.txt")
	if os.Getenv("MATEWELL_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(strings.Join(want, "")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != strings.Join(want, "") {
		t.Errorf("graph/meetings.txt is out of date: run MATEWELL_UPDATE=1 go test -run Meetings ./queries/mating")
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
