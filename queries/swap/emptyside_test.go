package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// A brake plate whose joint with a part that nobody listed measures what it measured is no change
// to that joint; one that measures otherwise there leaves it open.
func TestJointWithAnEmptyPlace(t *testing.T) {
	for _, tt := range []struct {
		name, change string
		open         bool
	}{
		{"another reach, the same anchor", "reach.length=91 mm", false},
		{"another anchor", "anchor.width=11.9 mm", true},
	} {
		facts := demotest.Single(t)
		other(t, &facts, "Brunmark 4106", "5002", tt.change)
		facts.Fitments = slices.DeleteFunc(slices.Clone(facts.Fitments),
			func(f graph.Fitment) bool { return f.Position.Local() == "fork/leg-left" })
		a := swapped(t, once.New(readertest.New(facts)), "tern-125/1974/any", []string{"front-brake/plate=Brunmark 5002"})
		open := false
		for _, o := range a.Unknown {
			open = open || queries.LocalName(o.ID) == "front-plate-on-leg"
		}
		if open != tt.open {
			t.Errorf("%s: open %v", tt.name, open)
		}
	}
}
