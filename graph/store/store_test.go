package store_test

import (
	"context"
	"testing"

	"matewell/graph"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

func memory(t *testing.T, f graph.Facts) *store.Store {
	t.Helper()
	s, err := store.Memory()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Put(context.Background(), f, nil); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestFactsRoundTrip(t *testing.T) {
	s := memory(t, storetest.Sample())
	got, err := s.Facts(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	storetest.Same(t, got, storetest.Sample())
}
