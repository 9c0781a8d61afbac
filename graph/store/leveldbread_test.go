package store

import (
	"testing"

	hierarchy "github.com/hidal-go/hidalgo/kv"
	"github.com/hidal-go/hidalgo/kv/flat"
	"github.com/hidal-go/hidalgo/kv/options"
	"github.com/syndtr/goleveldb/leveldb"
	"github.com/syndtr/goleveldb/leveldb/storage"
)

// What is asked of an index by both of its numbers is looked up, whatever bytes these
// have; what is asked by one of them, or of anything else, is gone through.
func TestScanOfWholeKeyIsLookUp(t *testing.T) {
	db, err := leveldb.Open(storage.NewMemStorage(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	index := indexes()[0]
	const slash, back = '/', '\\' // the bytes by which the parts of a key are told apart
	pairs := [][]uint64{{1, 2}, {1, 3}, {slash, back}, {slash << 56, back << 56}, {back, slash}, {back, back<<8 | slash}}
	for i, pair := range pairs {
		if err := db.Put(flat.KeyEscape(index.Key(pair)), []byte{byte(i)}, nil); err != nil {
			t.Fatal(err)
		}
	}
	scan := func(prefix hierarchy.Key) (values []byte) {
		it := reads{db}.Scan(t.Context(), options.WithPrefixKV(prefix).(flat.IteratorOption))
		for it.Next(t.Context()) {
			values = append(values, it.Val()...)
		}
		if err := it.Close(); err != nil {
			t.Error(err)
		}
		return values
	}
	for i, pair := range pairs {
		if got := scan(index.Key(pair)); len(got) != 1 || got[0] != byte(i) {
			t.Errorf("%v: %v, want %d alone", pair, got, i)
		}
		if !isIndexKey(flat.KeyEscape(index.Key(pair))) {
			t.Errorf("%v is not taken for a whole key", pair)
		}
	}
	if got := scan(index.Key([]uint64{1, 4})); len(got) != 0 {
		t.Errorf("what is not there: %v", got)
	}
	if got := scan(index.Key([]uint64{1})); len(got) != 2 {
		t.Errorf("all that begins with 1: %v, want two", got)
	}
	for _, key := range []hierarchy.Key{index.Key([]uint64{1}), index.Key(nil), {[]byte("log"), make([]byte, 16)},
		{index.Key(nil)[0], make([]byte, 15)}, {index.Key(nil)[0], make([]byte, 8), make([]byte, 7)}} {
		if isIndexKey(flat.KeyEscape(key)) {
			t.Errorf("%q is taken for a whole key", key)
		}
	}
}
