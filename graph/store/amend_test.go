package store_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"matewell/graph"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

// changed is what a few files might be edited to: names, sizes, lists and parts
// change, some go and some are new. from is how much of each list is touched.
func changed(f graph.Facts, round int) (store.Change, graph.Facts) {
	var c store.Change
	now := f
	now.Parts, now.Fitments, now.Positions = nil, nil, nil
	for i, p := range f.Parts {
		if i%97 == round {
			c.Old.Parts = append(c.Old.Parts, p)
			p.Name = fmt.Sprintf("renamed %d cover", round)
			c.New.Parts = append(c.New.Parts, p)
		}
		now.Parts = append(now.Parts, p)
	}
	for i, p := range f.Positions {
		if i%89 == round {
			c.Old.Positions = append(c.Old.Positions, p)
			p.Name = fmt.Sprintf("moved %d", round)
			c.New.Positions = append(c.New.Positions, p)
		}
		now.Positions = append(now.Positions, p)
	}
	for i, v := range f.Fitments {
		switch {
		case i%53 == round:
			c.Old.Fitments = append(c.Old.Fitments, v)
			continue
		case i%47 == round:
			c.Old.Fitments = append(c.Old.Fitments, v)
			v.Quantity += 3
			c.New.Fitments = append(c.New.Fitments, v)
		case i%43 == round || i < 130:
			more := v
			more.ID += graph.FitmentID(fmt.Sprintf("-again-%d", round))
			c.New.Fitments = append(c.New.Fitments, more)
			now.Fitments = append(now.Fitments, more)
		}
		now.Fitments = append(now.Fitments, v)
	}
	fresh := f.Parts[round+1]
	fresh.ID, fresh.Number.Text = graph.PartID(fmt.Sprintf("%s 777.%d", fresh.Brand, round)), fmt.Sprintf("777.%d", round)
	fresh.Number.Core = fresh.Number.Text
	c.New.Parts, now.Parts = append(c.New.Parts, fresh), append(now.Parts, fresh)
	return c, now
}

// A store that was changed again and again answers as one that was built of what
// came of it.
func TestAmend(t *testing.T) {
	ctx := context.Background()
	facts := storetest.Large(3_000)
	root := filepath.Join(t.TempDir(), "store")
	if err := store.BuildFrom(ctx, root, storetest.Whole(facts), nil, nil); err != nil {
		t.Fatal(err)
	}
	for round := range 20 { // more than the database would let gather before it compacts
		c, now := changed(facts, round)
		err := store.Amend(ctx, root, root, func(context.Context, *store.Store, string) (store.Change, error) {
			return c,
				nil
		}, nil)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		facts = now
	}
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	storetest.Compare(t, s, memoryFacts(t, facts))
}

// memoryFacts are facts as a store gives them back: sorted.
func memoryFacts(t *testing.T, f graph.Facts) graph.Facts {
	t.Helper()
	sorted, err := memory(t, f).Facts(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return sorted
}

// What is not there word for word is not changed, nor is what is there taken for
// new; then the store stays as it was.
func TestAmendRefuses(t *testing.T) {
	ctx := context.Background()
	facts := storetest.Sample()
	root := filepath.Join(t.TempDir(), "store")
	if err := store.BuildFrom(ctx, root, storetest.Whole(facts), nil, nil); err != nil {
		t.Fatal(err)
	}
	p := facts.Parts[0]
	other := p
	other.Name = "not what is there"
	for name, c := range map[string]store.Change{
		"other before": {Old: graph.Facts{Parts: []graph.Part{other}}, New: graph.Facts{Parts: []graph.Part{p}}},
		"there":        {New: graph.Facts{Parts: []graph.Part{other}}},
		"never there":  {Old: graph.Facts{Sources: []graph.Source{{ID: "nobody"}}}},
	} {
		err := store.Amend(ctx, root, root, func(context.Context, *store.Store, string) (store.Change, error) {
			return c,
				nil
		}, nil)
		if !errors.Is(err, store.ErrNotAmended) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	storetest.Compare(t, s, facts)
}
