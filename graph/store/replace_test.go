package store_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

func testReplace(t *testing.T, open func(t *testing.T) *store.Store) {
	tests := []struct {
		name       string
		first, now graph.Facts
	}{
		{"all new", graph.Facts{}, storetest.Sample()},
		{"nothing left", storetest.Sample(), graph.Facts{}},
		{"the same", storetest.Sample(), storetest.Sample()},
		{"other facts", storetest.Sample(), storetest.Random().Example(3)},
		{"one part renamed", part("hub", "", said("list", 3)), part("hub, front", "", said("list", 3))},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := open(t)
			put(t, s, tt.first)
			if err := s.ReplaceFrom(t.Context(), handing(tt.now), nil); err != nil {
				t.Fatal(err)
			}
			if got, want := nquadsOf(t, s), nquadsOf(t, memory(t, tt.now)); got != want {
				t.Errorf("after Replace the store holds\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// handing hands facts over in one piece.
func handing(f graph.Facts) func(add func(graph.Facts) error) error {
	return func(add func(graph.Facts) error) error { return add(f) }
}

func TestReplaceInMemory(t *testing.T) {
	testReplace(t, func(t *testing.T) *store.Store { return memory(t, graph.Facts{}) })
}

func TestReplaceInPostgreSQL(t *testing.T) {
	storetest.PostgresURL(t)
	testReplace(t, func(t *testing.T) *store.Store { return openSQL(t, storetest.EmptySchema(t)) })
}

func TestReplaceInLayers(t *testing.T) {
	s := memory(t, graph.Facts{}).Over(memory(t, graph.Facts{}))
	if err := s.ReplaceFrom(t.Context(), handing(graph.Facts{}), nil); err == nil {
		t.Error("Replace of a layered store succeeded")
	}
}
