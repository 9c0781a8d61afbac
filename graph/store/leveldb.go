package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	hierarchy "github.com/hidal-go/hidalgo/kv"
	"github.com/hidal-go/hidalgo/kv/flat"
	hidalgo "github.com/hidal-go/hidalgo/kv/flat/leveldb"
	"github.com/syndtr/goleveldb/leveldb"
	"github.com/syndtr/goleveldb/leveldb/opt"
	"github.com/syndtr/goleveldb/leveldb/util"
)

// noBloom keeps Cayley from filling a filter of every quad at start, which
// only helps a writer to find doubles. Ours writes hardly any: see sheet.
func noBloom() cayleygraph.Options { return cayleygraph.Options{kv.OptNoBloom: true} }

// OpenLevelDB opens a folder that Build has written, for reading only. Any
// number of processes may have it open at once.
func OpenLevelDB(dir string) (*Store, error) {
	db, err := leveldb.OpenFile(dir, &opt.Options{
		ReadOnly:       true,
		ErrorIfMissing: true,
		WriteBuffer:    1 << 10, // allocated at start, never written to
	})
	if err != nil {
		return nil, fmt.Errorf("store: open %s: %w", dir, err)
	}
	qs, err := kv.New(flat.Upgrade(hidalgo.New(db)), noBloom())
	if err != nil {
		return nil, errors.Join(fmt.Errorf("store: open %s: %w", dir, err), db.Close())
	}
	l := &levelDB{cayley: cayley{qs: qs}, log: &quadLog{db: db}}
	ours, err := hasOurIndexes(l.log)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("store: open %s: %w", dir, err), l.close())
	}
	if !ours {
		l.log.close()
		return newStore(&l.cayley), nil
	}
	return newStore(l), nil
}

// writeLevelDB fills a new folder with quads. It leaves them compacted into as
// few files as possible: the folder is never written again.
func writeLevelDB(ctx context.Context, dir string, quads []quad.Quad, progress func(done, total int)) error {
	db, err := leveldb.OpenFile(dir, &opt.Options{
		ErrorIfExist:        true,
		WriteBuffer:         32 << 20,
		CompactionTableSize: 32 << 20,
	})
	if err != nil {
		return fmt.Errorf("store: create %s: %w", dir, err)
	}
	err = fill(ctx, db, quads, progress)
	return errors.Join(err, db.Close())
}

func fill(ctx context.Context, db *leveldb.DB, quads []quad.Quad, progress func(done, total int)) error {
	upgraded := flat.Upgrade(hidalgo.New(db))
	if err := initIndexed(ctx, upgraded); err != nil {
		return fmt.Errorf("store: create: %w", err)
	}
	qs, err := kv.New(upgraded, noBloom())
	if err != nil {
		return fmt.Errorf("store: create: %w", err)
	}
	w, err := qs.NewQuadWriter()
	if err != nil {
		return fmt.Errorf("store: write: %w", err)
	}
	if err := writeQuads(ctx, w, quads, progress); err != nil {
		return errors.Join(err, w.Close())
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("store: write: %w", err)
	}
	if err := db.CompactRange(util.Range{}); err != nil {
		return fmt.Errorf("store: compact: %w", err)
	}
	return nil
}

// indexes are those of a LevelDB store: all quads of a node in one entry, since
// records are read whole, where Cayley's own choice has one for each predicate;
// and what leads to a node, as Cayley has it.
func indexes() []kv.QuadIndex {
	return []kv.QuadIndex{
		{Dirs: []quad.Direction{quad.Subject}},
		{Dirs: []quad.Direction{quad.Object, quad.Predicate, quad.Subject}},
	}
}

// initIndexed makes an empty store with our indexes. Cayley reads which ones a
// store has from its metadata, but lets nobody choose them but for the process.
func initIndexed(ctx context.Context, db hierarchy.KV) error {
	if err := kv.Init(db, nil); err != nil {
		return err
	}
	list, err := json.Marshal(indexes())
	if err != nil {
		return err
	}
	return hierarchy.Update(ctx, db, func(tx hierarchy.Tx) error { return tx.Put(ctx, indexesKey(), list) })
}

// indexesKey is where Cayley keeps which indexes a store has.
func indexesKey() hierarchy.Key { return hierarchy.Key{[]byte("meta"), []byte("indexes")} }

// hasOurIndexes reports whether a store can be read from its log: one that an
// earlier version wrote has Cayley's own choice of indexes, and is read through
// Cayley until it is loaded again.
func hasOurIndexes(log *quadLog) (bool, error) {
	list, err := json.Marshal(indexes())
	if err != nil {
		return false, err
	}
	written, err := log.get(flat.KeyEscape(indexesKey()))
	return bytes.Equal(written, list), err
}

// fewest is how many quads are written at a time at least. Cayley numbers the
// nodes of what is written together first, then its quads, so that records
// written one by one lie close together in the log: see quadLog.
const fewest = 40

// writeQuads writes whole records, one or a few small ones at a time.
func writeQuads(ctx context.Context, w quad.BatchWriter, quads []quad.Quad, progress func(done, total int)) error {
	for start := 0; start < len(quads); {
		end := recordEnd(quads, start)
		if err := ctx.Err(); err != nil {
			return err
		}
		if _, err := w.WriteQuads(quads[start:end]); err != nil {
			return fmt.Errorf("store: write: %w", err)
		}
		start = end
		if progress != nil {
			progress(end, len(quads))
		}
	}
	return nil
}

// recordEnd is the first end of a record after fewest quads from start.
func recordEnd(quads []quad.Quad, start int) int {
	end := min(start+fewest, len(quads))
	for end < len(quads) && rootOf(quads[end]) == rootOf(quads[end-1]) {
		end++
	}
	return end
}

func rootOf(q quad.Quad) quad.IRI {
	node, _ := q.Subject.(quad.IRI)
	return root(node)
}
