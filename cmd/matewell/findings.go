package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"testing/fstest"
	"time"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/graph/store"
	"matewell/loader"
)

// findingsVariable names a findings file other than the usual one.
const findingsVariable = "MATEWELL_FINDINGS"

// findingsPath is the user's own findings file; it need not exist.
func findingsPath(e env) (string, error) {
	if path := e.Getenv(findingsVariable); path != "" {
		return path, nil
	}
	dir, err := e.dataDir()
	return filepath.Join(dir, "findings.yaml"), err
}

// withFindings lays the user's own findings over a graph, so that what was
// recorded a moment ago counts at once. A finding with a fault is left out, and
// the answer says so; a file that can't be read is left out whole.
func withFindings(ctx context.Context, e env, o opened, err error) (opened, error) {
	if err != nil {
		return o, err
	}
	path, err := findingsPath(e)
	if err != nil {
		return o, nil // no home, so nothing was recorded there
	}
	upper, err := readFindings(ctx, e, o.Store, path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return o, nil
	case err != nil && ctx.Err() == nil:
		fmt.Fprintf(e.Err, "matewell: your findings in %s are left out: %v\n", filepath.ToSlash(path), reason(err))
		e.Left.add(leftFinding{What: "all of " + filepath.ToSlash(path), Why: reason(err).Error()})
		if e.Left != nil {
			e.Left.whole = true
		}
		return o, nil
	case err != nil:
		return o, errors.Join(err, o.Close())
	}
	return opened{o.Over(upper)}, nil
}

// readFindings reads the findings file over a graph, into a store in memory.
func readFindings(ctx context.Context, e env, base graph.Reader, path string) (*store.Store, error) {
	content, err := readInput(e, path, disk.MaxPlain)
	if err != nil {
		return nil, err
	}
	cache := cachedFindings(e, base, path, content)
	if cache != "" {
		if s, err := store.OpenCurrent(cache); err == nil {
			return s, nil
		}
	}
	facts, faultless, err := usableFindings(ctx, e, base, path, content)
	if err != nil {
		return nil, err
	}
	if cache != "" && faultless {
		// What can't be kept is read again for the next question.
		if err := store.Build(ctx, cache, facts, nil); err == nil {
			forgetOld(filepath.Dir(cache), filepath.Base(cache))
		}
	}
	upper, err := store.Memory()
	if err != nil {
		return nil, err
	}
	if err := upper.Put(ctx, facts, nil); err != nil {
		return nil, errors.Join(err, upper.Close())
	}
	return upper, nil
}

// fewFindings is how large a findings file may be, in bytes, so that reading it
// costs less than opening what was read before.
const fewFindings = 16 << 10

// findingsFolder is where, in the cache folder, large findings files are kept.
const findingsFolder = "findings"

// cachedFindings is the folder that holds, or will hold, what a large findings
// file says over a graph: its name is a hash of both. It is empty where nothing
// is kept.
func cachedFindings(e env, base graph.Reader, path string, content []byte) string {
	below, ok := base.(*store.Store)
	if !ok || below.Identity() == "" || len(content) <= fewFindings {
		return ""
	}
	dir, err := e.cacheDir()
	if err != nil {
		return ""
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%s\n%s\n%s\n", e.Program, below.Identity(), filepath.ToSlash(filepath.Clean(path)))
	sum.Write(content)
	return filepath.Join(dir, findingsFolder, hex.EncodeToString(sum.Sum(nil))[:24])
}

// usableFindings are the findings of a file that count. Faults are printed, and
// what is left out for them is noted for the answer; faultless says that
// nothing was.
func usableFindings(ctx context.Context, e env, base graph.Reader, path string,
	content []byte) (_ graph.Facts, faultless bool, _ error) {
	var probs diag.List
	facts, out, whole, err := loader.LoadFindings(ctx, base, filepath.ToSlash(filepath.Clean(path)), content, &probs)
	if err != nil {
		return facts, false, err
	}
	if whole && len(out) == 0 {
		return facts, true, nil
	}
	if err := diag.Print(e.Err, &probs, func(string) []byte { return content }); err != nil {
		return facts, false, err
	}
	if !whole {
		return facts, false, errors.New(countFaults(&probs))
	}
	for _, o := range out {
		e.Left.add(leftFinding{What: o.ID, Why: o.Why, At: o.Pos.String()})
	}
	fmt.Fprintf(e.Err, "matewell: %d of your findings in %s %s left out\n", len(out), filepath.ToSlash(path),
		plural(len(out), "is", "are"))
	return facts, false, nil
}

// loadOver reads the content of one data file over a graph. Errors in it are
// printed; the error then says how many there are.
func loadOver(ctx context.Context, e env, base graph.Reader, path string, content []byte,
	probs *diag.List) (graph.Facts, error) {
	dir, name := filepath.Split(path)
	layer := loader.Layer{Name: filepath.ToSlash(filepath.Clean(dir)), FS: fstest.MapFS{name: {Data: content}}}
	facts, err := loader.LoadOver(ctx, base, []loader.Layer{layer}, probs)
	if err != nil || probs.Err() == nil {
		return facts, err
	}
	if err := diag.Print(e.Err, probs, func(string) []byte { return content }); err != nil {
		return facts, err
	}
	return facts, errors.New(countFaults(probs))
}

// checkTyped checks the text of findings that nobody has written to a file yet.
// Faults are printed where a person typed what is wrong; the error then says how
// many there are.
func checkTyped(ctx context.Context, e env, base graph.Reader, text string, from typedAt) error {
	layer := loader.Layer{Name: ".", FS: fstest.MapFS{checkedAs: {Data: []byte("findings:\n" + text)}}}
	var probs diag.List
	_, err := loader.LoadOver(ctx, base, []loader.Layer{layer}, &probs)
	if err != nil || probs.Err() == nil {
		return err
	}
	moved := from.moved(&probs)
	if err := diag.Print(e.Err, moved, func(string) []byte { return from.text }); err != nil {
		return err
	}
	return fmt.Errorf("%s, nothing recorded", countFaults(moved))
}

// today is the date as a finding has it.
func today(e env) string { return e.Now().Format(time.DateOnly) }
