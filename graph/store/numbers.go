package store

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/agext/levenshtein"
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

// keysOf are the keys under which a part stands in the list: one at least, so
// that every part does.
func keysOf(p graph.Part) []string {
	if keys := p.Keys(); len(keys) > 0 {
		return keys
	}
	return []string{""}
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
	text, err := packed(p.page)
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
	text, err := packed(p.first)
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
		return n, fmt.Errorf("store: look up: %w", readError(err))
	}
	if len(found) != 1 {
		return n, fmt.Errorf("%w: the list of its numbers is missing", ErrDamaged)
	}
	n.first, err = unpack[string](found)
	return n, err
}

// pages reads some pages, in order.
func (n numbers) pages(ctx context.Context, pages []int) ([]numberEntry, error) {
	found, err := n.read(ctx, pages)
	if err != nil {
		return nil, err
	}
	entries, err := unpack[numberEntry](found)
	slices.SortFunc(entries, numberEntry.compare)
	return entries, err
}

// texts gives the texts of the pages from one to before another.
func (n numbers) texts(ctx context.Context, from, to int) ([]bundle, error) {
	pages := make([]int, 0, to-from)
	for page := from; page < to; page++ {
		pages = append(pages, page)
	}
	return n.read(ctx, pages)
}

func (n numbers) read(ctx context.Context, pages []int) ([]bundle, error) {
	nodes := make([]quad.IRI, len(pages))
	for i, page := range pages {
		nodes[i] = numbersPage(page)
	}
	found, err := n.level.own(ctx, nodes)
	if err != nil {
		return nil, fmt.Errorf("store: look up: %w", readError(err))
	}
	if len(found) != len(nodes) {
		return nil, fmt.Errorf("%w: a page of its numbers is missing", ErrDamaged)
	}
	return found, nil
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

// startingWith gives the first n entries, or all when n is 0, whose key begins
// with a prefix, in order.
func (n numbers) startingWith(ctx context.Context, prefix string, most int) ([]numberEntry, error) {
	var found []numberEntry
	for page := n.from(prefix); page < len(n.first); page++ {
		if n.first[page] > prefix && !strings.HasPrefix(n.first[page], prefix) {
			break
		}
		entries, err := n.pages(ctx, []int{page})
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if strings.HasPrefix(e.Key, prefix) {
				found = append(found, e)
			}
			if most > 0 && len(found) == most {
				return found, nil
			}
		}
	}
	return found, nil
}

func (s *Store) partNumbers(ctx context.Context, prefix string, most int) ([]graph.PartID, error) {
	return s.firstNumbers(ctx, most, func(n numbers) ([]numberEntry, error) { return n.startingWith(ctx, prefix, most) })
}

// firstNumbers are the parts of the first entries, or of all when most is 0, of
// those that look finds in each layer.
func (s *Store) firstNumbers(ctx context.Context, most int, look func(numbers) ([]numberEntry, error)) ([]graph.PartID, error) {
	var found []numberEntry
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		some, err := look(n)
		if err != nil {
			return nil, err
		}
		found = append(found, some...)
	}
	slices.SortFunc(found, numberEntry.compare)
	found = slices.Compact(found) // layers may say the same
	if most > 0 {
		found = found[:min(most, len(found))]
	}
	var ids []graph.PartID
	for _, e := range found {
		ids = append(ids, e.Part)
	}
	slices.Sort(ids)
	return slices.Compact(ids), ctx.Err()
}

// entriesHolding gives the first entries whose key holds a piece, in order. Pages are
// looked through as text, and only what holds the piece is read.
func (n numbers) entriesHolding(ctx context.Context, piece string, most int) ([]numberEntry, error) {
	set := wanted[numberEntry]{
		has: func(e numberEntry) bool { return strings.Contains(e.Key, piece) },
		may: func(line string) bool {
			key, ok := textField(line, "Key")
			return !ok || strings.Contains(key, piece)
		},
	}
	var found []numberEntry
	for from := 0; from < len(n.first) && len(found) < most; from += pagesAtOnce {
		bundles, err := n.texts(ctx, from, min(from+pagesAtOnce, len(n.first)))
		if err != nil {
			return nil, err
		}
		some, err := pick(bundles, set)
		if err != nil {
			return nil, err
		}
		slices.SortFunc(some, numberEntry.compare)
		found = append(found, some...)
	}
	return found[:min(most, len(found))], nil
}

// pagesAtOnce is how many pages are in memory when all are looked through.
const pagesAtOnce = 100

func (s *Store) partNumbersHolding(ctx context.Context, piece string, most int) ([]graph.PartID, error) {
	if piece == "" || most <= 0 {
		return nil, nil
	}
	return s.firstNumbers(ctx, most, func(n numbers) ([]numberEntry, error) { return n.entriesHolding(ctx, piece, most) })
}

// near are the pages on which a key near to another may stand. All keys of a
// page begin as its first key and that of the next page do, as far as these
// agree: when that beginning is like no beginning of the key, nothing on the
// page is near.
func (n numbers) near(key string, limit int) []int {
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

func sharedStart(a, b string) string {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	for n > 0 && !utf8.ValidString(a[:n]) {
		n--
	}
	return a[:n]
}

// beginsNear reports whether some beginning of a key differs from start in no
// more than limit letters.
func beginsNear(key, start string, limit int) bool {
	letters, size := []rune(key), utf8.RuneCountInString(start)
	for n := max(0, size-limit); n <= min(len(letters), size+limit); n++ {
		if levenshtein.Distance(string(letters[:n]), start, nil) <= limit {
			return true
		}
	}
	return false
}

// nearEntry is a part and how far its key is.
type nearEntry struct {
	part     graph.PartID
	distance int
}

func (s *Store) partNumbersNear(ctx context.Context, key string, most int) ([]graph.PartID, error) {
	limit := graph.NearLimit(key)
	var found []nearEntry
	for _, l := range s.layers {
		n, err := numbersOf(ctx, l)
		if err != nil {
			return nil, err
		}
		pages := n.near(key, limit)
		if key == "" || len(pages) == 0 {
			continue
		}
		entries, err := n.pages(ctx, pages)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if e.Key == "" || max(len(e.Key)-len(key), len(key)-len(e.Key)) > limit*utf8.UTFMax {
				continue
			}
			if d := levenshtein.Distance(key, e.Key, nil); d <= limit {
				found = append(found, nearEntry{e.Part, d})
			}
		}
	}
	slices.SortFunc(found, func(a, b nearEntry) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.part, b.part))
	})
	var ids []graph.PartID
	for _, e := range found {
		if len(ids) < most && !slices.Contains(ids, e.part) {
			ids = append(ids, e.part)
		}
	}
	return ids, ctx.Err()
}
