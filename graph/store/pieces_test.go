package store

import (
	"context"
	"reflect"
	"testing"

	"matewell/graph"
	"matewell/graph/store/storetest"
)

// Handed over in pieces, a store and what lies over it say what they say as a
// whole.
func TestPiecesAreTheWhole(t *testing.T) {
	ctx := context.Background()
	base, over := storetest.Large(90_000), storetest.Sample()
	p := base.Parts[17]
	p.Name, p.Said = "named above", nil
	over.Parts = append([]graph.Part{p}, over.Parts...)
	layered := inMemory(t, base).Over(inMemory(t, over), inMemory(t, storetest.Sample()))
	want, err := layered.Facts(ctx)
	if err != nil {
		t.Fatal(err)
	}
	var parts []graph.Facts
	err = pieces(ctx, layered, func(f graph.Facts) error {
		parts = append(parts, f)
		return nil
	})
	if err != nil || len(parts) < 3 {
		t.Fatalf("%d pieces, %v", len(parts), err)
	}
	count := 0
	for _, f := range parts {
		count += len(f.Parts)
	}
	if got := together(parts); !reflect.DeepEqual(got, want) || count != len(want.Parts) {
		t.Errorf("the pieces are not the whole: %d parts, want %d, each once", count, len(want.Parts))
	}
}

func inMemory(t *testing.T, f graph.Facts) *Store {
	t.Helper()
	s, err := Memory()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Put(context.Background(), f, nil); err != nil {
		t.Fatal(err)
	}
	return s
}
