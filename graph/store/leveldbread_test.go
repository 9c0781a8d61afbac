package store

import (
	"context"
	"encoding/binary"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	"github.com/hidal-go/hidalgo/kv/flat"
	hidalgo "github.com/hidal-go/hidalgo/kv/flat/leveldb"
	"github.com/syndtr/goleveldb/leveldb"

	"matewell/graph/disk/disktest"
	"matewell/graph/store/storetest"
)

// levelDBOf is a store of its own folder, and that folder.
func levelDBOf(t *testing.T, quads []quad.Quad) (*levelDB, string) {
	t.Helper()
	dir := filepath.Join(disktest.Folder(t), "db")
	if err := writeLevelDB(context.Background(), dir, quads, nil); err != nil {
		t.Fatal(err)
	}
	return openedLevelDB(t, dir), dir
}

func openedLevelDB(t *testing.T, dir string) *levelDB {
	t.Helper()
	s, err := OpenLevelDB(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s.layers[0].(*levelDB)
}

func sortedQuads(quads []quad.Quad) []string {
	lines := make([]string, len(quads))
	for i, q := range quads {
		lines[i] = statement(q)
	}
	slices.Sort(lines)
	return lines
}

// What is read past Cayley is what Cayley itself reads: of every node, of every
// object by every predicate, with numbers that LevelDB's keys must escape in
// every byte that they reach.
func TestLevelDBReadsAsCayleyDoes(t *testing.T) {
	l, _ := levelDBOf(t, quadsOf(storetest.Large(30_000)))
	ctx := context.Background()
	roots := map[quad.IRI]bool{}
	into := map[quad.IRI][]quad.Value{}
	quads := 0
	err := l.each(ctx, func(q quad.Quad) error {
		quads++
		roots[rootOf(q)] = true
		into[q.Predicate.(quad.IRI)] = append(into[q.Predicate.(quad.IRI)], q.Object)
		return nil
	})
	if err != nil || quads < 0x2f00 {
		t.Fatalf("%d quads, %v; want more than %d", quads, err, 0x2f00)
	}
	for node := range roots {
		got, err := l.about(ctx, []quad.IRI{node})
		if err != nil {
			t.Fatal(err)
		}
		want, err := l.cayley.about(ctx, []quad.IRI{node})
		if err != nil || !slices.Equal(sortedQuads(got), sortedQuads(want)) {
			t.Fatalf("%s: read %d quads, Cayley %d, %v", node, len(got), len(want), err)
		}
	}
	for predicate, objects := range into {
		objects = objects[:min(len(objects), 5)]
		got, err := l.subjects(ctx, predicate, objects)
		if err != nil {
			t.Fatal(err)
		}
		want, err := l.cayley.subjects(ctx, predicate, objects)
		if err != nil || !slices.Equal(distinct(got), distinct(want)) {
			t.Fatalf("%s: read %v, Cayley %v, %v", predicate, got, want, err)
		}
	}
}

func distinct(values []quad.Value) []string {
	lines := make([]string, len(values))
	for i, v := range values {
		lines[i] = quad.StringOf(v)
	}
	slices.Sort(lines)
	return slices.Compact(lines)
}

// A folder that an earlier version wrote, with Cayley's own indexes and every
// variant named, is read as well.
func TestLevelDBOfAnEarlierVersion(t *testing.T) {
	dir := filepath.Join(disktest.Folder(t), "db")
	f := storetest.Sample()
	damage(t, dir, func(db *leveldb.DB) error {
		upgraded := flat.Upgrade(hidalgo.New(db))
		if err := kv.Init(upgraded, nil); err != nil {
			return err
		}
		qs, err := kv.New(upgraded, noBloom())
		if err != nil {
			return err
		}
		w, err := qs.NewQuadWriter()
		if err != nil {
			return err
		}
		if _, err := w.WriteQuads((&sheet{plain: true}).allOf(f)); err != nil {
			return err
		}
		return w.Close()
	})
	s, err := OpenLevelDB(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	got, err := s.Facts(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	storetest.Same(t, got, f)
}

func TestLevelDBKnowsNoStranger(t *testing.T) {
	l, _ := levelDBOf(t, quadsOf(storetest.Sample()))
	ctx := context.Background()
	if got, err := l.about(ctx, []quad.IRI{"https://matewell.example/id/part/none"}); err != nil || len(got) > 0 {
		t.Errorf("about a stranger: %v, %v; want nothing", got, err)
	}
	if got, err := l.subjects(ctx, termPart, []quad.Value{quad.String("none")}); err != nil || len(got) > 0 {
		t.Errorf("into a stranger: %v, %v; want nothing", got, err)
	}
	if got, err := l.subjects(ctx, "https://matewell.example/terms#none", []quad.Value{classPart}); err != nil || len(got) > 0 {
		t.Errorf("by a stranger: %v, %v; want nothing", got, err)
	}
}

// A folder that somebody damaged is an error that says where, never a record
// that lacks something.
func TestLevelDBTellsOfHoles(t *testing.T) {
	node := quad.IRI("https://matewell.example/id/model/m")
	quads := []quad.Quad{{Subject: node, Predicate: termName, Object: quad.String("Skerry")}}
	tests := []struct {
		name, want string
		damage     func(db *leveldb.DB, link, name number) error
	}{
		{"a quad gone", "the log has no number", func(db *leveldb.DB, link, _ number) error { return db.Delete(logKey(link), nil) }},
		{"a node gone", "the log has no number", func(db *leveldb.DB, _, name number) error { return db.Delete(logKey(name), nil) }},
		{"a node cut off", "can't be read", func(db *leveldb.DB, _, name number) error { return db.Put(logKey(name), []byte{0x42, 9}, nil) }},
		{"a node without a value", "can't be read", func(db *leveldb.DB, _, name number) error { return db.Put(logKey(name), nil, nil) }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, dir := levelDBOf(t, quads)
			list, err := l.log.get(indexKey(quadsOfSubject, mustNumber(t, l, node)))
			if err != nil {
				t.Fatal(err)
			}
			link, _ := binary.Uvarint(list)
			name := mustNumber(t, l, quad.String("Skerry"))
			if err := l.close(); err != nil {
				t.Fatal(err)
			}
			damage(t, dir, func(db *leveldb.DB) error { return tt.damage(db, link, name) })
			got, err := openedLevelDB(t, dir).about(context.Background(), []quad.IRI{node})
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("%v, error %v; want %q", got, err, tt.want)
			}
		})
	}
}

func mustNumber(t *testing.T, l *levelDB, v quad.Value) number {
	t.Helper()
	n, err := l.numberOf(v)
	if err != nil || n == 0 {
		t.Fatalf("number of %v: %d, %v", v, n, err)
	}
	return n
}

// damage does something to a folder that nothing has open.
func damage(t *testing.T, dir string, how func(*leveldb.DB) error) {
	t.Helper()
	db, err := leveldb.OpenFile(dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := how(db); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}
