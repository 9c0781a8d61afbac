package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	"github.com/hidal-go/hidalgo/kv/flat"
	hidalgo "github.com/hidal-go/hidalgo/kv/flat/leveldb"
	"github.com/syndtr/goleveldb/leveldb"
	"github.com/syndtr/goleveldb/leveldb/opt"

	"matewell/graph"
	"matewell/graph/disk"
)

// ErrNotAmended says that a change can't be made to what is there: everything is
// to be built again.
var ErrNotAmended = errors.New("store: this change takes a build of everything")

// Change is what took the place of what. Records of one identity in both are
// replaced, those in New alone are added, those in Old alone are taken out.
type Change struct{ Old, New graph.Facts }

// Amend makes a new generation under root of the one in use under from, which may
// be the same: its tables are shared, not copied, and only what changed is written
// to them. change is told what is there, and in which folder, and says what changes.
// Each record of Old must be there word for word as Old has it, and none of New that
// is not in Old: else, or where pages would grow too much, the error is ErrNotAmended and nothing
// has changed. beside is as BuildFrom has it; the former generation's files are there.
func Amend(ctx context.Context, from, root string,
	change func(ctx context.Context, base *Store, dir string) (Change, error), beside func(dir string) error) error {
	return nextGeneration(ctx, root, func(number string) error {
		return amendFolder(ctx, from, root, number, change, beside)
	})
}

// amendFolder writes a generation under a name nobody reads, and gives it its final
// name once it is whole on disk.
func amendFolder(ctx context.Context, from, root, number string,
	change func(ctx context.Context, base *Store, dir string) (Change, error), beside func(dir string) error) error {
	name, err := current(from)
	if err != nil {
		return err
	}
	was := filepath.Join(from, name)
	base, err := openLevelDB(was) // as long as it is open, nobody removes it
	if err != nil {
		return err
	}
	defer base.Close()
	asked, err := change(ctx, base, was)
	if err != nil {
		return err
	}
	add, remove, err := amendment(ctx, base.layers[0], asked)
	if err != nil {
		return err
	}
	dir := filepath.Join(root, unfinished+number)
	if err := share(was, dir); err != nil {
		return fmt.Errorf("store: amend: %w", err)
	}
	if err := amendLevelDB(dir, add, remove); err != nil {
		return fmt.Errorf("store: amend: %w", err)
	}
	if beside != nil {
		if err := beside(dir); err != nil {
			return err
		}
	}
	if err = disk.SyncFolder(dir); err == nil {
		err = disk.Rename(dir, filepath.Join(root, generation+number))
	}
	if err != nil {
		return fmt.Errorf("store: amend: %w", err)
	}
	return nil
}

// share fills a new folder with what is in another. What is never written to
// again, tables and archives, is the same file under a second name.
func share(from, to string) error {
	if err := os.Mkdir(to, 0o755); err != nil {
		return err
	}
	entries, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		name := entry.Name()
		if slices.Contains(lockFiles, name) || !entry.Type().IsRegular() {
			continue
		}
		source, target := filepath.Join(from, name), filepath.Join(to, name)
		lasting := slices.Contains([]string{".ldb", ".sst", ".zip"}, filepath.Ext(name))
		if lasting && os.Link(source, target) == nil {
			continue
		}
		if err := copyFile(source, target); err != nil {
			return err
		}
	}
	return nil
}

func copyFile(from, to string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

// amendLevelDB changes quads in a folder that nobody reads yet.
func amendLevelDB(dir string, add, remove []quad.Quad) error {
	// Nothing is compacted: that would write again what is shared, for a few records.
	db, err := leveldb.OpenFile(dir, &opt.Options{ErrorIfMissing: true, WriteBuffer: 8 << 20,
		CompactionL0Trigger: 1 << 10, WriteL0SlowdownTrigger: 1 << 11, WriteL0PauseTrigger: 1 << 11,
		CompactionTableSize: 32 << 20, CompactionTotalSize: 1 << 30})
	if err != nil {
		return err
	}
	qs, err := kv.New(flat.Upgrade(hidalgo.New(db)), noBloom())
	if err != nil {
		return errors.Join(err, db.Close())
	}
	// In two steps: where one term is taken out more often than it is added, Cayley
	// looks it up for the removals only, and adds quads without it.
	for _, step := range []struct {
		quads  []quad.Quad
		action cayleygraph.Procedure
	}{{add, cayleygraph.Add}, {remove, cayleygraph.Delete}} {
		deltas := make([]cayleygraph.Delta, len(step.quads))
		for i, q := range step.quads {
			deltas[i] = cayleygraph.Delta{Quad: q, Action: step.action}
		}
		if err == nil && len(deltas) > 0 {
			err = qs.ApplyDeltas(deltas, cayleygraph.IgnoreOpts{}) // one that is missing, or there, is damage
		}
	}
	if err == nil {
		err = readsBack(newIndexed(qs), add)
	}
	return errors.Join(err, qs.Close())
}

// readsBack checks that what was written can be read as questions read it.
func readsBack(c *cayley, added []quad.Quad) error {
	ctx := context.Background()
	for _, q := range added {
		node, _ := q.Subject.(quad.IRI)
		predicate, _ := q.Predicate.(quad.IRI)
		found := false
		if text, holds := q.Object.(quad.String); holds {
			bundles, err := c.own(ctx, []quad.IRI{node})
			if err != nil {
				return err
			}
			found = len(bundles) == 1 && bundles[0].text == string(text)
		} else {
			object, _ := q.Object.(quad.IRI)
			nodes, err := c.from(ctx, predicate, []quad.IRI{object})
			if err != nil {
				return err
			}
			found = slices.Contains(nodes, node)
		}
		if !found {
			return fmt.Errorf("%w: what was written of %s does not read back", ErrNotAmended, node)
		}
	}
	return nil
}

// amending gathers the quads of a change.
type amending struct {
	level       level
	add, remove map[quad.Quad]bool
	holds       map[string]int
}

// amendment is a change as quads.
func amendment(ctx context.Context, l level, c Change) (add, remove []quad.Quad, err error) {
	a := amending{level: l, add: map[quad.Quad]bool{}, remove: map[quad.Quad]bool{}, holds: maps.Clone(l.header.Holds)}
	if a.holds == nil {
		a.holds = map[string]int{}
	}
	before, after := map[[2]string]bool{}, map[[2]string]bool{} // entries of the list of listings
	for _, k := range keepers() {
		homes, err := homesOf(k, c)
		if err != nil {
			return nil, nil, err
		}
		for _, home := range slices.Sorted(maps.Keys(homes)) {
			was, is, err := k.amend(ctx, &a, home, homes[home])
			if err != nil {
				return nil, nil, err
			}
			a.holds[k.sort()] += is - was
			if k.sort() == fitmentCodec().name && was != is {
				before[[2]string{string(home), strconv.Itoa(was)}] = was > 0
				after[[2]string{string(home), strconv.Itoa(is)}] = is > 0
			}
		}
	}
	if err := a.amendLists(ctx, c, before, after); err != nil {
		return nil, nil, err
	}
	was, err := headerQuad(l.header.Holds)
	if err != nil {
		return nil, nil, err
	}
	is, err := headerQuad(a.holds)
	a.remove[was], a.add[is] = true, true
	for q := range a.add {
		if a.remove[q] {
			delete(a.remove, q)
			delete(a.add, q)
		}
	}
	return slices.Collect(maps.Keys(a.add)), slices.Collect(maps.Keys(a.remove)), err
}

// changes are those at one home: records as encode writes them, by identity.
type changes struct{ old, new map[string]string }

// homesOf are the changes of a sort by their homes.
func homesOf(k keeper, c Change) (map[quad.IRI]changes, error) {
	homes := map[quad.IRI]changes{}
	at := func(e entry) changes {
		if _, ok := homes[e.home]; !ok {
			homes[e.home] = changes{map[string]string{}, map[string]string{}}
		}
		return homes[e.home]
	}
	err := k.gather(c.Old, func(e entry) error { at(e).old[e.id] = string(e.text); return nil })
	if err == nil {
		err = k.gather(c.New, func(e entry) error { at(e).new[e.id] = string(e.text); return nil })
	}
	for home, c := range homes {
		for id, text := range c.old {
			if c.new[id] == text {
				// It stays as it is; that it is there was for the caller to know.
				delete(c.old, id)
				delete(c.new, id)
			}
		}
		if len(c.old)+len(c.new) == 0 {
			delete(homes, home)
		}
	}
	return homes, err
}

// bundlesAt reads the bundles of a sort at a home, in their order.
func bundlesAt(ctx context.Context, l level, home quad.IRI, sort string, shared bool) ([]bundle, error) {
	if !shared {
		return l.own(ctx, []quad.IRI{home})
	}
	var all []bundle
	for n := 1; ; {
		nodes := make([]quad.IRI, 8*n)
		for i := range nodes {
			nodes[i] = bundleNode(home, sort, len(all)+1+i)
		}
		some, err := l.own(ctx, nodes)
		if err != nil {
			return nil, readError(err)
		}
		all = append(all, some...)
		if len(some) < len(nodes) {
			return all, nil
		}
		n *= 2
	}
}

// amendLists changes what the sorted lists say.
func (a *amending) amendLists(ctx context.Context, c Change, countsBefore, countsAfter map[[2]string]bool) error {
	old, err := entriesOf(c.Old)
	if err != nil {
		return err
	}
	now, err := entriesOf(c.New)
	if err != nil {
		return err
	}
	old[listingsSort], now[listingsSort] = countsBefore, countsAfter
	if err := a.placeWords(ctx, c, old[placeWordsSort], now[placeWordsSort]); err != nil {
		return err
	}
	sorts := map[byte]string{numbersSort: partCodec().name, partWordsSort: partCodec().name,
		placeWordsSort: positionCodec().name, variantsSort: variantCodec().name, listingsSort: fitmentCodec().name,
		kindPartsSort: partCodec().name, kindPlacesSort: positionCodec().name,
		endingsSort: partCodec().name}
	for sort, node := range listNodes() {
		var add, remove []listEntry[plainID]
		for e, is := range now[sort] {
			if is && !old[sort][e] {
				add = append(add, listEntry[plainID]{e[0], plainID(e[1])})
			}
		}
		for e, was := range old[sort] {
			brand := sort == endingsSort && e[0] == "" // other parts have it
			if was && !now[sort][e] && !brand {
				remove = append(remove, listEntry[plainID]{e[0], plainID(e[1])})
			}
		}
		if err := a.amendList(ctx, node, sorts[sort], add, remove); err != nil {
			return err
		}
	}
	return nil
}

// entriesOf are the entries of the lists that follow from a data set, by list.
func entriesOf(f graph.Facts) (map[byte]map[[2]string]bool, error) {
	entries := map[byte]map[[2]string]bool{}
	for sort := range listNodes() {
		entries[sort] = map[[2]string]bool{}
	}
	err := listEntries(f, func(sort byte, key, id string) error {
		entries[sort][[2]string{key, id}] = true
		return nil
	})
	has := func(n numberEntry) bool { return entries[numbersSort][[2]string{n.Key, string(n.ID)}] }
	for e := range entries[numbersSort] {
		_ = endsOf(e[0], graph.PartID(e[1]), has, func(end, rest string) error {
			entries[endingsSort][[2]string{end, rest}] = true
			return nil
		})
	}
	return entries, err
}

// placeWords keeps those words of models that other places of theirs have too.
func (a *amending) placeWords(ctx context.Context, c Change, old, now map[[2]string]bool) error {
	lost := map[graph.ModelID]bool{}
	for e := range old {
		if !now[e] {
			lost[graph.ModelID(e[1])] = true
		}
	}
	if len(lost) == 0 {
		return nil
	}
	changed := map[graph.PositionID]bool{}
	for _, p := range c.Old.Positions {
		changed[p.ID] = true
	}
	base := &Store{layers: []level{a.level}}
	all, err := base.PositionsOf(ctx, slices.Collect(maps.Keys(lost))...)
	for _, p := range all {
		if changed[p.ID] {
			continue
		}
		for _, word := range p.NameWords() {
			delete(old, [2]string{word, string(p.Model)})
		}
	}
	return err
}

// amendList changes the pages on which entries stand.
func (a *amending) amendList(ctx context.Context, node quad.IRI, sort string, add, remove []listEntry[plainID]) error {
	if len(add)+len(remove) == 0 {
		return nil
	}
	n, err := listAt[plainID](ctx, a.level, node, sort)
	if err != nil {
		return err
	}
	if len(n.first) == 0 {
		return ErrNotAmended
	}
	pages := map[int]map[listEntry[plainID]]bool{}
	texts := map[int]string{}
	load := func(page int) (map[listEntry[plainID]]bool, error) {
		if pages[page] != nil {
			return pages[page], nil
		}
		found, err := n.read(ctx, []int{page})
		if err != nil {
			return nil, err
		}
		entries, err := entriesWhere[plainID](found, nil)
		pages[page], texts[page] = setOf(entries), found[0].text
		return pages[page], err
	}
	for _, e := range remove {
		gone := false
		for _, page := range n.holding([]string{e.Key}) {
			entries, err := load(page)
			if err != nil {
				return err
			}
			gone = gone || entries[e]
			delete(entries, e)
		}
		if !gone {
			return ErrNotAmended
		}
	}
	for _, e := range add {
		if e.Key < n.first[0] {
			return ErrNotAmended // rare enough, and the directory would have to change
		}
		entries, err := load(n.from(e.Key))
		if err != nil {
			return err
		}
		entries[e] = true
	}
	for page, entries := range pages {
		text, err := pageText(slices.Collect(maps.Keys(entries)))
		if err != nil || len(entries) > 2*fullPage {
			return errors.Join(err, ErrNotAmended)
		}
		a.remove[quad.Quad{Subject: pageNode(node, page), Predicate: termHolds, Object: quad.String(texts[page])}] = true
		a.add[quad.Quad{Subject: pageNode(node, page), Predicate: termHolds, Object: quad.String(text)}] = true
	}
	return nil
}

// pageText writes the entries of a page.
func pageText(entries []listEntry[plainID]) (string, error) {
	slices.SortFunc(entries, listEntry[plainID].compare)
	var page strings.Builder
	var last listEntry[plainID]
	for _, e := range entries {
		if err := errors.Join(putPiece(&page, last.Key, e.Key), putPiece(&page, string(last.ID), string(e.ID))); err != nil {
			return "", err
		}
		last = e
	}
	return page.String(), nil
}

// heldLine is a record as it is written in a bundle.
type heldLine struct{ id, text string }

// amendLines are the lines of bundles once some are replaced, added or taken out;
// touched are the bundles that differ then. Bundles keep about their size, so that
// what did not change stays where it is.
func amendLines(bundles [][]heldLine, c changes) (after [][]heldLine, touched map[int]bool, err error) {
	touched = map[int]bool{}
	seen := 0
	for i, lines := range bundles {
		var kept []heldLine
		for _, line := range lines {
			old, was := c.old[line.id]
			text, is := c.new[line.id]
			if was && old != line.text || is && !was {
				return nil, nil, ErrNotAmended
			}
			if was {
				seen++
				touched[i] = true
			}
			if was && is {
				line.text = text
			}
			if !was || is {
				kept = append(kept, line)
			}
		}
		after = append(after, kept)
	}
	if seen != len(c.old) {
		return nil, nil, ErrNotAmended
	}
	for _, id := range slices.Sorted(maps.Keys(c.new)) {
		if _, was := c.old[id]; was {
			continue
		}
		if len(after) == 0 {
			after = append(after, nil)
		}
		at := len(after) - 1
		for at > 0 && (len(after[at]) == 0 || after[at][0].id > id) {
			at--
		}
		place, _ := slices.BinarySearchFunc(after[at], id, func(l heldLine, id string) int {
			return strings.Compare(l.id,
				id)
		})
		after[at] = slices.Insert(after[at], place, heldLine{id, c.new[id]})
		touched[at] = true
	}
	return balanced(after, touched), touched, nil
}

// balanced cuts the lines anew where a bundle became too large or too small.
func balanced(bundles [][]heldLine, touched map[int]bool) [][]heldLine {
	off := false
	for i, lines := range bundles {
		off = off || len(lines) > 2*fullBundle || len(bundles) > 1 && len(lines) < fullBundle/2 && i < len(bundles)-1 ||
			len(lines) == 0
	}
	if !off {
		return bundles
	}
	for i := range bundles {
		touched[i] = true
	}
	cut := slices.Collect(slices.Chunk(slices.Concat(bundles...), fullBundle))
	for i := range cut {
		touched[i] = true
	}
	return cut
}
