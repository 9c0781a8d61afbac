package store

import (
	"bytes"
	"context"
	"errors"
	"slices"

	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	hierarchy "github.com/hidal-go/hidalgo/kv"
	"github.com/hidal-go/hidalgo/kv/flat"
	"github.com/syndtr/goleveldb/leveldb"
	"github.com/syndtr/goleveldb/leveldb/iterator"
	"github.com/syndtr/goleveldb/leveldb/util"
)

// unchanging is a LevelDB that is only read, by hidalgo's interface. Hidalgo's own
// LevelDB guards each look-up against writers by a snapshot, and for each scan makes an
// iterator over everything first; both took a quarter of a read. It is a transaction of
// itself, since nothing ever changes.
type unchanging struct{ db *leveldb.DB }

func (u unchanging) Close() error { return u.db.Close() }

func (u unchanging) Tx(_ context.Context, rw bool) (flat.Tx, error) {
	if rw {
		return nil, flat.ErrReadOnly
	}
	return reads(u), nil
}

func (u unchanging) View(_ context.Context, look func(flat.Tx) error) error { return look(reads(u)) }

func (u unchanging) Update(context.Context, func(flat.Tx) error) error { return flat.ErrReadOnly }

// reads is a transaction that reads; there is nothing to end.
type reads struct{ db *leveldb.DB }

func (r reads) Commit(context.Context) error { return nil }
func (r reads) Close() error                 { return nil }

func (r reads) Get(_ context.Context, key flat.Key) (flat.Value, error) {
	value, err := r.db.Get(key, nil)
	if errors.Is(err, leveldb.ErrNotFound) {
		return nil, flat.ErrNotFound
	}
	return value, err
}

func (r reads) GetBatch(ctx context.Context, keys []flat.Key) ([]flat.Value, error) {
	return flat.GetBatch(ctx, r, keys)
}

func (r reads) Put(context.Context, flat.Key, flat.Value) error { return flat.ErrReadOnly }
func (r reads) Del(context.Context, flat.Key) error             { return flat.ErrReadOnly }

func (r reads) Scan(_ context.Context, options ...flat.IteratorOption) flat.Iterator {
	return flat.ApplyIteratorOptions(&scan{db: r.db}, options)
}

// scan goes through the keys with a prefix; it begins when it is first asked.
type scan struct {
	db     *leveldb.DB
	prefix flat.Key
	at     iterator.Iterator // nil before it begins
}

// WithPrefix looks a whole key of an index up, since no other one begins with it.
func (s *scan) WithPrefix(prefix flat.Key) flat.Iterator {
	if isIndexKey(prefix) {
		return &lookUp{db: s.db, key: prefix}
	}
	return &scan{db: s.db, prefix: prefix}
}

func (s *scan) Reset() {
	if s.at != nil {
		s.at.Release()
		s.at = nil
	}
}

func (s *scan) Next(context.Context) bool {
	if s.at == nil {
		s.at = s.db.NewIterator(util.BytesPrefix(s.prefix), nil)
	}
	return s.at.Next()
}

func (s *scan) Key() flat.Key { return s.at.Key() }

func (s *scan) Val() hierarchy.Value { return s.at.Value() }

func (s *scan) Err() error {
	if s.at == nil {
		return nil
	}
	return s.at.Error()
}

func (s *scan) Close() error {
	err := s.Err()
	s.Reset()
	return err
}

// lookUp is a scan of which at most one key can come, as of nearly all that a question makes.
// It needs no iterator over all tables, which takes longer to make than the look-up.
type lookUp struct {
	db    *leveldb.DB
	key   flat.Key
	value hierarchy.Value
	done  bool
	err   error
}

// WithPrefix is never asked for: Cayley has one prefix for each scan.
func (l *lookUp) WithPrefix(prefix flat.Key) flat.Iterator {
	return (&scan{db: l.db}).WithPrefix(prefix)
}

func (l *lookUp) Reset() { *l = lookUp{db: l.db, key: l.key} }

func (l *lookUp) Next(context.Context) bool {
	if l.done {
		return false
	}
	l.done = true
	value, err := l.db.Get(l.key, nil)
	if err != nil {
		if !errors.Is(err, leveldb.ErrNotFound) {
			l.err = err
		}
		return false
	}
	l.value = value
	return true
}

func (l *lookUp) Key() flat.Key        { return l.key }
func (l *lookUp) Val() hierarchy.Value { return l.value }
func (l *lookUp) Err() error           { return l.err }
func (l *lookUp) Close() error         { return l.err }

// isIndexKey reports whether a key is one of our indexes that is whole, and not only how
// some begin: behind the name of its index both numbers are there, of eight bytes each.
func isIndexKey(key flat.Key) bool {
	name, numbers, ok := bytes.Cut(key, []byte{'/'})
	return ok && slices.ContainsFunc(indexes(), func(index kv.QuadIndex) bool {
		isOf := func(letter byte, d quad.Direction) bool { return letter == d.Prefix() }
		return slices.EqualFunc(name, index.Dirs, isOf) && lengthOf(numbers) == 8*len(index.Dirs)
	})
}

// lengthOf is how many bytes a part of a key has, before those that part keys were marked in
// it; 0 for what is more than one part.
func lengthOf(part flat.Key) (n int) {
	for i := 0; i < len(part); i++ {
		switch part[i] {
		case '/':
			return 0
		case '\\':
			i++
		}
		n++
	}
	return n
}
