package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"sync"
	"sync/atomic"

	"github.com/cayleygraph/quad"
	hierarchy "github.com/hidal-go/hidalgo/kv"
	"github.com/hidal-go/hidalgo/kv/flat"
	"github.com/syndtr/goleveldb/leveldb"
	"github.com/syndtr/goleveldb/leveldb/iterator"
)

// number is what Cayley calls a node or a quad by: its place in the log, from
// 1. 0 is none.
type number = uint64

// quadLog reads the log in which Cayley keeps nodes and quads by number. The
// numbers of one record lie next to each other because it was written in one
// go, so a page of them is read at a time and kept. It may be used from several
// goroutines at once.
type quadLog struct {
	db    *leveldb.DB
	pages [1 << shelfBits]atomic.Pointer[shelf]
	held  atomic.Int64 // how many pages are kept

	met sync.Map // quad.IRI -> number, of nodes whose value was read

	mu   sync.Mutex
	idle []iterator.Iterator
}

const (
	pageBits  = 5
	pageSize  = 1 << pageBits
	shelfBits = 12
	pageBytes = 2 << 10 // what the entries of most pages take together
	maxPages  = 8192    // about 260,000 entries, 30 MB
)

// shelf is a row of pages.
type shelf [1 << shelfBits]atomic.Pointer[logPage]

// logPage holds the entries of pageSize numbers, nil for those not seen, and the
// values of those nodes that were asked for.
type logPage struct {
	entries [pageSize][]byte
	values  [pageSize]atomic.Pointer[quad.Value]
}

// entry is what the log has at a number. Two in 256 numbers lie apart from
// their neighbours, because their keys are escaped: those are fetched one by one.
func (l *quadLog) entry(page *logPage, n number) ([]byte, error) {
	if entry := page.entries[n%pageSize]; entry != nil {
		return entry, nil
	}
	entry, err := l.get(logKey(n))
	if err == nil && entry == nil {
		err = fmt.Errorf("the log has no number %d", n)
	}
	return entry, err
}

// page gives a page of the log. Once there are too many they are dropped
// together. Two that ask at once for a page not there yet both read it: neither
// waits.
func (l *quadLog) page(n uint64) (*logPage, error) {
	if n>>(2*shelfBits) > 0 {
		return l.readPage(n)
	}
	row := l.pages[n>>shelfBits].Load()
	if row == nil {
		row = &shelf{}
		l.pages[n>>shelfBits].CompareAndSwap(nil, row) // whoever came first wins, the other's page is read again
	}
	at := &row[n%(1<<shelfBits)]
	if page := at.Load(); page != nil {
		return page, nil
	}
	page, err := l.readPage(n)
	if err != nil {
		return nil, err
	}
	if l.held.Add(1) > maxPages {
		l.held.Store(0)
		for i := range l.pages {
			l.pages[i].Store(nil)
		}
	}
	at.Store(page)
	return page, nil
}

func (l *quadLog) readPage(n uint64) (*logPage, error) {
	page := &logPage{}
	slab := make([]byte, 0, pageBytes)
	it := l.iterator()
	defer l.giveBack(it)
	on := it.Seek(logKey(n << pageBits))
	for range pageSize {
		if !on {
			break
		}
		number, ok := logNumber(it.Key())
		if !ok {
			break
		}
		if number>>pageBits == n {
			from := len(slab)
			slab = append(slab, it.Value()...)
			page.entries[number%pageSize] = slab[from:len(slab):len(slab)]
		}
		on = it.Next()
	}
	return page, it.Error()
}

// get gives a copy of what is stored under a key, nil when there is nothing.
func (l *quadLog) get(key []byte) ([]byte, error) {
	it := l.iterator()
	defer l.giveBack(it)
	if !it.Seek(key) || !bytes.Equal(it.Key(), key) {
		return nil, it.Error()
	}
	return bytes.Clone(it.Value()), nil
}

// scan visits the keys with a prefix.
func (l *quadLog) scan(prefix []byte, visit func(key []byte) error) error {
	it := l.iterator()
	defer l.giveBack(it)
	for on := it.Seek(prefix); on && bytes.HasPrefix(it.Key(), prefix); on = it.Next() {
		if err := visit(it.Key()); err != nil {
			return err
		}
	}
	return it.Error()
}

// iterator is one for its caller alone until it is given back. Making one costs
// as much as a search.
func (l *quadLog) iterator() iterator.Iterator {
	l.mu.Lock()
	defer l.mu.Unlock()
	if last := len(l.idle) - 1; last >= 0 {
		it := l.idle[last]
		l.idle = l.idle[:last]
		return it
	}
	return l.db.NewIterator(nil, nil)
}

func (l *quadLog) giveBack(it iterator.Iterator) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.idle = append(l.idle, it)
}

// close lets go of what is held of the database, which stays open.
func (l *quadLog) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, it := range l.idle {
		it.Release()
	}
	l.idle = nil
}

// logPrefix starts the keys of Cayley's log; a number of eight bytes, the
// highest first, follows.
const logPrefix = "log/"

func logKey(n number) []byte {
	return flat.KeyEscape(hierarchy.Key{[]byte("log"), binary.BigEndian.AppendUint64(nil, n)})
}

// logNumber is the number in a key of the log.
func logNumber(key []byte) (n number, ok bool) {
	rest, ok := bytes.CutPrefix(key, []byte(logPrefix))
	if !ok {
		return 0, false
	}
	digits := 0
	for i := 0; i < len(rest); i++ {
		if rest[i] == '\\' {
			i++
		}
		if i == len(rest) {
			return 0, false
		}
		n = n<<8 | uint64(rest[i])
		digits++
	}
	return n, digits == 8
}
