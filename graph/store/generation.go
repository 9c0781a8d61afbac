package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/syndtr/goleveldb/leveldb/storage"

	"matewell/graph"
)

// ErrNoGeneration says that nothing was ever built under a folder.
var ErrNoGeneration = errors.New("store: nothing was loaded here yet")

// What lies under the root of a store on disk.
const (
	pointerFile    = "current"     // holds the name of the generation to read
	newPointerFile = "current.new" // the next one, until it is renamed
	lockFolder     = "writer"      // held by whoever builds
	generation     = "gen-"        // followed by a number: a finished generation
	unfinished     = "unfinished-" // followed by a number: one being built
	discarded      = "discarded-"  // followed by a number: one being removed
)

// Build writes the facts as a new generation beside the one in use and then
// switches the pointer to it in one rename. Readers never wait. A build that
// fails or is killed leaves the old generation in use; what it left behind is
// removed by the next one. Only one process builds at a time: others wait
// until it is done or ctx ends. progress may be nil.
func Build(ctx context.Context, root string, f graph.Facts, progress func(done, total int)) error {
	if err := os.MkdirAll(root, 0o755); err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	lock, err := lockWriter(ctx, root)
	if err != nil {
		return err
	}
	defer lock.Close()
	last, err := sweep(root, "")
	if err != nil {
		return err
	}
	number := strconv.Itoa(last + 1)
	if err := buildFolder(ctx, root, number, f, progress); err != nil {
		return errors.Join(err, os.RemoveAll(filepath.Join(root, unfinished+number)))
	}
	if err := point(root, generation+number); err != nil {
		return err
	}
	_, err = sweep(root, generation+number)
	return err
}

// OpenCurrent opens the generation in use for reading. The error is
// ErrNoGeneration when there is none.
func OpenCurrent(root string) (*Store, error) {
	for attempt := 0; ; attempt++ {
		name, err := current(root)
		if err != nil {
			return nil, err
		}
		s, err := OpenLevelDB(filepath.Join(root, name))
		if err == nil {
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

// lockWriter takes the one place of a builder. The lock is the operating
// system's, so that it ends with the process that holds it.
func lockWriter(ctx context.Context, root string) (storage.Storage, error) {
	for {
		lock, err := storage.OpenFile(filepath.Join(root, lockFolder), false)
		if err == nil {
			return lock, nil
		}
		// A lock that is held gives a bare error number; anything else, such
		// as a folder that can't be written to, says which path.
		if path := new(fs.PathError); errors.As(err, &path) {
			return nil, fmt.Errorf("store: build: %w", err)
		}
		select {
		case <-ctx.Done():
			return nil, fmt.Errorf("store: another build holds %s: %w", root, ctx.Err())
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// buildFolder writes a generation under a name nobody reads, and gives it its
// final name once it is whole on disk.
func buildFolder(ctx context.Context, root, number string, f graph.Facts, progress func(done, total int)) error {
	dir := filepath.Join(root, unfinished+number)
	if err := writeLevelDB(ctx, dir, quadsOf(f), progress); err != nil {
		return err
	}
	if err := syncFolder(dir); err != nil {
		return err
	}
	if err := os.Rename(dir, filepath.Join(root, generation+number)); err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	return syncDir(root)
}

// point makes a generation the one in use.
func point(root, name string) error {
	fresh := filepath.Join(root, newPointerFile)
	if err := os.WriteFile(fresh, []byte(name+"\n"), 0o644); err != nil {
		return fmt.Errorf("store: switch: %w", err)
	}
	if err := syncFile(fresh); err != nil {
		return err
	}
	if err := os.Rename(fresh, filepath.Join(root, pointerFile)); err != nil {
		return fmt.Errorf("store: switch: %w", err)
	}
	return syncDir(root)
}

// current is the name of the generation in use.
func current(root string) (string, error) {
	data, err := os.ReadFile(filepath.Join(root, pointerFile))
	if errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%w: %s", ErrNoGeneration, root)
	}
	if err != nil {
		return "", fmt.Errorf("store: open: %w", err)
	}
	name := strings.TrimSpace(string(data))
	if _, ok := numbered(name, generation); !ok {
		return "", fmt.Errorf("store: open: %s names no generation: %q", filepath.Join(root, pointerFile), name)
	}
	return name, nil
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
		_, left := numbered(name, unfinished)
		_, dropped := numbered(name, discarded)
		if left || dropped {
			errs = append(errs, os.RemoveAll(filepath.Join(root, name)))
		}
	}
	return last, errors.Join(errs...)
}

// retire removes a generation unless a reader has it open: readers hold a
// shared lock on it. The folder is renamed first, so that nobody finds half of
// it.
func retire(root, name string) error {
	dir := filepath.Join(root, name)
	lock, err := storage.OpenFile(dir, false)
	if err != nil {
		return nil // in use; the next build tries again
	}
	gone := filepath.Join(root, discarded+strings.TrimPrefix(name, generation))
	err = os.Rename(dir, gone)
	return errors.Join(err, lock.Close(), os.RemoveAll(gone))
}

// numbered splits the number off a name with a prefix.
func numbered(name, prefix string) (int, bool) {
	digits, ok := strings.CutPrefix(name, prefix)
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(digits)
	return n, err == nil && n > 0
}

// syncFolder makes sure that a folder and its files are on disk.
func syncFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	for _, entry := range entries {
		if err := syncFile(filepath.Join(dir, entry.Name())); err != nil {
			return err
		}
	}
	return syncDir(dir)
}

// syncDir makes sure that the names in a folder are on disk. Some file systems
// can't do that for a folder, and say so.
func syncDir(name string) error {
	if err := syncFile(name); err != nil && !errors.Is(err, syscall.EINVAL) {
		return err
	}
	return nil
}

func syncFile(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("store: build: %w", err)
	}
	return nil
}
