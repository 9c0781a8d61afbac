package shelf

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// fileSums are hashes of the data files of a folder, by path: of the same files
// that the loader would read.
type fileSums map[string]string

// sumFiles reads and hashes the data files of a folder; visit may be nil.
func sumFiles(files fs.FS, visit func(content []byte)) (fileSums, error) {
	sums := fileSums{}
	return sums, fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name != "." && strings.HasPrefix(entry.Name(), "."):
			if entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		case entry.IsDir() || !slices.Contains([]string{".yaml", ".yml", ".csv"}, strings.ToLower(path.Ext(name))):
			return nil
		}
		info, err := fs.Stat(files, name)
		if err != nil || !info.Mode().IsRegular() {
			return errors.Join(err, fmt.Errorf("%s is no plain file", name)) // the loader will say so
		}
		content, err := fs.ReadFile(files, name)
		if err == nil {
			sums[name] = hashOf(content)
			if visit != nil {
				visit(content)
			}
		}
		return err
	})
}

func hashOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

// madeOf is what lies beside a store of one folder of files: what it was made of, so
// that a few files that were edited since need not bring on all the others.
type madeOf struct {
	Program string // that made it, as env.Program
	Folder  string // as it is called in places
	Files   map[string]madeOfFile
	// Archives is how many files hold the contents, the newest last.
	Archives int
	// Likes is whether a model takes over from another: then a change of one may
	// change others.
	Likes    bool
	Warnings int // that the last load told
	Holds    []FactCount
}

// madeOfFile is one of the files of a folder.
type madeOfFile struct {
	Sum     string
	Archive int // that holds its content
}

const madeOfName = "made-of.json"

func archiveName(n int) string { return fmt.Sprintf("made-of-%d.zip", n) }

// mostArchives is after how many changes everything is read again, and
// mostEdited how many files, and how much of them in bytes, may change for it to be
// worth while not to.
const (
	mostArchives = 24
	mostEdited   = 8
	mostContent  = 8 << 20
)

// takesOver finds the words by which a model takes over from another.
var takesOver = Lazily(`(?m)(?:^|[\s{,])["']?(?:like|without|patterns?)["']?\s*:`)

// mayTakeOver looks for takesOver, most often by a look for the words alone.
func mayTakeOver(content []byte) bool {
	for _, word := range []string{"like", "without", "pattern"} {
		if bytes.Contains(content, []byte(word)) {
			return takesOver().Match(content)
		}
	}
	return false
}

// Source is one folder of files that a store is made of.
type Source struct {
	e     desk.Env
	layer loader.Layer
	sums  fileSums
	likes bool
}

// OnlySource is the folder of the layers, where there is but one of the user's; nil
// where there are others, or its files can't be read now.
func OnlySource(e desk.Env, names []string, all []loader.Layer) *Source {
	if len(names) != 1 || len(all) != 2 || names[0] == DemoName || e.Program == "" || strings.HasSuffix(names[0], ".nq") {
		return nil
	}
	s := Source{e: e, layer: all[1]}
	var err error
	s.sums, err = sumFiles(s.layer.FS, func(content []byte) { s.likes = s.likes || mayTakeOver(content) })
	if err != nil {
		return nil
	}
	return &s
}

// Beside writes what a store of the folder is made of into the folder of the store.
// Where a file has changed meanwhile nothing is written, and the next load will
// read everything.
func (s *Source) Beside(dir string, warnings int, holds []FactCount) error {
	k := madeOf{Program: s.e.Program, Folder: s.layer.Name, Files: map[string]madeOfFile{}, Archives: 1, Likes: s.likes,
		Warnings: warnings, Holds: holds}
	for name, sum := range s.sums {
		k.Files[name] = madeOfFile{sum, 1}
	}
	same, err := s.archive(filepath.Join(dir, archiveName(1)), slices.Sorted(maps.Keys(s.sums)))
	if err != nil || !same {
		return errors.Join(err, os.Remove(filepath.Join(dir, archiveName(1))))
	}
	return k.write(dir)
}

func (k madeOf) write(dir string) error {
	text, err := json.Marshal(k)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, madeOfName), text, 0o644)
}

// archive packs files; same is false when one is not what its hash says.
func (s *Source) archive(name string, files []string) (same bool, err error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o644)
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	out := zip.NewWriter(f)
	out.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(w, flate.BestSpeed)
	})
	for _, name := range files {
		content, err := fs.ReadFile(s.layer.FS, name)
		if err != nil || hashOf(content) != s.sums[name] {
			return false, err
		}
		w, err := out.Create(name)
		if err == nil {
			_, err = w.Write(content)
		}
		if err != nil {
			return false, err
		}
	}
	return true, out.Close()
}

// ReadMadeOf reads what the store under a root is made of.
func ReadMadeOf(root string) (madeOf, error) {
	var k madeOf
	dir, err := store.CurrentFolder(root)
	if err != nil {
		return k, err
	}
	text, err := os.ReadFile(filepath.Join(dir, madeOfName))
	if err != nil {
		return k, err
	}
	return k, json.Unmarshal(text, &k)
}

// forgetMadeOf has the next load read everything: what was opened is damaged, and
// would be so with a few changes too.
func forgetMadeOf(root string) {
	if dir, err := store.CurrentFolder(root); root != "" && err == nil {
		_ = os.Remove(filepath.Join(dir, madeOfName)) // one that stays does so with its store
	}
}

// edited are the files that are not as a store was made of, new and gone ones too;
// ok is false where it can't be amended.
func (s *Source) edited(k madeOf) (names []string, ok bool) {
	if k.Program != s.e.Program || k.Folder != s.layer.Name || k.Archives == 0 || k.Archives >= mostArchives {
		return nil, false
	}
	for name, sum := range s.sums {
		if k.Files[name].Sum != sum {
			names = append(names, name)
		}
	}
	for name := range k.Files {
		if s.sums[name] == "" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names, len(names) <= mostEdited
}

// Amend makes the store under root out of the one under from, when a few files were
// edited since and nothing else hangs on the difference. done is false when all is
// to be read.
func (s *Source) Amend(ctx context.Context, from, root string, k madeOf) (after madeOf, done bool) {
	names, ok := s.edited(k)
	if !ok {
		return k, false
	}
	if len(names) == 0 {
		return k, false // who loads the same again may have a reason
	}
	after = k
	after.Archives++
	after.Likes = k.Likes || s.likes
	after.Files = maps.Clone(k.Files)
	err := store.Amend(ctx, from, root, func(ctx context.Context, base *store.Store, dir string) (store.Change, error) {
		old, now, err := s.contents(dir, k, names)
		if err != nil {
			return store.Change{}, err
		}
		was, is, ok, err := loader.Replaced(ctx, base, s.layer.Name, old, now)
		if err != nil || !ok || after.Likes && (saysOfModels(was) || saysOfModels(is)) {
			return store.Change{}, errors.Join(err, store.ErrNotAmended)
		}
		after.Holds = recounted(k.Holds, was, is)
		return store.Change{Old: was, New: is}, nil
	}, func(dir string) error {
		var there []string
		for _, name := range names {
			delete(after.Files, name)
			if s.sums[name] != "" {
				after.Files[name] = madeOfFile{s.sums[name], after.Archives}
				there = append(there, name)
			}
		}
		same, err := s.archive(filepath.Join(dir, archiveName(after.Archives)), there)
		if err != nil || !same {
			return errors.Join(err, store.ErrNotAmended)
		}
		return after.write(dir)
	})
	return after, err == nil
}

// saysOfModels reports whether facts are of what a model takes over from another.
func saysOfModels(f graph.Facts) bool {
	return len(f.Models)+len(f.Variants)+len(f.Assemblies)+len(f.Positions)+len(f.Joints)+len(f.Runs)+len(f.Circuits)+
		len(f.Stacks) > 0
}

// recounted is how much there is after a change.
func recounted(holds []FactCount, was, is graph.Facts) []FactCount {
	counts := map[string]int{}
	for _, c := range holds {
		counts[c.What] += c.Count
	}
	for _, c := range CountFacts(was) {
		counts[c.What] -= c.Count
	}
	for _, c := range CountFacts(is) {
		counts[c.What] += c.Count
	}
	var after []FactCount
	for _, name := range factNames {
		if counts[name] > 0 {
			after = append(after, FactCount{name, counts[name]})
		}
	}
	return after
}

// contents are files as a store was made of and as they are now.
func (s *Source) contents(dir string, k madeOf, names []string) (old, now map[string][]byte, err error) {
	old, now = map[string][]byte{}, map[string][]byte{}
	size := 0
	for _, name := range names {
		if was, ok := k.Files[name]; ok {
			if old[name], err = unpacked(filepath.Join(dir, archiveName(was.Archive)), name); err != nil {
				return nil, nil, err
			}
		}
		if s.sums[name] != "" {
			if now[name], err = fs.ReadFile(s.layer.FS, name); err != nil {
				return nil, nil, err
			}
			if hashOf(now[name]) != s.sums[name] {
				return nil, nil, store.ErrNotAmended
			}
		}
		size += len(old[name]) + len(now[name])
	}
	if size > mostContent {
		return nil, nil, store.ErrNotAmended
	}
	return old, now, nil
}

// unpacked is the content of a file in an archive.
func unpacked(archive, name string) (content []byte, err error) {
	r, err := zip.OpenReader(archive)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	f, err := r.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}
