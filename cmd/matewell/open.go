package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/data-demo"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// demoName is what stands for the built-in data set after --data.
const demoName = "demo"

// where says which graph a question is put to.
type where struct {
	data     []string // folders, later ones over earlier ones
	store    string   // folder or postgres:// address
	findings string   // the user's findings file, where it is not the usual one
}

// addFlags gives a command the flags that choose the graph.
func (w *where) addFlags(cmd *cobra.Command) {
	cmd.Flags().StringArrayVarP(&w.data, "data", "d", nil,
		"answer from the files in this folder `DIR` (\"demo\" is the built-in set); may be given several times, later "+
			"ones add to and may contradict earlier ones")
	cmd.Flags().StringVar(&w.store, "store", "",
		"answer from what was loaded into this `PLACE`: a folder or a postgres:// address")
	notBoth(cmd, "data", "store")
	if err := cmd.MarkFlagDirname("data"); err != nil {
		panic(err) // the flag is made two lines above
	}
}

// opened is a graph to ask; call done at the end.
type opened struct {
	*store.Store
	mine *loader.FindingLines // the user's findings file, as far as it was read line by line; may be nil
	left leftOut              // of the user's findings
	from []openedStore        // the stores that it is read from
}

// over is the graph with findings laid over it.
func (o opened) over(mine ownFindings) opened {
	return opened{o.Over(mine.Store), mine.lines, o.left.and(mine.left), slices.Concat(o.from, mine.from)}
}

// done closes the graph once a command has come to err. One that answered, but not from
// all that the user knows, has failed; one that met damage knows which stores it may be in.
func (o opened) done(err *error) {
	_ = o.Close() // it was only read
	switch {
	case *err == nil && o.left.any():
		*err = desk.ErrSaid
	case *err != nil:
		*err = o.damaged(*err)
	}
}

// damaged is err with the stores that were opened, where one of them is damaged.
func (o opened) damaged(err error) error {
	if !errors.Is(err, store.ErrDamaged) {
		return err
	}
	return &damagedError{err, o.from}
}

// damagedError says that one of some stores is damaged.
type damagedError struct {
	error
	stores []openedStore
}

func (d *damagedError) Unwrap() error { return d.error }

// open gives the graph that the flags name, with the user's own findings over
// it.
func open(ctx context.Context, e desk.Env, w where) (opened, error) {
	o, err := openBase(ctx, e, w)
	if err != nil {
		return o, err
	}
	o, err = withFindings(ctx, e, o, w.findings)
	return o, o.damaged(err)
}

// openRoomy is open for a plan, which keeps much of what it reads and judges.
func openRoomy(ctx context.Context, e desk.Env, w where) (opened, error) {
	o, err := open(ctx, e, w)
	if err == nil && e.Roomy != nil {
		e.Roomy() // not before: files may have to be read first, and thriftily
	}
	return o, err
}

// openBase gives the graph that the flags name: files, a store, what the user
// loaded, or else the built-in data with one line that says so.
func openBase(ctx context.Context, e desk.Env, w where) (opened, error) {
	o, err := openNamed(ctx, e, w)
	return o, o.damaged(err)
}

func openNamed(ctx context.Context, e desk.Env, w where) (opened, error) {
	if err := checkPlace(w.store); err != nil {
		return opened{}, err
	}
	switch {
	case isShared(w.store):
		again := openedStore{load: "matewell load --store " + page.ShellWord(withoutPassword(w.store))}
		s, err := store.OpenSQL(ctx, w.store)
		o := opened{Store: s, from: []openedStore{again}}
		if err == nil {
			return withNotes(ctx, e, o, w.store)
		}
		return o, loadAgain(err, again)
	case w.store != "":
		again := openedStore{w.store, "matewell load --store " + page.ShellWord(w.store)}
		o, err := openStore(again)
		if err == nil {
			return withStoreFindings(ctx, e, o, w.store)
		}
		if errors.Is(err, store.ErrNoGeneration) {
			return o, fmt.Errorf("nothing was loaded into %s; load something with: matewell load --store %[1]s DIR", w.store)
		}
		return o, loadAgain(err, again)
	case len(w.data) > 0:
		sayWhichDemo(e, w.data)
		return openFiles(ctx, e, w.data)
	}
	o, err := openLoaded(ctx, e)
	if !errors.Is(err, store.ErrNoGeneration) && !errors.Is(err, syscall.ENOTDIR) { // a home below a file has no store
		return o, err
	}
	fmt.Fprintln(e.Err, "matewell: answering from built-in, invented data; yours: matewell load DIR")
	return openFiles(ctx, e, []string{demoName})
}

// openLoaded opens what "matewell load" put in its usual place.
func openLoaded(ctx context.Context, e desk.Env) (opened, error) {
	root, err := storeDir(e)
	if err != nil {
		return opened{}, store.ErrNoGeneration // no home, so nothing was loaded there
	}
	again := openedStore{root, "matewell load"}
	o, err := openStore(again)
	if err == nil {
		return withStoreFindings(ctx, e, o, root)
	}
	return o, loadAgain(err, again)
}

// openedStore is a store that was opened, and what makes it again.
type openedStore struct {
	root string // its folder; empty for one on a server
	// load is the command that loads it, without what is loaded; empty for one in the
	// cache folder, which the next question makes again by itself.
	load string
}

// openStore opens what was loaded into a folder.
func openStore(from openedStore) (opened, error) {
	s, err := store.OpenCurrent(from.root)
	return opened{Store: s, from: []openedStore{from}}, err
}

// again is the command that loads the store again, with the folder that it was made
// of, where that is known and there.
func (s openedStore) again() string {
	if k, err := readMadeOf(s.root); s.root != "" && err == nil && k.Folder != "" {
		if _, err := os.Stat(filepath.FromSlash(k.Folder)); err == nil {
			return s.load + " " + page.ShellWord(k.Folder)
		}
	}
	return s.load + " DIR"
}

// loadAgain says what is to be done about a store that can't be read.
func loadAgain(err error, s openedStore) error {
	if errors.Is(err, store.ErrOtherVersion) {
		return fmt.Errorf("another version of matewell loaded this store; load it again: %s", s.again())
	}
	return err
}

// sayHowToMend says of stores one of which is damaged what makes them again, and has
// the next load, or the next question where they are only kept for it, read everything.
func sayHowToMend(e desk.Env, stores []openedStore) {
	kept, loaded := false, false
	for _, s := range stores {
		if s.load == "" {
			kept = true
			_ = store.Discard(s.root) // one that stays is found to be damaged again
			continue
		}
		loaded = true
		fmt.Fprintf(e.Err, "matewell: load it again, with: %s\n", s.again())
		forgetMadeOf(s.root)
	}
	if kept && !loaded {
		fmt.Fprintln(e.Err, "matewell: it was only kept to be quicker and is thrown away: ask again")
	}
}

// storeDir is where "matewell load" puts what it loads when not told otherwise.
func storeDir(e desk.Env) (string, error) {
	dir, err := e.DataDir()
	return filepath.Join(dir, "store"), err
}

// layers are the standard kinds of part, and over them the data folders named
// on a command line, with the names their files have in faults: relative to the
// working folder, with forward slashes.
func layers(e desk.Env, names []string) ([]loader.Layer, error) {
	layers := make([]loader.Layer, 1, len(names)+1)
	layers[0] = loader.Standard()
	for _, name := range names {
		if name == demoName {
			layers = append(layers, loader.Layer{Name: demoName, FS: datademo.FS()})
			continue
		}
		files := e.DirFS(name)
		info, err := fs.Stat(files, ".")
		if err != nil {
			return nil, fmt.Errorf("read the folder %s: %w", name, desk.Reason(err))
		}
		if !info.IsDir() {
			return nil, fmt.Errorf("%s is not a folder", name)
		}
		layers = append(layers, loader.Layer{Name: filepath.ToSlash(filepath.Clean(name)), FS: files})
	}
	return layers, nil
}

// sayWhichDemo says, where the built-in set was named and a folder here is called like it,
// which of the two is meant.
func sayWhichDemo(e desk.Env, names []string) {
	if !slices.Contains(names, demoName) {
		return
	}
	if _, err := fs.Stat(e.DirFS(demoName), "."); err == nil {
		fmt.Fprintf(e.Err, "matewell: %s is the built-in set; the folder of that name here is ./%[1]s\n", demoName)
	}
}

// openFiles answers from files. What was read is kept as a store in the cache
// folder, under a name made from its content, so that the next question need
// not read it again. Without such a folder it is held in memory.
func openFiles(ctx context.Context, e desk.Env, names []string) (opened, error) {
	layers, err := layers(e, names)
	if err != nil {
		return opened{}, err
	}
	only := onlySource(e, names, layers)
	cache, err := cachedStore(e, layers, only)
	if err != nil {
		return openInMemory(ctx, e, layers)
	}
	kept := openedStore{root: cache}
	if o, err := openStore(kept); err == nil {
		return o, nil
	}
	if amendCached(ctx, only, cache) {
		if o, err := openStore(kept); err == nil {
			return o, nil
		}
	}
	o, err := keep(ctx, e, cache, layers, only)
	if err == nil || errors.Is(err, desk.ErrSaid) || ctx.Err() != nil {
		return o, err
	}
	return openInMemory(ctx, e, layers)
}

func openInMemory(ctx context.Context, e desk.Env, layers []loader.Layer) (opened, error) {
	facts, err := loadOrReport(ctx, e, layers)
	if err != nil {
		return opened{}, err
	}
	return hold(ctx, e, facts)
}

// hold puts facts into memory.
func hold(ctx context.Context, e desk.Env, facts graph.Facts) (opened, error) {
	s, err := store.Memory()
	if err != nil {
		return opened{}, err
	}
	bar := desk.NewProgress(e, "reading the data")
	defer bar.Stop()
	if err := s.Put(ctx, facts, bar.Step); err != nil {
		return opened{}, errors.Join(err, s.Close())
	}
	return opened{Store: s}, nil
}
