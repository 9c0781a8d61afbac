package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	"github.com/hidal-go/hidalgo/kv/flat"
	hidalgo "github.com/hidal-go/hidalgo/kv/flat/leveldb"
	"github.com/syndtr/goleveldb/leveldb"

	"matewell/graph"
	"matewell/graph/store/storetest"
)

// shapeOfRecords is what record types look like in format 9. When this fails, a
// type has changed: where an old record would now mean something else, raise
// format; then put the new value here.
const shapeOfRecords = "c24a85f96e4e4401"

func TestFormat(t *testing.T) {
	var b strings.Builder
	describe(&b, reflect.TypeOf(graph.Facts{}), map[reflect.Type]bool{})
	sum := sha256.Sum256([]byte(b.String()))
	if got := hex.EncodeToString(sum[:8]); got != shapeOfRecords {
		t.Errorf("the record types have changed: shape %s, was %s in format %d", got, shapeOfRecords, format)
	}
}

// describe writes the names, keys and types of fields, all the way down.
func describe(b *strings.Builder, t reflect.Type, seen map[reflect.Type]bool) {
	fmt.Fprintf(b, "%s %s;", t, t.Kind())
	if seen[t] {
		return
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Slice, reflect.Map, reflect.Pointer:
		describe(b, t.Elem(), seen)
	case reflect.Struct:
		for i := range t.NumField() {
			fmt.Fprintf(b, "%s %s ", t.Field(i).Name, t.Field(i).Tag)
			describe(b, t.Field(i).Type, seen)
		}
	}
}

// A field that merging forgets would be lost: every sort is merged with itself,
// and with a record that says nothing, above and below.
func TestMergingLosesNothing(t *testing.T) {
	f := storetest.Sample()
	mergesWhole(t, sourceCodec(), f.Sources, func(v graph.Source) graph.Source { return graph.Source{ID: v.ID} })
	mergesWhole(t, brandCodec(), f.Brands, func(v graph.Brand) graph.Brand { return graph.Brand{ID: v.ID} })
	mergesWhole(t, kindCodec(), f.Kinds, func(v graph.Kind) graph.Kind { return graph.Kind{ID: v.ID} })
	mergesWhole(t, modelCodec(), f.Models, func(v graph.Model) graph.Model { return graph.Model{ID: v.ID} })
	mergesWhole(t, variantCodec(), f.Variants, func(v graph.Variant) graph.Variant { return graph.Variant{ID: v.ID} })
	mergesWhole(t, assemblyCodec(), f.Assemblies,
		func(v graph.Assembly) graph.Assembly { return graph.Assembly{ID: v.ID} })
	mergesWhole(t, positionCodec(), f.Positions, func(v graph.Position) graph.Position { return graph.Position{ID: v.ID} })
	mergesWhole(t, partCodec(), f.Parts, func(v graph.Part) graph.Part { return graph.Part{ID: v.ID} })
	mergesWhole(t, fitmentCodec(), f.Fitments, func(v graph.Fitment) graph.Fitment { return graph.Fitment{ID: v.ID} })
	mergesWhole(t, jointCodec(), f.Joints, func(v graph.Joint) graph.Joint { return graph.Joint{ID: v.ID} })
	mergesWhole(t, runCodec(), f.Runs, func(v graph.Run) graph.Run { return graph.Run{ID: v.ID} })
	mergesWhole(t, circuitCodec(), f.Circuits, func(v graph.Circuit) graph.Circuit { return graph.Circuit{ID: v.ID} })
	mergesWhole(t, stackCodec(), f.Stacks, func(v graph.Stack) graph.Stack { return graph.Stack{ID: v.ID} })
	mergesWhole(t, supersessionCodec(), f.Supersessions,
		func(v graph.Supersession) graph.Supersession { return graph.Supersession{ID: v.ID} })
	mergesWhole(t, findingCodec(), f.Findings, func(v graph.Finding) graph.Finding { return graph.Finding{ID: v.ID} })
	mergesWhole(t, bikeCodec(), f.Bikes, func(v graph.Bike) graph.Bike { return graph.Bike{ID: v.ID} })
	mergesWhole(t, jobCodec(), f.Jobs, func(v graph.Job) graph.Job { return graph.Job{ID: v.ID} })
}

func mergesWhole[K identity, T any](t *testing.T, c codec[K, T], list []T, bare func(T) T) {
	t.Helper()
	if len(list) == 0 {
		t.Errorf("the sample has no %s", c.name)
	}
	for _, v := range list {
		for _, merged := range []T{c.merge(v, v), c.merge(v, bare(v)), c.merge(bare(v), v)} {
			storetest.Same(t, merged, v)
		}
	}
}

// What is in a store is what Cayley itself finds in it, by its public interface
// and with nothing of ours between.
func TestCayleyReadsTheStore(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "db")
	ctx := context.Background()
	want, err := quadsOf(ctx, storetest.Large(30_000))
	if err != nil {
		t.Fatal(err)
	}
	err = writeLevelDB(dir, func(write func(quad.Quad) error) error {
		for _, q := range want {
			if err := write(q); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	db, err := leveldb.OpenFile(dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	qs, err := kv.New(flat.Upgrade(hidalgo.New(db)), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer qs.Close()
	var got []string
	it := qs.QuadsAllIterator().Iterate()
	defer it.Close()
	for it.Next(ctx) {
		q, err := qs.Quad(it.Result())
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, statement(q))
	}
	if it.Err() != nil {
		t.Fatal(it.Err())
	}
	lines := make([]string, len(want))
	for i, q := range want {
		lines[i] = statement(q)
	}
	slices.Sort(lines)
	slices.Sort(got)
	storetest.Same(t, got, lines)
}

// damaged builds a store of the sample, does something to its quads, and gives
// the error of opening it and of reading all of it.
func damaged(t *testing.T, change func(q quad.Quad) (quad.Quad, bool)) error {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "db")
	ctx := context.Background()
	quads, err := quadsOf(ctx, storetest.Sample())
	if err != nil {
		t.Fatal(err)
	}
	err = writeLevelDB(dir, func(write func(quad.Quad) error) error {
		for _, q := range quads {
			if q, keep := change(q); keep {
				if err := write(q); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := openLevelDB(dir)
	if err != nil {
		return err
	}
	defer s.Close()
	if _, err := s.PartIDs(ctx); err != nil {
		return err
	}
	_, err = s.Facts(ctx)
	return err
}

func TestStoresThatCannotBeRead(t *testing.T) {
	text := func(node quad.IRI, text string) func(quad.Quad) (quad.Quad, bool) {
		return func(q quad.Quad) (quad.Quad, bool) {
			if q.Subject == node && q.Predicate == termHolds {
				q.Object = quad.String(text)
			}
			return q, true
		}
	}
	gone := func(node quad.IRI) func(quad.Quad) (quad.Quad, bool) {
		return func(q quad.Quad) (quad.Quad, bool) { return q, q.Subject != node }
	}
	model := iri(storetest.Sample().Models[0].ID)
	tests := []struct {
		name   string
		change func(quad.Quad) (quad.Quad, bool)
		want   error
	}{
		{"whole", func(q quad.Quad) (quad.Quad, bool) { return q, true }, nil},
		{"without header, as in earlier versions", gone(headerNode), ErrOtherVersion},
		{"of a later format", text(headerNode, `[{"Format":99}]`), ErrOtherVersion},
		{"header cut off", text(headerNode, `[{"For`), ErrDamaged},
		{"record cut off", text(model, `[{"ID":`), ErrDamaged},
		{"record of another type", text(model, `[{"ID":7}]`), ErrDamaged},
		{"numbers gone", gone(numbersNode), ErrDamaged},
		{"page of numbers gone", gone(pageNode(numbersNode, 0)), ErrDamaged},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if err := damaged(t, tt.change); !errors.Is(err, tt.want) {
				t.Errorf("error %v, want %v", err, tt.want)
			}
		})
	}
}
