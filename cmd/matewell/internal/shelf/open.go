package shelf

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/data-demo"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// DemoName is what stands for the built-in data set after --data.
const DemoName = "demo"

// Where says which graph a question is put to.
type Where struct {
	Data     []string // folders, later ones over earlier ones
	Store    string   // folder or postgres:// address
	findings string   // the user's findings file, where it is not the usual one
}

// Opened is a graph to ask; call done at the end.
type Opened struct {
	*store.Store
	Mine *loader.FindingLines // the user's findings file, as far as it was read line by line; may be nil
	Left LeftOut              // of the user's findings
	From []OpenedStore        // the stores that it is read from
}

// over is the graph with findings laid over it.
func (o Opened) over(mine OwnFindings) Opened {
	return Opened{o.Over(mine.Store), mine.Lines, o.Left.And(mine.Left), slices.Concat(o.From, mine.From)}
}

// Done closes the graph once a command has come to err. One that answered, but not from
// all that the user knows, has failed; one that met damage knows which stores it may be in.
func (o Opened) Done(err *error) {
	_ = o.Close() // it was only read
	switch {
	case *err == nil && o.Left.Any():
		*err = desk.ErrSaid
	case *err != nil:
		*err = o.Damaged(*err)
	}
}

// Damaged is err with the stores that were opened, where one of them is damaged.
func (o Opened) Damaged(err error) error {
	if !errors.Is(err, store.ErrDamaged) {
		return err
	}
	return &DamagedError{err, o.From}
}

// DamagedError says that one of some stores is damaged.
type DamagedError struct {
	error
	Stores []OpenedStore
}

func (d *DamagedError) Unwrap() error { return d.error }

// Open gives the graph that the flags name, with the user's own findings over
// it.
func Open(ctx context.Context, e desk.Env, w Where) (Opened, error) {
	o, err := OpenBase(ctx, e, w)
	if err != nil {
		return o, err
	}
	o, err = withFindings(ctx, e, o, w.findings)
	return o, o.Damaged(err)
}

// OpenRoomy is open for a plan, which keeps much of what it reads and judges.
func OpenRoomy(ctx context.Context, e desk.Env, w Where) (Opened, error) {
	o, err := Open(ctx, e, w)
	if err == nil && e.Roomy != nil {
		e.Roomy() // not before: files may have to be read first, and thriftily
	}
	return o, err
}

// OpenBase gives the graph that the flags name: files, a store, what the user
// loaded, or else the built-in data with one line that says so.
func OpenBase(ctx context.Context, e desk.Env, w Where) (Opened, error) {
	o, err := openNamed(ctx, e, w)
	return o, o.Damaged(err)
}

func openNamed(ctx context.Context, e desk.Env, w Where) (Opened, error) {
	if err := CheckPlace(w.Store); err != nil {
		return Opened{}, err
	}
	switch {
	case IsShared(w.Store):
		again := OpenedStore{Load: "matewell load --store " + page.ShellWord(WithoutPassword(w.Store))}
		s, err := store.OpenSQL(ctx, w.Store)
		o := Opened{Store: s, From: []OpenedStore{again}}
		if err == nil {
			sayConnection(e, s)
			return withNotes(ctx, e, o, w.Store)
		}
		if errors.Is(err, store.ErrNoGeneration) {
			return o, nothingLoaded(WithoutPassword(w.Store), again)
		}
		return o, loadAgain(err, again)
	case w.Store != "":
		again := OpenedStore{w.Store, "matewell load --store " + page.ShellWord(w.Store)}
		o, err := openStore(again)
		if err == nil {
			return withStoreFindings(ctx, e, o, w.Store)
		}
		if errors.Is(err, store.ErrNoGeneration) {
			return o, nothingLoaded(w.Store, again)
		}
		return o, loadAgain(err, again)
	case len(w.Data) > 0:
		SayWhichDemo(e, w.Data)
		return openFiles(ctx, e, w.Data)
	}
	o, err := openLoaded(ctx, e)
	if !errors.Is(err, store.ErrNoGeneration) && !errors.Is(err, syscall.ENOTDIR) { // a home below a file has no store
		return o, err
	}
	fmt.Fprintln(e.Err, "matewell: answering from built-in, invented data; yours: matewell load DIR")
	return openFiles(ctx, e, []string{DemoName})
}

// sayConnection says how a server was reached, where nobody said how it is to be.
func sayConnection(e desk.Env, s *store.Store) {
	if words := s.Connection(); words != "" {
		fmt.Fprintln(e.Err, "matewell: "+words)
	}
}

func nothingLoaded(where string, load OpenedStore) error {
	return fmt.Errorf("nothing was loaded into %s; load something with: %s DIR", where, load.Load)
}

// openLoaded opens what "matewell load" put in its usual place.
func openLoaded(ctx context.Context, e desk.Env) (Opened, error) {
	root, err := StoreDir(e)
	if err != nil {
		return Opened{}, store.ErrNoGeneration // no home, so nothing was loaded there
	}
	again := OpenedStore{root, "matewell load"}
	o, err := openStore(again)
	if err == nil {
		return withStoreFindings(ctx, e, o, root)
	}
	return o, loadAgain(err, again)
}

// OpenedStore is a store that was opened, and what makes it again.
type OpenedStore struct {
	Root string // its folder; empty for one on a server
	// Load is the command that loads it, without what is loaded; empty for one in the
	// cache folder, which the next question makes again by itself.
	Load string
}

// openStore opens what was loaded into a folder.
func openStore(from OpenedStore) (Opened, error) {
	s, err := store.OpenCurrent(from.Root)
	return Opened{Store: s, From: []OpenedStore{from}}, err
}

// again is the command that loads the store again, with the folder that it was made
// of, where that is known and there.
func (s OpenedStore) again() string {
	if k, err := ReadMadeOf(s.Root); s.Root != "" && err == nil && k.Folder != "" {
		if _, err := os.Stat(filepath.FromSlash(k.Folder)); err == nil {
			return s.Load + " " + page.ShellWord(k.Folder)
		}
	}
	return s.Load + " DIR"
}

// loadAgain says what is to be done about a store that can't be read.
func loadAgain(err error, s OpenedStore) error {
	if errors.Is(err, store.ErrOtherVersion) {
		return fmt.Errorf("another version of matewell loaded this store; load it again: %s", s.again())
	}
	return err
}

// SayHowToMend says of stores one of which is damaged what makes them again, and has
// the next load, or the next question where they are only kept for it, read everything.
func SayHowToMend(e desk.Env, stores []OpenedStore) {
	kept, loaded := false, false
	for _, s := range stores {
		if s.Load == "" {
			kept = true
			_ = store.Discard(s.Root) // one that stays is found to be damaged again
			continue
		}
		loaded = true
		fmt.Fprintf(e.Err, "matewell: load it again, with: %s\n", s.again())
		forgetMadeOf(s.Root)
	}
	if kept && !loaded {
		fmt.Fprintln(e.Err, "matewell: it was only kept to be quicker and is thrown away: ask again")
	}
}

// StoreDir is where "matewell load" puts what it loads when not told otherwise.
func StoreDir(e desk.Env) (string, error) {
	dir, err := e.DataDir()
	return filepath.Join(dir, "store"), err
}

// Layers are the standard kinds of part, and over them the data folders named
// on a command line, with the names their files have in faults: relative to the
// working folder, with forward slashes.
func Layers(e desk.Env, names []string) ([]loader.Layer, error) {
	layers := make([]loader.Layer, 1, len(names)+1)
	layers[0] = loader.Standard()
	for _, name := range names {
		if name == DemoName {
			layers = append(layers, loader.Layer{Name: DemoName, FS: datademo.FS()})
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

// SayWhichDemo says, where the built-in set was named and a folder here is called like it,
// which of the two is meant.
func SayWhichDemo(e desk.Env, names []string) {
	if !slices.Contains(names, DemoName) {
		return
	}
	if _, err := fs.Stat(e.DirFS(DemoName), "."); err == nil {
		fmt.Fprintf(e.Err, "matewell: %s is the built-in set; the folder of that name here is ./%[1]s\n", DemoName)
	}
}

// openFiles answers from files. What was read is kept as a store in the cache
// folder, under a name made from its content, so that the next question need
// not read it again. Without such a folder it is held in memory.
func openFiles(ctx context.Context, e desk.Env, names []string) (Opened, error) {
	layers, err := Layers(e, names)
	if err != nil {
		return Opened{}, err
	}
	only := OnlySource(e, names, layers)
	cache, err := CachedStore(e, layers, only)
	if err != nil {
		return openInMemory(ctx, e, layers)
	}
	kept := OpenedStore{Root: cache}
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

func openInMemory(ctx context.Context, e desk.Env, layers []loader.Layer) (Opened, error) {
	facts, err := loadOrReport(ctx, e, layers)
	if err != nil {
		return Opened{}, err
	}
	return hold(ctx, e, facts)
}

// hold puts facts into memory.
func hold(ctx context.Context, e desk.Env, facts graph.Facts) (Opened, error) {
	s, err := store.Memory()
	if err != nil {
		return Opened{}, err
	}
	bar := desk.NewProgress(e, "reading the data")
	defer bar.Stop()
	if err := s.Put(ctx, facts, bar.Step); err != nil {
		return Opened{}, errors.Join(err, s.Close())
	}
	return Opened{Store: s}, nil
}
