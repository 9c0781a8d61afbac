package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	datademo "matewell/data-demo"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
)

// cachedStore is the folder that holds, or will hold, the store made from the
// layers: its name is a hash of all that decides what is in it.
func cachedStore(e env, layers []loader.Layer) (string, error) {
	dir, err := e.cacheDir()
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
		if err := hashFiles(sum, layer.FS); err != nil {
			return "", err
		}
	}
	return filepath.Join(dir, hex.EncodeToString(sum.Sum(nil))[:24]), nil
}

// hashFiles adds the data files of a folder to a hash: the same files that the
// loader would read.
func hashFiles(sum io.Writer, files fs.FS) error {
	return fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
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
		if err != nil {
			return err
		}
		fmt.Fprintf(sum, "file %q %d\n", name, len(content))
		_, err = sum.Write(content)
		return err
	})
}

// keep builds a store of files in the cache folder and opens it.
func keep(ctx context.Context, e env, cache string, layers []loader.Layer) (opened, error) {
	bar := newProgress(e, "reading the data")
	defer bar.stop()
	feed := func(add func(graph.Facts) error) error { return streamOrReport(ctx, e, layers, add) }
	if err := store.BuildFrom(ctx, cache, feed, bar.step); err != nil {
		return opened{}, err
	}
	forgetOld(filepath.Dir(cache), filepath.Base(cache))
	return asOpened(store.OpenCurrent(cache))
}

// forgetOld removes cached stores other than the newest few; what is being read
// or can't be removed stays, since it can do no harm.
func forgetOld(dir, keep string) {
	const kept = 4
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
		if err == nil && entry.IsDir() && entry.Name() != keep && entry.Name() != findingsFolder {
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
