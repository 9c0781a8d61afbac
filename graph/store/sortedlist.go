package store

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

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

// withKey wants the entries whose key has something; all for a nil has.
func withKey[K identity](has func(key string) bool) wanted[listEntry[K]] {
	if has == nil {
		return everyone[listEntry[K]]()
	}
	return wanted[listEntry[K]]{
		has: func(e listEntry[K]) bool { return has(e.Key) },
		may: func(line string) bool {
			key, ok := textField(line, "Key")
			return !ok || has(key)
		},
	}
}

// listPages writes pages and directory of entries that come in sorted.
type listPages struct {
	node  quad.IRI // leads to the directory
	page  []listEntry[plainID]
	first []string // key of the first entry of each page
	write func(quad.Quad) error
}

// plainID is an identity of any sort, while a list is written.
type plainID = featureKindID

// add puts an entry behind the others, unless it is the same as the last.
func (p *listPages) add(key, id string) error {
	e := listEntry[plainID]{key, plainID(id)}
	if n := len(p.page); n > 0 && p.page[n-1] == e {
		return nil
	}
	if len(p.page) == fullPage {
		if err := p.flush(); err != nil {
			return err
		}
	}
	p.page = append(p.page, e)
	return nil
}

func (p *listPages) flush() error {
	if len(p.page) == 0 {
		return nil
	}
	text, err := packed(p.page)
	if err != nil {
		return err
	}
	node := pageNode(p.node, len(p.first))
	p.first = append(p.first, p.page[0].Key)
	p.page = p.page[:0]
	return p.write(quad.Quad{Subject: node, Predicate: termHolds, Object: quad.String(text)})
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
func listAt[K identity](ctx context.Context, l level, node quad.IRI, sort string) (sortedList[K], error) {
	n := sortedList[K]{level: l, node: node}
	if !l.has(sort) {
		return n, ctx.Err()
	}
	found, err := l.own(ctx, []quad.IRI{node})
	if err != nil {
		return n, fmt.Errorf("store: look up: %w", readError(err))
	}
	if len(found) != 1 {
		return n, fmt.Errorf("%w: a list of its %ss is missing", ErrDamaged, sort)
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
	entries, err := pick(found, withKey[K](has))
	slices.SortFunc(entries, listEntry[K].compare)
	return entries, err
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

// entriesHolding gives the first entries whose key holds a piece, in order. Pages are
// looked through as text, and only what holds the piece is read.
func (n sortedList[K]) entriesHolding(ctx context.Context, piece string, most int) ([]listEntry[K], error) {
	holds := withKey[K](func(key string) bool { return strings.Contains(key, piece) })
	var found []listEntry[K]
	for from := 0; from < len(n.first) && len(found) < most; from += pagesAtOnce {
		bundles, err := n.texts(ctx, from, min(from+pagesAtOnce, len(n.first)))
		if err != nil {
			return nil, err
		}
		some, err := pick(bundles, holds)
		if err != nil {
			return nil, err
		}
		slices.SortFunc(some, listEntry[K].compare)
		found = append(found, some...)
	}
	return found[:min(most, len(found))], nil
}

// pagesAtOnce is how many pages are in memory when all are looked through.
const pagesAtOnce = 100

// near are the pages on which a key near to another may stand. All keys of a
// page begin as its first key and that of the next page do, as far as these
// agree: when that beginning is like no beginning of the key, nothing on the
// page is near.
func (n sortedList[K]) near(key string, limit int) []int {
	var pages []int
	for page, first := range n.first {
		start := "" // of the last page nobody knows how its keys go on
		if page+1 < len(n.first) {
			start = sharedStart(first, n.first[page+1])
		}
		if beginsNear(key, start, limit) {
			pages = append(pages, page)
		}
	}
	return pages
}
