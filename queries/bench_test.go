package queries_test

import (
	"context"
	"os"
	"testing"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
	"matewell/loader"
	"matewell/queries/differ"
	"matewell/queries/fits"
	"matewell/queries/part"
	"matewell/queries/swap"
)

// demoOnDisk builds the demonstration data into a LevelDB store, once for a
// benchmark.
func demoOnDisk(b *testing.B) graph.Reader {
	b.Helper()
	ctx := context.Background()
	var probs diag.List
	facts, err := loader.Load(ctx, []loader.Layer{loader.Standard(), {FS: os.DirFS("../data-demo")}}, &probs)
	if err == nil {
		err = probs.Err()
	}
	root := b.TempDir()
	if err == nil {
		err = store.BuildFrom(ctx, root, storetest.Whole(facts), nil, nil)
	}
	if err != nil {
		b.Fatal(err)
	}
	s, err := store.OpenCurrent(root)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Error(err)
		}
	})
	return s
}

// BenchmarkQuestions asks each question of the demonstration data on disk.
func BenchmarkQuestions(b *testing.B) {
	r, ctx := demoOnDisk(b), context.Background()
	questions := []struct {
		name string
		ask  func() error
	}{
		{"fits a part", func() error {
			_, err := swap.Fits(ctx, r, fits.FitsQuestion{Part: "Tarnholt 207.4418b"})
			return err
		}},
		{"fits at a position", func() error {
			_, err := swap.Fits(ctx, r, fits.FitsQuestion{On: "skerry-620/2005/uk", Position: "front-brake/caliper-left"})
			return err
		}},
		{"fits in an assembly", func() error {
			_, err := swap.Fits(ctx, r, fits.FitsQuestion{On: "skerry-620/2005/uk", Assembly: "front-brake"})
			return err
		}},
		{"fits on a whole machine", func() error {
			_, err := swap.Fits(ctx, r, fits.FitsQuestion{On: "skerry-620/2005/uk"})
			return err
		}},
		{"differ in an assembly", func() error {
			_, err := differ.Differ(ctx, r, differ.DifferQuestion{A: "skerry-620/2003/eu/late", B: "skerry-620/2004/eu",
				Assembly: "front-brake"})
			return err
		}},
		{"differ on whole machines", func() error {
			_, err := differ.Differ(ctx, r, differ.DifferQuestion{A: "skerry-620/2003", B: "skerry-620/2004"})
			return err
		}},
		{"part", func() error {
			_, err := part.Part(ctx, r, part.PartQuestion{Part: "Tarnholt 207.4418b"})
			return err
		}},
		{"find", func() error {
			_, err := part.Find(ctx, r, part.FindQuestion{Text: "bearing inside=17 mm outside=40 mm"})
			return err
		}},
	}
	for _, q := range questions {
		b.Run(q.name, func(b *testing.B) {
			for b.Loop() {
				if err := q.ask(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
