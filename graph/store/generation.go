package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/cayleygraph/quad"
	"github.com/syndtr/goleveldb/leveldb/storage"

	"matewell/graph"
	"matewell/graph/disk"
)

// ErrNoGeneration says that nothing was ever built under a folder.
var ErrNoGeneration = errors.New("store: nothing was loaded here yet")

// What lies under the root of a store on disk.
const (
	pointerFile = "current"     // holds the name of the generation to read
	lockFile    = "writer.lock" // held by whoever builds
	generation  = "gen-"        // followed by a number: a finished generation
	unfinished  = "unfinished-" // followed by a number: one being built
)

// BuildFrom writes the facts that feed hands over, piece by piece and in any order,
// as a new generation beside the one in use and then switches the pointer to it in
// one rename. No more than a few pieces are in memory at a time, and what several of
// them say of one thing is put together. An error of feed ends the build. beside
// writes further files into the folder of the generation once all is there.
//
// Readers never wait. A build that fails or is killed leaves the old generation in
// use; what it left behind is removed by the next one. Only one process builds at a
// time: others wait until it is done or ctx ends. beside and progress may be nil.
func BuildFrom(ctx context.Context, root string, feed func(add func(graph.Facts) error) error,
	beside func(dir string) error, progress func(done, total int)) error {
	return nextGeneration(ctx, root, func(number string) error {
		return buildFolder(ctx, root, number, feed, beside, progress)
	})
}

// nextGeneration has a folder written under the number it is given, and puts it in
// use; with an error nothing has changed.
func nextGeneration(ctx context.Context, root string, write func(number string) error) (err error) {
	if err := os.MkdirAll(root, 0o755); err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	if err := checkOwn(root); err != nil {
		return err
	}
	unlock, err := lockWriter(ctx, root)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	last, err := sweep(root, "")
	if err != nil {
		return err
	}
	number := strconv.Itoa(last + 1)
	if err := write(number); err != nil {
		return errors.Join(err, disk.Remove(filepath.Join(root, unfinished+number)))
	}
	if err := point(root, generation+number); err != nil {
		return err
	}
	_, _ = sweep(root, generation+number) // what can't be removed yet takes room only, and the next build tries again
	return nil
}

// OpenCurrent opens the generation in use for reading. The error is
// ErrNoGeneration when there is none.
func OpenCurrent(root string) (*Store, error) {
	for attempt := 0; ; attempt++ {
		name, err := current(root)
		if err != nil {
			return nil, err
		}
		s, err := openLevelDB(filepath.Join(root, name))
		if err == nil {
			s.identity = identityOnDisk(root, name)
			return s, nil
		}
		// A builder may have switched the pointer and removed this generation
		// between the two steps.
		if now, _ := current(root); now == name && attempt > 0 || attempt == 10 {
			return nil, err
		}
		time.Sleep(time.Duration(attempt) * time.Millisecond)
	}
}

// CurrentFolder is the folder of the generation in use. Somebody may replace it at
// any time.
func CurrentFolder(root string) (string, error) {
	name, err := current(root)
	return filepath.Join(root, name), err
}

// Discard removes a store that Build has written, unless somebody reads it or
// builds in it: then it stays as it is.
func Discard(root string) error {
	ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	unlock, err := lockWriter(ctx, root)
	if err != nil {
		return err
	}
	_, err = sweep(root, "none")
	left, _ := filepath.Glob(filepath.Join(root, generation+"*"))
	if err = errors.Join(err, unlock()); err != nil || len(left) > 0 {
		return err
	}
	return disk.Remove(root)
}

// identityOnDisk names a generation by where it is and when it was made; empty
// when that can't be told.
func identityOnDisk(root, name string) string {
	whole, err := filepath.Abs(filepath.Join(root, name))
	if err != nil {
		return ""
	}
	info, err := os.Stat(whole)
	if err != nil {
		return ""
	}
	return whole + " " + info.ModTime().UTC().Format(time.RFC3339Nano)
}

// checkOwn refuses a folder that was never a store and holds what is called as generations
// are: it is somebody's, and a build removes what others left.
func checkOwn(root string) error {
	entries, err := os.ReadDir(root)
	if err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	strange := ""
	for _, entry := range entries {
		_, done := numbered(entry.Name(), generation)
		_, left := numbered(entry.Name(), unfinished)
		switch {
		case entry.Name() == lockFile || entry.Name() == pointerFile:
			return nil
		case done || left:
			strange = entry.Name()
		}
	}
	if strange != "" {
		return fmt.Errorf("store: %s holds %s, which no load has made: choose an empty folder, or one of its own", root,
			strange)
	}
	return nil
}

// lockWriter takes the one place of a builder.
func lockWriter(ctx context.Context, root string) (unlock func() error, err error) {
	unlock, err = disk.Lock(ctx, filepath.Join(root, lockFile))
	if err != nil && ctx.Err() != nil {
		return nil, fmt.Errorf("store: another build holds %s: %w", root, ctx.Err())
	}
	if err != nil {
		return nil, fmt.Errorf("store: build: %w", err)
	}
	return unlock, nil
}

// buildFolder writes a generation under a name nobody reads, and gives it its
// final name once it is whole on disk.
func buildFolder(ctx context.Context, root, number string, feed func(add func(graph.Facts) error) error,
	beside func(dir string) error, progress func(done, total int)) error {
	dir := filepath.Join(root, unfinished+number)
	if err := os.Mkdir(dir, 0o755); err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	b := builder{lines: sorter{dir: dir}}
	defer b.lines.close()
	if err := feed(b.add); err != nil {
		return err
	}
	err := writeLevelDB(dir, func(write func(quad.Quad) error) error { return b.finish(ctx, write, progress) })
	if err == nil && beside != nil {
		err = beside(dir)
	}
	if err != nil {
		return err
	}
	err = disk.SyncFolder(dir)
	if err == nil {
		err = disk.Rename(dir, filepath.Join(root, generation+number))
	}
	if err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	return nil
}

// point makes a generation the one in use.
func point(root, name string) error {
	disk.SweepLeft(filepath.Join(root, pointerFile)) // whoever holds the writer's lock is alone
	if err := disk.Replace(filepath.Join(root, pointerFile), []byte(name+"\n"), 0o644); err != nil {
		return fmt.Errorf("store: switch: %w", err)
	}
	return nil
}

// current is the name of the generation in use.
func current(root string) (string, error) {
	data, err := disk.Read(filepath.Join(root, pointerFile))
	if errors.Is(err, fs.ErrNotExist) && hasLostPointer(root) {
		return "", fmt.Errorf("store: open: something was loaded into %s, and %q, which says what to read, is gone: %w",
			root, pointerFile, ErrDamaged)
	}
	if errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%w: %s", ErrNoGeneration, root)
	}
	if err != nil {
		return "", fmt.Errorf("store: open: %w", err)
	}
	name := strings.TrimSpace(string(data))
	if _, ok := numbered(name, generation); !ok {
		return "", fmt.Errorf("store: open: %s names no generation: %q: %w", filepath.Join(root, pointerFile), name,
			ErrDamaged)
	}
	return name, nil
}

// hasLostPointer reports whether generations lie under a root of which none is named
// as the one to read, and nobody is just about to name the first.
func hasLostPointer(root string) bool {
	whole, err := filepath.Glob(filepath.Join(root, generation+"*"))
	if err != nil || len(whole) == 0 {
		return false
	}
	if _, err := os.Stat(filepath.Join(root, lockFile)); err != nil {
		return false // nobody ever built here
	}
	ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	unlock, err := lockWriter(ctx, root)
	if err != nil {
		return ctx.Err() == nil // a builder names it as soon as it can
	}
	_, err = os.Stat(filepath.Join(root, pointerFile))
	return errors.Is(errors.Join(err, unlock()), fs.ErrNotExist)
}

// sweep removes what builds that died left behind and, when told which
// generation is in use, the others unless a reader has them open. It is called
// by the holder of the writer's lock, so nobody else is building. It gives the
// highest number of a generation.
func sweep(root, inUse string) (last int, err error) {
	entries, err := os.ReadDir(root)
	if err != nil {
		return 0, fmt.Errorf("store: build: %w", err)
	}
	var errs []error
	for _, entry := range entries {
		name := entry.Name()
		if n, ok := numbered(name, generation); ok {
			last = max(last, n)
			if inUse != "" && name != inUse {
				errs = append(errs, retire(root, name))
			}
		}
		if _, left := numbered(name, unfinished); left {
			errs = append(errs, disk.Remove(filepath.Join(root, name)))
		}
	}
	return last, errors.Join(errs...)
}

// retire removes a generation unless a reader has it open: readers hold a
// shared lock on it. What is in the folder goes while that lock is held, all but
// the lock itself, so that a reader who comes late finds nothing to open, not
// half of it. The folder is not renamed first: on Windows none is that has an
// open file in it.
func retire(root, name string) error {
	dir := filepath.Join(root, name)
	lock, err := storage.OpenFile(dir, false)
	if err != nil {
		return nil // in use; the next build tries again
	}
	entries, err := os.ReadDir(dir)
	for _, entry := range entries {
		if !slices.Contains(lockFiles, entry.Name()) {
			err = errors.Join(err, disk.Remove(filepath.Join(dir, entry.Name())))
		}
	}
	if err = errors.Join(err, lock.Close()); err != nil {
		return err
	}
	return disk.Remove(dir)
}

// lockFiles are what is open in the folder of a generation while it is locked.
var lockFiles = []string{"LOCK", "LOG"}

// numbered splits the number off a name with a prefix.
func numbered(name, prefix string) (int, bool) {
	digits, ok := strings.CutPrefix(name, prefix)
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(digits)
	return n, err == nil && n > 0
}
