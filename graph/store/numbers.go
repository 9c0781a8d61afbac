package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// The numbers of all parts in sorted order: every key that a part is found by,
// with the part, in pages that a directory leads to. A number, a prefix, or
// what stands near it is a read of one page or a few.

// numbersNode leads to the directory; its pages are within it.
const numbersNode quad.IRI = identities + "numbers"

// fullPage is how many keys a page of numbers holds.
const fullPage = 200

// numberEntry is a key and a part that is found by it.
type numberEntry struct {
	Key  string
	Part graph.PartID
}

func (e numberEntry) compare(o numberEntry) int {
	if c := strings.Compare(e.Key, o.Key); c != 0 {
		return c
	}
	return strings.Compare(string(e.Part), string(o.Part))
}

// partKeys are the keys that a part is found by, each once: its number, its
// core, its aliases, and brand and number together.
func partKeys(v graph.Part) []string {
	texts := []string{string(v.ID), v.Number.Text, v.Number.Core}
	for _, a := range v.Aliases {
		texts = append(texts, a.Text)
	}
	var keys []string
	for _, text := range texts {
		if key := graph.NumberKey(text); key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	// A part without a letter or digit in its name still is a part.
	if len(keys) == 0 {
		keys = append(keys, "")
	}
	return keys
}

// numberPages writes pages and directory of entries that come in sorted.
type numberPages struct {
	page  []numberEntry
	first []string // key of the first entry of each page
	write func(quad.Quad) error
}

func (p *numberPages) add(e numberEntry) error {
	p.page = append(p.page, e)
	if len(p.page) < fullPage {
		return nil
	}
	return p.flush()
}

func (p *numberPages) flush() error {
	if len(p.page) == 0 {
		return nil
	}
	text, err := encode(p.page)
	if err != nil {
		return err
	}
	node := numbersPage(len(p.first))
	p.first = append(p.first, p.page[0].Key)
	p.page = p.page[:0]
	return p.write(quad.Quad{Subject: node, Predicate: termHolds, Object: quad.String(text)})
}

func (p *numberPages) close() error {
	if err := p.flush(); err != nil || len(p.first) == 0 {
		return err
	}
	text, err := encode(p.first)
	if err != nil {
		return err
	}
	return p.write(quad.Quad{Subject: numbersNode, Predicate: termHolds, Object: quad.String(text)})
}

func numbersPage(i int) quad.IRI { return numbersNode + "#" + quad.IRI(strconv.Itoa(i)) }

// numbers reads the numbers of one layer.
type numbers struct {
	level level
	first []string
}

func numbersOf(ctx context.Context, l level) (numbers, error) {
	n := numbers{level: l}
	if !l.has(partCodec().name) {
		return n, ctx.Err()
	}
	found, err := l.own(ctx, []quad.IRI{numbersNode})
	if err != nil {
		return n, fmt.Errorf("store: look up: %w", err)
	}
	if len(found) != 1 {
		return n, fmt.Errorf("%w: the list of its numbers is missing", ErrDamaged)
	}
	n.first, err = unpack[string](found)
	return n, err
}

// pages reads some pages, in order.
func (n numbers) pages(ctx context.Context, pages []int) ([]numberEntry, error) {
	nodes := make([]quad.IRI, len(pages))
	for i, page := range pages {
		nodes[i] = numbersPage(page)
	}
	found, err := n.level.own(ctx, nodes)
	if err != nil {
		return nil, fmt.Errorf("store: look up: %w", err)
	}
	if len(found) != len(nodes) {
		return nil, fmt.Errorf("%w: a page of its numbers is missing", ErrDamaged)
	}
	entries, err := unpack[numberEntry](found)
	slices.SortFunc(entries, numberEntry.compare)
	return entries, err
}

// from is the page on which the first entry that is not before a key may
// stand.
func (n numbers) from(key string) int {
	return max(0, sort.SearchStrings(n.first, key)-1)
}

// holding are the pages on which entries with one of the keys may stand.
func (n numbers) holding(keys []string) []int {
	var pages []int
	for _, key := range keys {
		for page := n.from(key); page < len(n.first) && n.first[page] <= key; page++ {
			pages = append(pages, page)
		}
	}
	slices.Sort(pages)
	return slices.Compact(pages)
}

// numbersWhere gives the parts of all layers' entries that pick takes, out of
// the pages that it names.
func (s *Store) numbersWhere(ctx context.Context, pages func(numbers) []int, wanted func(numberEntry) bool) ([]graph.PartID, error) {
	var ids []graph.PartID
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		which := pages(n)
		if len(n.first) == 0 || len(which) == 0 {
			continue
		}
		entries, err := n.pages(ctx, which)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if wanted(e) {
				ids = append(ids, e.Part)
			}
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}

func (s *Store) partsByKey(ctx context.Context, keys []string) ([]graph.PartID, error) {
	keys = slices.DeleteFunc(slices.Clone(keys), func(key string) bool { return key == "" })
	return s.numbersWhere(ctx, func(n numbers) []int { return n.holding(keys) },
		func(e numberEntry) bool { return slices.Contains(keys, e.Key) })
}

func (s *Store) partIDs(ctx context.Context) ([]graph.PartID, error) {
	return s.numbersWhere(ctx, func(n numbers) []int {
		all := make([]int, len(n.first))
		for i := range all {
			all[i] = i
		}
		return all
	}, func(numberEntry) bool { return true })
}

var errLayers = errors.New("store: a layered store is read only")
