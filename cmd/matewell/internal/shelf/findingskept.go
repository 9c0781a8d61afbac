package shelf

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"

	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// FewFindings is how large a findings file may be, in bytes, or what was added to
// one since it was kept, so that reading it costs less than opening what was read
// before.
const FewFindings = 16 << 10

// FindingsFolder is where, in the cache folder, large findings files are kept.
const FindingsFolder = "findings"

// errNotKept says that a findings file has to be read into memory.
var errNotKept = errors.New("findings: not kept")

// keptFindings are what a large findings file says over one graph, as two stores in
// the cache folder: one of the file as it once was, and over it one of what was added
// since. What was added after that is read for every question, until it is more than
// a few: so a finding more costs what it is long, however many there are.
type keptFindings struct {
	findingsOver
	below *store.Store
	dir   string
}

// keptOf stands beside such a store.
type keptOf struct {
	Over  string              `json:"over"` // identity of the store below
	Marks loader.FindingMarks `json:"marks"`
	Sum   string              `json:"sum,omitempty"` // of the whole file, of one without marks
	Out   leftFindings        `json:"out"`
}

const keptOfName = "kept.json"

// keptFindingsStores is how many such stores are kept: two for each of a few files.
const keptFindingsStores = 8

// keptRead is what of a findings file was kept and still holds.
type keptRead struct {
	first, second *store.Store // second may be nil
	of            keptOf       // of all that both hold
	firstOf       keptOf       // of the first alone
	// lines are those that were added since; nil for a file without marks
	lines *loader.FindingLines
}

func (r keptRead) store() *store.Store {
	if r.second == nil {
		return r.first
	}
	return r.first.Over(r.second)
}

// read gives what the file says, from what is kept as far as that reaches.
func (k *keptFindings) read(ctx context.Context) (OwnFindings, error) {
	r, err := k.open()
	switch {
	case err != nil:
		r, err = k.makeFirst(ctx)
	case r.lines != nil && r.lines.Bytes() > FewFindings && k.grewLittle(r.firstOf.Marks):
		r, err = k.makeSecond(ctx, r)
	case r.lines != nil && r.lines.Bytes() > FewFindings:
		if err = r.store().Close(); err == nil {
			r, err = k.makeFirst(ctx)
		}
	}
	if err != nil {
		return OwnFindings{}, err
	}
	k.noteSeen(r)
	return k.whole(ctx, r)
}

// whole lays over what is kept what was added since.
func (k *keptFindings) whole(ctx context.Context, r keptRead) (mine OwnFindings, err error) {
	mine = OwnFindings{Store: r.store(), Lines: r.lines, From: []OpenedStore{{Root: k.dir + "-first"},
		{Root: k.dir + "-second"}}}
	mine.Left, err = r.of.Out.tell(k.e, k.path)
	if err != nil || r.lines == nil || r.lines.Items() == 0 {
		return mine, err
	}
	more, left, err := k.inMemory(ctx, func(add func(graph.Facts) error) ([]loader.Omitted, bool, error) {
		return loader.LoadFindingLines(ctx, k.below.Over(mine.Store), k.name(), r.lines, k.faults(), add)
	})
	if err != nil {
		return OwnFindings{}, errors.Join(err, mine.Close())
	}
	mine.Store, mine.Left = mine.Over(more), mine.Left.And(left)
	return mine, nil
}

// seenName is where that is kept: not in the folder of a generation, which is told from
// others by its age.
func (k *keptFindings) seenName() string { return filepath.Join(k.dir+"-first", "seen.json") }

// noteSeen keeps how the file looks. What can't be written is read again.
func (k *keptFindings) noteSeen(r keptRead) {
	if k.seen.At-k.seen.Modified < int64(Settled) {
		return
	}
	seen := keptSeen{fileSeen: k.seen, First: r.first.Identity(), Sum: r.lines == nil}
	if r.second != nil {
		seen.Second = r.second.Identity()
	}
	if r.lines != nil {
		seen.Added = r.lines.Added(r.of.Marks)
	}
	text, err := json.Marshal(seen)
	if err != nil {
		return
	}
	fresh, err := os.CreateTemp(k.dir+"-first", "seen")
	if err != nil {
		return
	}
	_, err = fresh.Write(text)
	if errClose := fresh.Close(); err != nil || errClose != nil || os.Rename(fresh.Name(), k.seenName()) != nil {
		_ = os.Remove(fresh.Name())
	}
}

// unchanged gives what the file says without reading it; ok is false where it may have
// changed since it was seen.
func (k *keptFindings) unchanged(ctx context.Context) (mine OwnFindings, ok bool, err error) {
	var seen keptSeen
	text, err := os.ReadFile(k.seenName())
	if err != nil || json.Unmarshal(text, &seen) != nil || !k.seen.still(seen.fileSeen) {
		return mine, false, nil
	}
	var r keptRead
	if r.first, r.of, err = openKept(k.dir+"-first", k.below.Identity()); err != nil {
		return mine, false, nil
	}
	if r.first.Identity() != seen.First {
		_ = r.first.Close() // it was only read
		return mine, false, nil
	}
	if seen.Second != "" {
		r.second, r.of, err = openKept(k.dir+"-second", r.first.Identity())
		if err == nil && r.second.Identity() != seen.Second {
			_ = r.second.Close()
			err = errNotKept
		}
		if err != nil {
			_ = r.first.Close()
			return mine, false, nil
		}
	}
	if !seen.Sum {
		r.lines = seen.Added.Lines(func() bool { return lookAt(k.e, k.path).still(seen.fileSeen) })
	}
	mine, err = k.whole(ctx, r)
	return mine, true, err
}

// grewLittle says whether what was added after marks were taken is little beside what
// they cover.
func (k *keptFindings) grewLittle(marks loader.FindingMarks) bool {
	grew := len(k.content)
	for _, m := range marks {
		grew -= m.Bytes
	}
	return grew < max(len(k.content)/8, 4*FewFindings)
}

// open opens what is kept; an error says that nothing is that still holds.
func (k *keptFindings) open() (r keptRead, err error) {
	if r.first, r.of, err = openKept(k.dir+"-first", k.below.Identity()); err != nil {
		return r, err
	}
	if r.firstOf = r.of; r.of.Sum != "" && r.of.Sum == k.sum() {
		return r, nil
	}
	var of keptOf
	if r.second, of, err = openKept(k.dir+"-second", r.first.Identity()); err == nil {
		if lines, ok := loader.FindingsSince(k.content, of.Marks); ok {
			r.of, r.lines = of, lines
			return r, nil
		}
		_ = r.second.Close()
	}
	r.second = nil
	var ok bool
	if r.lines, ok = loader.FindingsSince(k.content, r.of.Marks); !ok {
		return r, errors.Join(errNotKept, r.first.Close())
	}
	return r, nil
}

// makeFirst makes the store of what the file is now.
func (k *keptFindings) makeFirst(ctx context.Context) (r keptRead, err error) {
	lines, plain := loader.ScanFindings(k.content)
	r.of = keptOf{Over: k.below.Identity(), Marks: lines.Marks()}
	if !plain || len(r.of.Marks) == 0 {
		r.of.Marks, r.of.Sum = nil, k.sum()
	}
	r.first, err = k.build(ctx, k.dir+"-first", &r.of, func(add func(graph.Facts) error) ([]loader.Omitted, bool, error) {
		return loader.LoadFindings(ctx, k.below, k.name(), k.content, k.faults(), add)
	})
	if err == nil && r.of.Sum == "" {
		r.lines, _ = loader.FindingsSince(k.content, r.of.Marks)
	}
	return r, err
}

// makeSecond makes the store of what was added since the first was made, in the
// place of the one that r has.
func (k *keptFindings) makeSecond(ctx context.Context, r keptRead) (_ keptRead, err error) {
	if r.second != nil {
		_ = r.second.Close() // it was only read
		r.second = nil
	}
	lines, ok := loader.FindingsSince(k.content, r.firstOf.Marks)
	whole, plain := loader.ScanFindings(k.content)
	if !ok || !plain {
		return r, errors.Join(errNotKept, r.first.Close())
	}
	r.of = keptOf{Over: r.first.Identity(), Marks: whole.Marks(), Out: r.firstOf.Out}
	r.second, err = k.build(ctx, k.dir+"-second", &r.of,
		func(add func(graph.Facts) error) ([]loader.Omitted, bool, error) {
			return loader.LoadFindingLines(ctx, k.below.Over(r.first), k.name(), lines, k.faults(), add)
		})
	if err == nil {
		r.lines, _ = loader.FindingsSince(k.content, r.of.Marks)
	}
	return r, err
}

func (k *keptFindings) sum() string {
	sum := sha256.Sum256(k.content)
	return hex.EncodeToString(sum[:])
}

// build makes one of the two stores, and notes beside it what it is of.
func (k *keptFindings) build(ctx context.Context, root string, of *keptOf, load loading) (*store.Store, error) {
	BeThrifty(k.e, 0) // a large file is read as a whole
	var failed error
	feed := func(add func(graph.Facts) error) error {
		out, err := k.checked(load(add))
		failed = err
		if err != nil || len(out) == 0 {
			return err
		}
		more, err := k.left(out)
		failed = err
		of.Out = of.Out.and(more)
		return err
	}
	beside := func(dir string) error {
		text, err := json.Marshal(of)
		return errors.Join(err, os.WriteFile(filepath.Join(dir, keptOfName), text, 0o644))
	}
	if err := store.BuildFrom(ctx, root, feed, beside, nil); err != nil {
		if failed != nil {
			return nil, failed // of the file; it would be no better in memory
		}
		return nil, errors.Join(errNotKept, err)
	}
	forgetOld(filepath.Dir(root), filepath.Base(root), keptFindingsStores)
	return store.OpenCurrent(root)
}

// openKept opens a store with what stands beside it, when it lies over the very store
// that is below now.
func openKept(root, over string) (*store.Store, keptOf, error) {
	var of keptOf
	s, err := store.OpenCurrent(root)
	if err != nil {
		return nil, of, err
	}
	dir, err := store.CurrentFolder(root)
	if err == nil {
		var text []byte
		if text, err = os.ReadFile(filepath.Join(dir, keptOfName)); err == nil {
			err = json.Unmarshal(text, &of)
		}
	}
	if err == nil && of.Over != over {
		err = errNotKept
	}
	if err != nil {
		return nil, of, errors.Join(err, s.Close())
	}
	return s, of, nil
}
