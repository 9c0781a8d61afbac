package store

import (
	"context"
	"errors"

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

func (s *scan) WithPrefix(prefix flat.Key) flat.Iterator { return &scan{db: s.db, prefix: prefix} }

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
