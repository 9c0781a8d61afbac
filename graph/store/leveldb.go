package store

import (
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
	"github.com/syndtr/goleveldb/leveldb/filter"
	"github.com/syndtr/goleveldb/leveldb/opt"
	"github.com/syndtr/goleveldb/leveldb/util"
)

// noBloom keeps Cayley from filling a filter of every quad at start, which
// only helps a writer to find doubles. Ours writes none: see builder.
func noBloom() cayleygraph.Options { return cayleygraph.Options{kv.OptNoBloom: true} }

// openLevelDB opens a folder that Build has written, for reading only. Any
// number of processes may have it open at once.
func openLevelDB(dir string) (*Store, error) {
	db, err := leveldb.OpenFile(dir, &opt.Options{
		ReadOnly:       true,
		ErrorIfMissing: true,
		WriteBuffer:    1 << 10, // allocated at start, never written to
	})
	if err != nil {
		return nil, fmt.Errorf("store: open %s: %w", dir, readError(err))
	}
	qs, err := kv.New(flat.Upgrade(unchanging{db}), noBloom())
	if err != nil {
		return nil, errors.Join(fmt.Errorf("store: open %s: %w: %v", dir, ErrDamaged, err), db.Close())
	}
	return opened(context.Background(), newIndexed(qs), false)
}

// writeLevelDB fills a new folder with the quads that feed hands out. It leaves
// them compacted into as few files as possible: the folder is never written
// again.
func writeLevelDB(dir string, feed func(write func(quad.Quad) error) error) error {
	db, err := leveldb.OpenFile(dir, &opt.Options{
		ErrorIfExist: true,
		WriteBuffer:  32 << 20,
		// Of each table that a question looks into, all of what lies where is read first:
		// of one of 32 MB half a megabyte, of one of 4 MB an eighth of that.
		CompactionTableSize: 4 << 20,
		// Most of what a writer looks up isn't there yet.
		Filter: filter.NewBloomFilter(10),
	})
	if err != nil {
		return fmt.Errorf("store: create %s: %w", dir, err)
	}
	return errors.Join(fill(db, feed), db.Close())
}

func fill(db *leveldb.DB, feed func(write func(quad.Quad) error) error) error {
	upgraded := flat.Upgrade(hidalgo.New(db))
	if err := initIndexed(context.Background(), upgraded); err != nil {
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
	b := quadBatch{w: w}
	if err := feed(b.add); err != nil {
		return errors.Join(err, w.Close())
	}
	if err := errors.Join(b.flush(), w.Close()); err != nil {
		return fmt.Errorf("store: write: %w", err)
	}
	if err := db.CompactRange(util.Range{}); err != nil {
		return fmt.Errorf("store: compact: %w", err)
	}
	return nil
}

// quadBatch hands quads on, many at a time.
type quadBatch struct {
	w     quad.BatchWriter
	quads []quad.Quad
}

func (b *quadBatch) add(q quad.Quad) error {
	b.quads = append(b.quads, q)
	if len(b.quads) < batch {
		return nil
	}
	return b.flush()
}

func (b *quadBatch) flush() error {
	_, err := b.w.WriteQuads(b.quads)
	b.quads = b.quads[:0]
	return err
}

// indexes are those of a LevelDB store: what leads from a node by a predicate, and what
// to one. A bundle has many edges, and the one to what it holds is found without them.
func indexes() []kv.QuadIndex {
	return []kv.QuadIndex{
		{Dirs: []quad.Direction{quad.Subject, quad.Predicate}},
		{Dirs: []quad.Direction{quad.Object, quad.Predicate}},
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
	return hierarchy.Update(ctx, db, func(tx hierarchy.Tx) error {
		return tx.Put(ctx, hierarchy.Key{[]byte("meta"), []byte("indexes")}, list)
	})
}
