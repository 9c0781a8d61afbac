package store_test

import (
	"context"
	"path/filepath"
	"testing"

	"matewell/graph"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

// The benchmarks work on about 60,000 quads, the size of a well-filled data
// set for a few models.
const benchQuads = 93_000 // Large counts roughly; this gives 60,000

func largeRoot(b *testing.B) string {
	b.Helper()
	root := filepath.Join(b.TempDir(), "store")
	large := storetest.Whole(storetest.Large(benchQuads))
	if err := store.BuildFrom(context.Background(), root, large, nil, nil); err != nil {
		b.Fatal(err)
	}
	return root
}

func thirtyParts() []graph.PartID {
	var ids []graph.PartID
	for i := range 30 {
		ids = append(ids, storetest.LargePart(i*17))
	}
	return ids
}

func BenchmarkBuild(b *testing.B) {
	f := storetest.Large(benchQuads)
	total := 0
	for b.Loop() {
		err := store.BuildFrom(context.Background(), b.TempDir(), storetest.Whole(f), nil, func(_, n int) { total = n })
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(total)*float64(b.N)/b.Elapsed().Seconds(), "quads/s")
}

func BenchmarkMemoryPut(b *testing.B) {
	f := storetest.Large(benchQuads)
	for b.Loop() {
		memory(b, f)
	}
}

func BenchmarkOpen(b *testing.B) {
	root := largeRoot(b)
	for b.Loop() {
		s, err := store.OpenCurrent(root)
		if err != nil {
			b.Fatal(err)
		}
		s.Close()
	}
}

// BenchmarkOpenAndReadParts is what one run of the command does at least.
func BenchmarkOpenAndReadParts(b *testing.B) {
	root := largeRoot(b)
	ids := thirtyParts()
	for b.Loop() {
		s, err := store.OpenCurrent(root)
		if err != nil {
			b.Fatal(err)
		}
		if parts, err := s.Parts(context.Background(), ids...); err != nil || len(parts) != len(ids) {
			b.Fatal(len(parts), err)
		}
		s.Close()
	}
}

func BenchmarkRead(b *testing.B) {
	disk, err := store.OpenCurrent(largeRoot(b))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { disk.Close() })
	stores := []struct {
		name string
		r    graph.Reader
	}{{"leveldb", disk}, {"memory", memory(b, storetest.Large(benchQuads))}}
	ctx, ids := context.Background(), thirtyParts()
	asks := []struct {
		name string
		ask  func(r graph.Reader) error
	}{
		{"Parts-30", func(r graph.Reader) error { _, err := r.Parts(ctx, ids...); return err }},
		{"VariantsOf", func(r graph.Reader) error { _, err := r.VariantsOf(ctx, "skerry-620"); return err }},
		{"PositionsOf-144", func(r graph.Reader) error { _, err := r.PositionsOf(ctx, "skerry-620"); return err }},
		{"FitmentsOn", func(r graph.Reader) error { _, err := r.FitmentsOn(ctx, "skerry-620/2003/eu"); return err }},
		{"FitmentsOf", func(r graph.Reader) error { _, err := r.FitmentsOf(ctx, ids[3]); return err }},
		{"PartsByKey", func(r graph.Reader) error {
			_, err := r.PartsByKey(ctx, graph.NumberKey(ids[3].Number()))
			return err
		}},
		{"PartIDs", func(r graph.Reader) error { _, err := r.PartIDs(ctx); return err }},
	}
	for _, s := range stores {
		for _, a := range asks {
			b.Run(s.name+"/"+a.name, func(b *testing.B) {
				for b.Loop() {
					if err := a.ask(s.r); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
