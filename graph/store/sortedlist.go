package store

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/cayleygraph/quad"
)

// A sorted list leads from keys to identities: entries in the order of the keys,
// in pages that a directory leads to, so that a key, or all that begin alike,
// are a read of one page or a few.

// fullPage is how many entries a page holds: finding a page costs as much as
// passing over a thousand of them.
const fullPage = 1000

// listEntry is a key and what is found by it.
type listEntry[K identity] struct {
	Key string
	ID  K
}

func (e listEntry[K]) compare(o listEntry[K]) int {
	if c := strings.Compare(e.Key, o.Key); c != 0 {
		return c
	}
	return strings.Compare(string(e.ID), string(o.ID))
}

// A page is a text, since a literal has to be one. Of each entry it holds what
// its key adds to the key before it, then the same of the identity: how many
// bytes both begin with, how many follow, and those. Neighbours begin alike, so
// that an entry takes some ten bytes and a set's whole list is looked through in
// the time that a few records take.

// leastCount is what stands for a count of 0 in a page: counts are written as
// characters, none of them a control.
const leastCount = ' '

// mostCount is the largest count that is a character.
const mostCount = 0xD7FF - leastCount

// putPiece adds to a page what a text adds to the one before it.
func putPiece(page *strings.Builder, before, text string) error {
	shared := sharedStart(before, text)
	if len(text) > mostCount {
		return fmt.Errorf("store: a text of %d bytes is too long to be looked up: %.40q", len(text), text)
	}
	page.WriteRune(rune(leastCount + len(shared)))
	page.WriteRune(rune(leastCount + len(text) - len(shared)))
	page.WriteString(text[len(shared):])
	return nil
}

// takePiece changes a text into the one that stands next in a page, and gives the
// rest of the page.
func takePiece(page string, text []byte) (rest string, _ []byte, ok bool) {
	shared, size := utf8.DecodeRuneInString(page)
	page = page[size:]
	more, size := utf8.DecodeRuneInString(page)
	page = page[size:]
	shared, more = shared-leastCount, more-leastCount
	if shared < 0 || more < 0 || int(shared) > len(text) || int(more) > len(page) {
		return "", nil, false
	}
	return page[more:], append(text[:shared], page[:more]...), true
}

// eachEntry visits the entries of pages in order; the bytes are valid during the
// visit only.
func eachEntry(pages []bundle, visit func(key, id []byte)) error {
	var key, id []byte
	for _, b := range pages {
		key, id = key[:0], id[:0]
		for rest, ok := b.text, true; rest != ""; {
			if rest, key, ok = takePiece(rest, key); ok {
				rest, id, ok = takePiece(rest, id)
			}
			if !ok {
				return fmt.Errorf("%w: a page of a list can't be read (%s)", ErrDamaged, b.node)
			}
			visit(key, id)
		}
	}
	return nil
}

// entriesWhere reads the entries of pages whose key has something, sorted; all
// for a nil has.
func entriesWhere[K identity](pages []bundle, has func(key string) bool) ([]listEntry[K], error) {
	var list []listEntry[K]
	err := eachEntry(pages, func(key, id []byte) {
		if has == nil || has(string(key)) {
			list = append(list, listEntry[K]{string(key), K(id)})
		}
	})
	if !slices.IsSortedFunc(list, listEntry[K].compare) {
		slices.SortFunc(list, listEntry[K].compare)
	}
	return list, err
}

// listPages writes pages and directory of entries that come in sorted.
type listPages struct {
	node  quad.IRI // leads to the directory
	page  strings.Builder
	count int // of the entries on the page
	last  listEntry[plainID]
	first []string // key of the first entry of each page
	write func(quad.Quad) error
}

// plainID is an identity of any sort, while a list is written.
type plainID = featureKindID

// add puts an entry behind the others, unless it is the same as the last.
func (p *listPages) add(key, id string) error {
	e := listEntry[plainID]{key, plainID(id)}
	if p.count > 0 && p.last == e {
		return nil
	}
	if p.count == fullPage {
		if err := p.flush(); err != nil {
			return err
		}
	}
	if p.count == 0 {
		p.first, p.last = append(p.first, key), listEntry[plainID]{}
	}
	err := putPiece(&p.page, p.last.Key, key)
	if err == nil {
		err = putPiece(&p.page, string(p.last.ID), id)
	}
	p.last = e
	p.count++
	return err
}

func (p *listPages) flush() error {
	if p.count == 0 {
		return nil
	}
	q := quad.Quad{Subject: pageNode(p.node, len(p.first)-1), Predicate: termHolds, Object: quad.String(p.page.String())}
	p.page.Reset()
	p.count = 0
	return p.write(q)
}

func (p *listPages) close() error {
	if err := p.flush(); err != nil || len(p.first) == 0 {
		return err
	}
	text, err := packed(p.first)
	if err != nil {
		return err
	}
	return p.write(quad.Quad{Subject: p.node, Predicate: termHolds, Object: quad.String(text)})
}

func pageNode(list quad.IRI, i int) quad.IRI { return list + "#" + quad.IRI(strconv.Itoa(i)) }

// sortedList reads a list of one layer.
type sortedList[K identity] struct {
	level level
	node  quad.IRI
	first []string
}

// listAt reads the directory of a list of records of a sort: where there are
// any, it must be there.
func listAt[K identity](ctx context.Context, l level, node quad.IRI, kind string) (sortedList[K], error) {
	n := sortedList[K]{level: l, node: node}
	if !l.has(kind) {
		return n, ctx.Err()
	}
	found, err := l.own(ctx, []quad.IRI{node})
	if err != nil {
		return n, fmt.Errorf("store: look up: %w", readError(err))
	}
	if len(found) != 1 {
		return n, fmt.Errorf("%w: a list of its %ss is missing", ErrDamaged, kind)
	}
	n.first, err = unpack[string](found)
	return n, err
}

// pages reads those entries of some pages whose key is wanted, in order; all for
// a nil has.
func (n sortedList[K]) pages(ctx context.Context, pages []int, has func(key string) bool) ([]listEntry[K], error) {
	found, err := n.read(ctx, pages)
	if err != nil {
		return nil, err
	}
	return entriesWhere[K](found, has)
}

// texts gives the texts of the pages from one to before another.
func (n sortedList[K]) texts(ctx context.Context, from, to int) ([]bundle, error) {
	pages := make([]int, 0, to-from)
	for page := from; page < to; page++ {
		pages = append(pages, page)
	}
	return n.read(ctx, pages)
}

func (n sortedList[K]) read(ctx context.Context, pages []int) ([]bundle, error) {
	nodes := make([]quad.IRI, len(pages))
	for i, page := range pages {
		nodes[i] = pageNode(n.node, page)
	}
	found, err := n.level.own(ctx, nodes)
	if err != nil {
		return nil, fmt.Errorf("store: look up: %w", readError(err))
	}
	if len(found) != len(nodes) {
		return nil, fmt.Errorf("%w: a page of a list is missing", ErrDamaged)
	}
	return found, nil
}

// from is the page on which the first entry that is not before a key may
// stand.
func (n sortedList[K]) from(key string) int {
	return max(0, sort.SearchStrings(n.first, key)-1)
}

// beginning are the pages, from one to before another, on which entries may stand whose
// key begins so.
func (n sortedList[K]) beginning(start string) (from, to int) {
	from = n.from(start)
	to = from
	for to < len(n.first) && (n.first[to] <= start || strings.HasPrefix(n.first[to], start)) {
		to++
	}
	return from, to
}

// holding are the pages on which entries with one of the keys may stand.
func (n sortedList[K]) holding(keys []string) []int {
	var pages []int
	for _, key := range keys {
		for page := n.from(key); page < len(n.first) && n.first[page] <= key; page++ {
			pages = append(pages, page)
		}
	}
	slices.Sort(pages)
	return slices.Compact(pages)
}

// under gives what is found by one of the keys, in no order.
func (n sortedList[K]) under(ctx context.Context, keys []string) ([]K, error) {
	asked := setOf(keys)
	pages, err := n.read(ctx, n.holding(keys))
	if err != nil {
		return nil, err
	}
	var ids []K
	err = eachEntry(pages, func(key, id []byte) {
		if asked[string(key)] {
			ids = append(ids, K(id))
		}
	})
	return ids, err
}

// idsWhere gives what is found by the keys that has wants, of those that begin alike: the
// first most of them in the order of the list, all when most is 0.
func (n sortedList[K]) idsWhere(ctx context.Context, begin string, most int, has func(key []byte) bool) ([]K, error) {
	atOnce := pagesAtOnce
	if most > 0 {
		atOnce = 1
	}
	from, end := n.beginning(begin)
	var ids []K
	for page := from; page < end && (most == 0 || len(ids) < most); page += atOnce {
		texts, err := n.texts(ctx, page, min(page+atOnce, end))
		if err != nil {
			return nil, err
		}
		err = eachEntry(texts, func(key, id []byte) {
			if has(key) && (most == 0 || len(ids) < most) {
				ids = append(ids, K(id))
			}
		})
		if err != nil {
			return nil, err
		}
	}
	return ids, nil
}

// startingWith gives the first n entries, or all when n is 0, whose key begins
// with a prefix, in order.
func (n sortedList[K]) startingWith(ctx context.Context, prefix string, most int) ([]listEntry[K], error) {
	var found []listEntry[K]
	for page := n.from(prefix); page < len(n.first); page++ {
		if n.first[page] > prefix && !strings.HasPrefix(n.first[page], prefix) {
			break
		}
		entries, err := n.pages(ctx, []int{page}, func(key string) bool { return strings.HasPrefix(key, prefix) })
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			found = append(found, e)
			if most > 0 && len(found) == most {
				return found, nil
			}
		}
	}
	return found, nil
}

// entriesHolding gives the first entries whose key holds a piece, in order.
func (n sortedList[K]) entriesHolding(ctx context.Context, piece string, most int) ([]listEntry[K], error) {
	sought := []byte(piece)
	var found []listEntry[K]
	for from := 0; from < len(n.first) && len(found) < most; from += pagesAtOnce {
		pages, err := n.texts(ctx, from, min(from+pagesAtOnce, len(n.first)))
		if err != nil {
			return nil, err
		}
		err = eachEntry(pages, func(key, id []byte) {
			if bytes.Contains(key, sought) {
				found = append(found, listEntry[K]{string(key), K(id)})
			}
		})
		if err != nil {
			return nil, err
		}
	}
	return found[:min(most, len(found))], nil
}

// pagesAtOnce is how many pages are in memory when all are looked through.
const pagesAtOnce = 100

// nearEntry is an entry and in how many letters its key differs.
type nearEntry[K identity] struct {
	listEntry[K]
	distance int
}

// near gives the entries whose key differs from one in no more than limit
// letters. All keys of a page begin as its first key and that of the next page do,
// as far as these agree: pages of which no key can be near are not read.
func (n sortedList[K]) near(ctx context.Context, key string, limit int) ([]nearEntry[K], error) {
	var pages []int
	likeness := newLikeness(key, limit)
	for page, first := range n.first {
		start := "" // of the last page nobody knows how its keys go on
		if page+1 < len(n.first) {
			start = sharedStart(first, n.first[page+1])
		}
		if likeness.begins([]byte(start)) {
			pages = append(pages, page)
		}
	}
	return n.nearOn(ctx, pages, likeness)
}

// nearOn gives those entries of some pages whose key is like one.
func (n sortedList[K]) nearOn(ctx context.Context, pages []int, likeness *likeness) ([]nearEntry[K], error) {
	texts, err := n.read(ctx, pages)
	if err != nil {
		return nil, err
	}
	var found []nearEntry[K]
	err = eachEntry(texts, func(own, id []byte) {
		if distance := likeness.distance(own); distance <= likeness.limit && len(own) > 0 {
			found = append(found, nearEntry[K]{listEntry[K]{string(own), K(id)}, distance})
		}
	})
	return found, err
}
