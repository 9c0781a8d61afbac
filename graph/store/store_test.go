package store_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/disk/disktest"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

func memory(t testing.TB, f graph.Facts) *store.Store {
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

func factsOf(t testing.TB, s *store.Store) graph.Facts {
	t.Helper()
	f, err := s.Facts(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestMemory(t *testing.T) {
	storetest.Run(t, func(t *testing.T, f graph.Facts) graph.Reader { return memory(t, f) })
}

func TestLevelDB(t *testing.T) {
	storetest.Run(t, func(t *testing.T, f graph.Facts) graph.Reader {
		root := disktest.Folder(t)
		build(t, root, f)
		return openCurrent(t, root)
	})
}

func TestFactsRoundTrip(t *testing.T) {
	storetest.Same(t, factsOf(t, memory(t, storetest.Sample())), storetest.Sample())
}

func TestRandomFactsRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := storetest.Random().Draw(rt, "facts")
		storetest.Same(rt, factsOf(t, memory(t, f)), f)
	})
}

// A larger store needs numbers that LevelDB's keys have to escape, and several
// pages of the log.
func TestLargeStoreOnDisk(t *testing.T) {
	root := disktest.Folder(t)
	f := storetest.Large(30_000)
	build(t, root, f)
	s := openCurrent(t, root)
	if nquadsOf(t, s) != nquadsOf(t, memory(t, f)) {
		t.Error("LevelDB and memory hold different facts")
	}
	ids := thirtyParts()[:10]
	got, err := s.Parts(context.Background(), ids...)
	if err != nil {
		t.Fatal(err)
	}
	want, err := memory(t, f).Parts(context.Background(), ids...)
	if err != nil {
		t.Fatal(err)
	}
	storetest.Same(t, got, want)
}
