package store

import (
	"reflect"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/store/storetest"
)

// What fitmentLines reads is what decode reads, and of what it can't be sure it
// leaves to decode.
func TestFitmentLines(t *testing.T) {
	var lines fitmentLines
	quick := 0
	fitments := append(storetest.Large(3000).Fitments, storetest.Sample().Fitments...)
	fitments = append(fitments, graph.Fitment{}, graph.Fitment{ID: "a", Said: []graph.Cite{{}}},
		graph.Fitment{ID: "a\"b\\\n"},
		graph.Fitment{ID: "a", Said: []graph.Cite{{Pos: diag.Pos{File: "f", Line: 3}}}}, graph.Fitment{ID: "x", Quantity: -1,
			Note: "n"})
	for _, f := range fitments {
		text, err := encode(f)
		if err != nil {
			t.Fatal(err)
		}
		var want graph.Fitment
		if err := decode(string(text), &want); err != nil {
			t.Fatal(err)
		}
		got, ok := lines.read(string(text))
		if ok && !reflect.DeepEqual(got, want) {
			t.Errorf("%s is read as %+v, want %+v", text, got, want)
		}
		if ok {
			quick++
		}
		for cut := range len(text) {
			if _, ok := lines.read(string(text[:cut])); ok {
				t.Fatalf("%s is taken for whole", text[:cut])
			}
		}
	}
	if quick < len(fitments)-4 {
		t.Errorf("of %d only %d are read quickly", len(fitments), quick)
	}
}
