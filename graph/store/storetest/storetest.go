package storetest

import (
	"context"
	"slices"
	"sync"
	"testing"

	"matewell/graph"
)

// randoms is how many random data sets Run tries.
const randoms = 5

// Run checks a reader against what graph.Reader promises: that every question
// gets the answer that looking through the facts by hand gives, sorted, each
// thing once, exactly as it was put in; that unknown identities are left out
// without an error; that what comes back belongs to the caller; that it may be
// used from several goroutines; and that a cancelled context stops it. open
// builds the reader from facts and arranges its closing.
func Run(t *testing.T, open func(t *testing.T, f graph.Facts) graph.Reader) {
	t.Run("empty", func(t *testing.T) { answers(t, open(t, graph.Facts{}), graph.Facts{}) })
	t.Run("sample", func(t *testing.T) { answers(t, open(t, Sample()), Sample()) })
	t.Run("random", func(t *testing.T) {
		for seed := range randoms {
			f := Random().Example(seed)
			answers(t, open(t, f), f)
		}
	})
	t.Run("results belong to the caller", func(t *testing.T) {
		r := open(t, Sample())
		spoil(t, r)
		answers(t, r, Sample())
	})
	t.Run("several goroutines", func(t *testing.T) {
		r := open(t, Sample())
		var all sync.WaitGroup
		for range 4 {
			all.Go(func() { answers(t, r, Sample()) })
		}
		all.Wait()
	})
	t.Run("cancelled", func(t *testing.T) {
		r := open(t, Sample())
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		if _, err := r.Parts(ctx, Sample().Parts[0].ID); err == nil {
			t.Error("Parts with a cancelled context gave no error")
		}
		if _, err := r.PartIDs(ctx); err == nil {
			t.Error("PartIDs with a cancelled context gave no error")
		}
	})
}

// answers asks every question in several ways and compares with the oracle.
func answers(t *testing.T, r graph.Reader, f graph.Facts) {
	t.Helper()
	ctx := context.Background()
	for _, q := range questions(f) {
		got, err := q.ask(ctx, r)
		if err != nil {
			t.Errorf("%s: %v", q.name, err)
			continue
		}
		want, _ := q.ask(ctx, oracle{f})
		if t.Failed() {
			return
		}
		if !Same(t, got, want) {
			t.Errorf("the question was %s", q.name)
		}
	}
}

// spoil overwrites what a reader gave.
func spoil(t *testing.T, r graph.Reader) {
	t.Helper()
	ctx := context.Background()
	parts, err := r.Parts(ctx, Sample().Parts[1].ID)
	if err != nil || len(parts) != 1 {
		t.Fatalf("Parts = %v, %v", parts, err)
	}
	parts[0].Features[1].Dims["spacing"][0].Text = "spoilt"
	parts[0].Said[0].Source = "spoilt"
	positions, err := r.PositionsOf(ctx, Sample().Models[0].ID)
	if err != nil || len(positions) == 0 {
		t.Fatalf("PositionsOf = %v, %v", positions, err)
	}
	for _, p := range positions {
		slices.Reverse(p.On)
	}
	slices.Reverse(positions)
}

// Compare checks that a reader answers every question as a look through the facts
// does.
func Compare(t *testing.T, r graph.Reader, f graph.Facts) {
	t.Helper()
	answers(t, r, f)
}
