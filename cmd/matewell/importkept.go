package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph/disk"
	"matewell/loader/intake"
)

// keptFile is beside the files of a list: what was said about it, and what the
// files were when import wrote them. Its name begins with a dot, so that no
// reader of data takes it in.
const keptFile = ".import.json"

// kept is the content of that file.
type kept struct {
	Told  importTold        `json:"told"`
	Files map[string]string `json:"files"` // sum of each, by its name in the data folder

	dir string // where the files are, in the data folder
}

func readKept(files fs.FS, name string) (*kept, error) {
	k := &kept{Files: map[string]string{}, dir: path.Join(intake.Folder, name)}
	body, err := disk.ReadPlain(files, path.Join(k.dir, keptFile), disk.MaxPlain)
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	if err == nil {
		err = json.Unmarshal(body, k)
	}
	if err != nil {
		return k, fmt.Errorf("read %s: %w", path.Join(k.dir, keptFile), desk.Reason(err))
	}
	return k, nil
}

// lockImports takes the one place of an import that writes into a folder, which is made
// when it is not there.
func lockImports(ctx context.Context, into string) (unlock func() error, err error) {
	dir := filepath.Join(into, intake.Folder)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", dir, desk.Reason(err))
	}
	unlock, err = disk.Lock(ctx, filepath.Join(dir, lockFile))
	if err != nil {
		return nil, fmt.Errorf("write into %s: %w", dir, desk.Reason(err))
	}
	return unlock, nil
}

// lockFile is held by an import that writes. No reader of data takes it in.
const lockFile = ".import.lock"

// stateOf tells, by name, size and time, whether a folder holds what it held before; empty
// where it is not there.
func stateOf(dir string) string {
	var state strings.Builder
	_ = filepath.WalkDir(dir, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || entry.Name() == lockFile {
			return nil
		}
		if info, err := entry.Info(); err == nil {
			fmt.Fprintln(&state, name, info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return state.String()
}

func sumOf(body []byte) string {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}

// importedFile is one file that an import wrote, or left as it was.
type importedFile struct {
	File   string `json:"file"`
	Change string `json:"change"` // "new", "changed", "as it was" or "removed"
	Lines  int    `json:"lines"`  // that are new or other than before
}

// write puts the files into the folder: only those that changed, and none that
// somebody edited since, unless forced.
func (k *kept) write(opts importOptions, files []intake.File) ([]importedFile, error) {
	if err := k.untouched(opts, files); err != nil {
		return nil, err
	}
	var done []importedFile
	sums := map[string]string{}
	if err := os.MkdirAll(filepath.Join(opts.into, filepath.FromSlash(k.dir)), 0o777); err != nil {
		return nil, err
	}
	for _, f := range files {
		sums[f.Name] = sumOf([]byte(f.Text))
		at := filepath.Join(opts.into, filepath.FromSlash(f.Name))
		before, err := disk.Read(at)
		one := importedFile{File: f.Name, Change: "as it was", Lines: newLines(string(before), f.Text)}
		if err != nil {
			one.Change = "new"
		} else if string(before) != f.Text {
			one.Change = "changed"
		}
		if one.Change != "as it was" {
			if err := disk.Replace(at, []byte(f.Text), 0o666); err != nil {
				return done, fmt.Errorf("write %s: %w", at, desk.Reason(err))
			}
		}
		done = append(done, one)
	}
	for name := range k.Files {
		if sums[name] != "" {
			continue
		}
		if err := disk.Remove(filepath.Join(opts.into, filepath.FromSlash(name))); err == nil {
			done = append(done, importedFile{File: name, Change: "removed"})
		}
	}
	k.Told, k.Files = opts.told, sums
	body, err := json.MarshalIndent(k, "", "  ")
	if err != nil {
		return done, err
	}
	return done, disk.Replace(filepath.Join(opts.into, filepath.FromSlash(k.dir), keptFile), append(body, '\n'), 0o666)
}

// untouched refuses to write over, or remove, what import did not write.
func (k *kept) untouched(opts importOptions, files []intake.File) error {
	names := []string{}
	for _, f := range files {
		names = append(names, f.Name)
	}
	for name := range k.Files {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var edited []string
	for _, name := range names {
		body, err := disk.Read(filepath.Join(opts.into, filepath.FromSlash(name)))
		if err == nil && sumOf(body) != k.Files[name] && !slices.ContainsFunc(files,
			func(f intake.File) bool { return f.Name == name && f.Text == string(body) }) {
			edited = append(edited, name)
		}
	}
	if len(edited) == 0 || opts.force {
		return nil
	}
	return fmt.Errorf("%s in %s is not as import wrote it; --force writes over it, --name gives the list another folder",
		strings.Join(edited, " and "), opts.into)
}

// newLines counts the lines of a text that another one does not have.
func newLines(before, now string) int {
	have := map[string]int{}
	for line := range strings.Lines(before) {
		have[line]++
	}
	n := 0
	for line := range strings.Lines(now) {
		if have[line]--; have[line] < 0 {
			n++
		}
	}
	return n
}
