package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// keeper is a codec without its types.
type keeper interface {
	sort() string
	// gather hands out each record of a data set with its home and identity.
	gather(f graph.Facts, emit func(entry) error) error
	// pack writes the records of one home, which are sorted by identity.
	pack(home quad.IRI, entries []entry, write func(quad.Quad) error) (records int, err error)
	// add makes a data set hold what bundles hold, besides what it holds.
	add(f *graph.Facts, bundles []bundle) error
	// amend makes changes at a home; was and is are how many records are there before
	// and after.
	amend(ctx context.Context, a *amending, home quad.IRI, c changes) (was, is int, err error)
	// overlay puts what an upper data set says of things of a piece into the piece,
	// and takes it out of the upper one.
	overlay(piece, upper *graph.Facts)
}

// keepers are all sorts, in the order in which they lie in a store.
func keepers() []keeper {
	return []keeper{sourceCodec(), brandCodec(), kindCodec(), modelCodec(), variantCodec(), assemblyCodec(),
		positionCodec(),
		partCodec(), fitmentCodec(), fitmentInCodec(), jointCodec(), runCodec(), circuitCodec(), stackCodec(),
		supersessionCodec(), findingCodec(), bikeCodec(), jobCodec()}
}

// entry is a record on its way into a store.
type entry struct {
	sort byte // place among the keepers
	home quad.IRI
	id   string
	text []byte // as encode writes it
}

// line is the entry as a text; lines sort by sort, home, identity.
func (e entry) line() string {
	return string([]byte{'A' + e.sort}) + string(e.home) + "\x00" + e.id + "\x00" + string(e.text)
}

func parseEntry(line string) entry {
	home, rest, _ := strings.Cut(line[1:], "\x00")
	id, text, _ := strings.Cut(rest, "\x00")
	return entry{line[0] - 'A', quad.IRI(home), id, []byte(text)}
}

// builder turns data sets, handed in piece by piece in any order, into the
// quads of a store. Records of one identity become one.
type builder struct {
	lines sorter
	count int
}

// add takes in one piece.
func (b *builder) add(f graph.Facts) error {
	for i, k := range keepers() {
		err := k.gather(f, func(e entry) error {
			e.sort = byte(i)
			b.count++
			return b.lines.add(e.line())
		})
		if err != nil {
			return err
		}
	}
	return listEntries(f, func(sort byte, key, id string) error {
		b.count++
		return b.lines.add(entry{sort: sort, home: quad.IRI(key), id: id}.line())
	})
}

// listEntries hands out what stands in the lists for a data set.
func listEntries(f graph.Facts, emit func(sort byte, key, id string) error) error {
	for _, p := range f.Parts {
		for _, key := range keysOf(p) {
			if err := emit(numbersSort, key, string(p.ID)); err != nil {
				return err
			}
		}
	}
	for _, v := range f.Variants {
		if err := emit(variantsSort, string(v.Model), string(v.ID)); err != nil {
			return err
		}
	}
	err := kindsIn(f,
		func(kind string, id graph.PartID) error { return emit(kindPartsSort, kind, string(id)) },
		func(key string, id graph.PositionID) error { return emit(kindPlacesSort, key, string(id)) })
	if err != nil {
		return err
	}
	return wordsIn(f,
		func(w string, id graph.PartID) error { return emit(partWordsSort, w, string(id)) },
		func(w string, id graph.ModelID) error { return emit(placeWordsSort, w, string(id)) })
}

// What stands for the lists among the sorts of entries; they come behind all
// records.
const (
	numbersSort = 60 + iota
	partWordsSort
	placeWordsSort
	variantsSort
	kindPartsSort
	kindPlacesSort
	listingsSort // of no entry: counted when fitments are packed
	endingsSort  // of no entry: they follow from the numbers
)

// listNodes are the lists, by what stands for them.
func listNodes() map[byte]quad.IRI {
	return map[byte]quad.IRI{numbersSort: numbersNode, partWordsSort: partWordsNode, placeWordsSort: placeWordsNode,
		variantsSort: variantsNode, kindPartsSort: kindPartsNode, kindPlacesSort: kindPlacesNode,
		listingsSort: listingsNode, endingsSort: endingsNode}
}

// packer writes entries that come in sorted, home by home.
type packer struct {
	write func(quad.Quad) error
	kinds []keeper
	holds map[string]int
	lists map[byte]*listPages
	ends  endings
	group []entry // of one home
}

func newPacker(write func(quad.Quad) error) *packer {
	p := &packer{write: write, kinds: keepers(), holds: map[string]int{}, lists: map[byte]*listPages{}}
	for sort, node := range listNodes() {
		p.lists[sort] = &listPages{node: node, write: write}
	}
	return p
}

func (p *packer) add(e entry) error {
	if e.sort == numbersSort {
		p.ends = append(p.ends, numberEntry{string(e.home), graph.PartID(e.id)})
	}
	if list := p.lists[e.sort]; list != nil {
		return list.add(string(e.home), e.id)
	}
	if len(p.group) > 0 && (p.group[0].sort != e.sort || p.group[0].home != e.home) {
		if err := p.flush(); err != nil {
			return err
		}
	}
	p.group = append(p.group, e)
	return nil
}

// flush writes the home that is complete.
func (p *packer) flush() error {
	if len(p.group) == 0 {
		return nil
	}
	k, home := p.kinds[p.group[0].sort], p.group[0].home
	n, err := k.pack(home, p.group, p.write)
	p.holds[k.sort()] += n
	p.group = p.group[:0]
	if err == nil && k.sort() == fitmentCodec().name {
		err = p.lists[listingsSort].add(string(home), strconv.Itoa(n))
	}
	return err
}

// close writes what is left, then the header.
func (p *packer) close() error {
	if err := errors.Join(p.flush(), p.ends.write(p.lists[endingsSort])); err != nil {
		return err
	}
	for _, sort := range slices.Sorted(maps.Keys(p.lists)) {
		if err := p.lists[sort].close(); err != nil {
			return err
		}
	}
	q, err := headerQuad(p.holds)
	if err != nil {
		return err
	}
	return p.write(q)
}

// finish writes everything, sort by sort and home by home, then the header.
func (b *builder) finish(ctx context.Context, write func(quad.Quad) error, progress func(done, total int)) error {
	p := newPacker(write)
	done := 0
	err := b.lines.each(ctx, func(line string) error {
		if done++; progress != nil && (done%reportEvery == 0 || done == b.count) {
			progress(done, b.count)
		}
		return p.add(parseEntry(line))
	})
	if err != nil {
		return err
	}
	return p.close()
}

// reportEvery is after how many records progress is told.
const reportEvery = 1000

// quadsOf writes a data set as the quads of a store.
func quadsOf(ctx context.Context, f graph.Facts) ([]quad.Quad, error) {
	b := builder{}
	if err := b.add(f); err != nil {
		return nil, err
	}
	var quads []quad.Quad
	err := b.finish(ctx, func(q quad.Quad) error {
		quads = append(quads, q)
		return nil
	}, nil)
	return quads, err
}

// factsOf reads one layer.
func factsOf(ctx context.Context, l level) (graph.Facts, error) {
	var all []bundle
	err := l.held(ctx, func(b bundle) error {
		all = append(all, b)
		return nil
	})
	if err != nil {
		return graph.Facts{}, fmt.Errorf("store: read: %w", readError(err))
	}
	return factsIn(all)
}

// factsIn are the facts that bundles hold.
func factsIn(bundles []bundle) (graph.Facts, error) {
	byHome := map[string][]bundle{}
	for _, b := range bundles {
		byHome[sortOf(b.node)] = append(byHome[sortOf(b.node)], b)
	}
	var f graph.Facts
	for _, k := range keepers() {
		if k.sort() == fitmentInCodec().name {
			continue // they are the same fitments once more
		}
		if err := k.add(&f, byHome[k.sort()]); err != nil {
			return graph.Facts{}, err
		}
	}
	return f, nil
}

// sortOf is the sort of the records in a bundle, by its node.
func sortOf(node quad.IRI) string {
	_, rest, shared := strings.Cut(string(node), "#")
	if !shared {
		rest, _ = strings.CutPrefix(string(node), identities)
	}
	name, _, _ := strings.Cut(rest, "/")
	return name
}

// together are data sets put together, lowest first, as layers are.
func together(parts []graph.Facts) graph.Facts {
	var f graph.Facts
	join(&f, parts, sourceCodec())
	join(&f, parts, brandCodec())
	join(&f, parts, kindCodec())
	join(&f, parts, modelCodec())
	join(&f, parts, variantCodec())
	join(&f, parts, assemblyCodec())
	join(&f, parts, positionCodec())
	join(&f, parts, partCodec())
	join(&f, parts, fitmentCodec())
	join(&f, parts, jointCodec())
	join(&f, parts, runCodec())
	join(&f, parts, circuitCodec())
	join(&f, parts, stackCodec())
	join(&f, parts, supersessionCodec())
	join(&f, parts, findingCodec())
	join(&f, parts, bikeCodec())
	join(&f, parts, jobCodec())
	return f
}

func join[K identity, T any](into *graph.Facts, parts []graph.Facts, c codec[K, T]) {
	lists := make([][]T, len(parts))
	for i := range parts {
		lists[i] = slices.Clone(*c.list(&parts[i]))
	}
	*c.list(into) = union(c, lists)
}
