package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/swap"
)

// Only what its kind says is made to join two parts goes between them: two sides
// alone make no adapter, nor does more than two sides with the word.
func TestOnlyJoinersGoBetween(t *testing.T) {
	side := func(name, kind string) graph.KindFeature { return graph.KindFeature{Name: name, Kind: kind} }
	splines := []graph.KindFeature{side("front", "spline"), side("rear", "spline")}
	for _, test := range []struct {
		name string
		kind graph.Kind
		want bool
	}{
		{"a muff that joins", graph.Kind{ID: "muff", Joins: true, Features: splines}, true},
		{"a drive shaft with a place of its own", graph.Kind{ID: "drive-shaft", Features: splines}, false},
		{"a joiner with paint and metal besides", graph.Kind{ID: "bracket", Joins: true, Features: append([]graph.KindFeature{
			side("metal", "plate"), side("finish", "finish")}, splines...)}, true},
		{"a joiner of which one side is known", graph.Kind{ID: "muff", Joins: true, Features: splines[:1]}, false},
		{"a kind that says nothing", graph.Kind{}, false},
	} {
		if got := swap.IsAdapterKind(test.kind); got != test.want {
			t.Errorf("%s: %t, want %t", test.name, got, test.want)
		}
	}
}
