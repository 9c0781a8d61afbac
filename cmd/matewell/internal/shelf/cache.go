package shelf

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"matewell/cmd/matewell/internal/desk"
	"matewell/data-demo"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// CachedStore is the folder that holds, or will hold, the store made from the
// layers: its name is a hash of all that decides what is in it.
func CachedStore(e desk.Env, layers []loader.Layer, only *Source) (string, error) {
	dir, err := e.CacheDir()
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	fmt.Fprintln(sum, e.Program)
	for _, layer := range layers {
		fmt.Fprintf(sum, "layer %q\n", layer.Name)
		if shipped := layer.FS == datademo.FS() || layer.FS == loader.Standard().FS; shipped && e.Program != "" {
			continue // part of the program, which is in the hash already
		}
		var sums fileSums
		if only != nil && layer.Name == only.layer.Name {
			sums = only.sums
		} else if sums, err = sumFiles(layer.FS, nil); err != nil {
			return "", err
		}
		for _, name := range slices.Sorted(maps.Keys(sums)) {
			fmt.Fprintf(sum, "file %q %s\n", name, sums[name])
		}
	}
	return filepath.Join(dir, hex.EncodeToString(sum.Sum(nil))[:24]), nil
}

// amendCached makes the store in the cache folder out of one of the others there,
// when only a few files were edited since.
func amendCached(ctx context.Context, only *Source, cache string) bool {
	entries, err := os.ReadDir(filepath.Dir(cache))
	if err != nil || only == nil {
		return false
	}
	for _, entry := range entries {
		from := filepath.Join(filepath.Dir(cache), entry.Name())
		if k, err := ReadMadeOf(from); err == nil {
			if _, done := only.Amend(ctx, from, cache, k); done {
				forgetOld(filepath.Dir(cache), filepath.Base(cache), keptStores)
				return true
			}
		}
	}
	return false
}

// keep builds a store of files in the cache folder and opens it.
func keep(ctx context.Context, e desk.Env, cache string, layers []loader.Layer, only *Source) (Opened, error) {
	bar := desk.NewProgress(e, "reading the data")
	defer bar.Stop()
	var holds FactCounter
	feed := func(add func(graph.Facts) error) error { return streamOrReport(ctx, e, layers, holds.Before(add)) }
	beside := func(dir string) error {
		if only == nil {
			return nil
		}
		return only.Beside(dir, 0, holds.Counts()) // a question tells of no warnings
	}
	if err := store.BuildFrom(ctx, cache, feed, beside, bar.Step); err != nil {
		return Opened{}, err
	}
	forgetOld(filepath.Dir(cache), filepath.Base(cache), keptStores)
	return openStore(OpenedStore{Root: cache})
}

// keptStores is how many stores made of files are kept.
const keptStores = 4

// forgetOld removes cached stores other than the newest few; what is being read
// or can't be removed stays, since it can do no harm.
func forgetOld(dir, keep string, kept int) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	type aged struct {
		name string
		info fs.FileInfo
	}
	var old []aged
	for _, entry := range entries {
		info, err := entry.Info()
		if err == nil && entry.IsDir() && entry.Name() != keep && entry.Name() != FindingsFolder {
			old = append(old, aged{entry.Name(), info})
		}
	}
	for len(old) >= kept {
		oldest := 0
		for i := range old {
			if old[i].info.ModTime().Before(old[oldest].info.ModTime()) {
				oldest = i
			}
		}
		_ = store.Discard(filepath.Join(dir, old[oldest].name))
		old = append(old[:oldest], old[oldest+1:]...)
	}
}
