package once_test

import (
	"context"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// Whatever is asked for, in whatever portions, comes out as from the reader below;
// what was asked for already is not read again, though it be not there.
func TestReadsTheSameOnce(t *testing.T) {
	facts := demotest.Facts(t)
	plain, counted := readertest.New(facts), readertest.New(facts)
	places := append([]graph.PositionID{"no-such:place/at-all"}, placesOf(facts)...)
	parts := append([]graph.PartID{"Tarnholt none"}, partsOf(facts)...)
	ctx := context.Background()
	r := once.New(counted)
	rounds := 0
	check := func(t *rapid.T) {
		if rounds++; rounds%4 == 0 { // what was kept hides nothing of how it came there
			r = once.New(counted)
		}
		at := rapid.SliceOfN(rapid.SampledFrom(places), 1, 6).Draw(t, "places")
		of := rapid.SliceOfN(rapid.SampledFrom(parts), 1, 6).Draw(t, "parts")
		if of := rapid.SampledFrom([]graph.ModelID{"", "skerry-620", "fjeld-750"}).Draw(t, "whole model"); of != "" {
			model := []graph.ModelID{of}
			same(t, "variants of", ask(ctx, r.VariantsOf, model), ask(ctx, plain.VariantsOf, model))
			same(t, "assemblies of", ask(ctx, r.AssembliesOf, model), ask(ctx, plain.AssembliesOf, model))
			same(t, "positions of", ask(ctx, r.PositionsOf, model), ask(ctx, plain.PositionsOf, model))
			same(t, "joints of", ask(ctx, r.JointsOf, model), ask(ctx, plain.JointsOf, model))
			same(t, "runs of", ask(ctx, r.RunsOf, model), ask(ctx, plain.RunsOf, model))
			same(t, "circuits of", ask(ctx, r.CircuitsOf, model), ask(ctx, plain.CircuitsOf, model))
			same(t, "stacks of", ask(ctx, r.StacksOf, model), ask(ctx, plain.StacksOf, model))
		}
		same(t, "parts", ask(ctx, r.Parts, of), ask(ctx, plain.Parts, of))
		same(t, "positions", ask(ctx, r.Positions, at), ask(ctx, plain.Positions, at))
		same(t, "fitments of", ask(ctx, r.FitmentsOf, of), ask(ctx, plain.FitmentsOf, of))
		same(t, "fitments at", ask(ctx, r.FitmentsAt, at), ask(ctx, plain.FitmentsAt, at))
		same(t, "findings", ask(ctx, r.FindingsOf, of), ask(ctx, plain.FindingsOf, of))
		same(t, "joints", ask(ctx, r.JointsAt, at), ask(ctx, plain.JointsAt, at))
		same(t, "runs", ask(ctx, r.RunsAt, at), ask(ctx, plain.RunsAt, at))
		same(t, "circuits", ask(ctx, r.CircuitsAt, at), ask(ctx, plain.CircuitsAt, at))
		same(t, "stacks", ask(ctx, r.StacksAt, at), ask(ctx, plain.StacksAt, at))
		before := counted.Calls()
		ask(ctx, r.Parts, of)
		ask(ctx, r.JointsAt, at)
		ask(ctx, r.FitmentsAt, at)
		if after := counted.Calls(); !reflect.DeepEqual(before, after) {
			t.Fatalf("read again: %v, then %v", before, after)
		}
	}
	rapid.Check(t, check)
}

func ask[K, T any](ctx context.Context, read func(context.Context, ...K) ([]T, error), ids []K) []T {
	found, err := read(ctx, ids...)
	if err != nil {
		panic(err)
	}
	return found
}

func same[T any](t *rapid.T, what string, got, want []T) {
	if len(got) != len(want) || len(want) > 0 && !reflect.DeepEqual(got, want) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
}

// Only what is new is read, and what keeps already is not wrapped again.
func TestReadsOnlyWhatIsNew(t *testing.T) {
	facts := demotest.Facts(t)
	counted := readertest.New(facts)
	r := once.New(counted)
	if once.New(r) != r {
		t.Error("a reader that keeps was wrapped again")
	}
	parts := partsOf(facts)
	for _, ids := range [][]graph.PartID{parts[:3], parts[:2], parts[1:4], nil} {
		if _, err := r.Parts(context.Background(), ids...); err != nil {
			t.Fatal(err)
		}
	}
	if n := counted.Calls()["Parts"]; n != 2 {
		t.Errorf("%d reads, want one for the first three and one for the fourth", n)
	}
}

// A fault is passed on, and what could not be read is asked for again.
func TestFaultIsNotKept(t *testing.T) {
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	id := partsOf(facts)[0]
	if _, err := r.Parts(ended, id); err == nil {
		t.Error("no error under a context that has ended")
	}
	if _, err := r.FitmentsOf(ended, id); err == nil {
		t.Error("no error under a context that has ended")
	}
	found, err := r.Parts(context.Background(), id)
	if err != nil || len(found) != 1 {
		t.Errorf("%d parts, %v, after a fault", len(found), err)
	}
}

func placesOf(facts graph.Facts) []graph.PositionID {
	var ids []graph.PositionID
	for _, p := range facts.Positions {
		ids = append(ids, p.ID)
	}
	slices.Sort(ids)
	return ids
}

func partsOf(facts graph.Facts) []graph.PartID {
	var ids []graph.PartID
	for _, p := range facts.Parts {
		ids = append(ids, p.ID)
	}
	slices.Sort(ids)
	return ids
}
