package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/robustio"

	"matewell/graph/disk/internal/moment"
)

// Replace makes data the whole content of a file. A process that is killed, or
// a machine that loses its power, leaves the old content or the new one, never
// half of either; once Replace has returned, it is the new one. Whoever has the
// old file open goes on reading that. What a process that was killed left beside
// the file is removed.
//
// A file that is there keeps its permissions; a new one gets mode, less what
// the user's umask takes away. A symbolic link is followed. What is no ordinary
// file, such as a device or a pipe, is refused, and so is a name that the system
// would take for something else than a file.
func Replace(name string, data []byte, mode fs.FileMode) error {
	return ReplaceWith(name, mode, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// ReplaceWith is Replace for content that write writes. An error of write leaves
// the old content.
func ReplaceWith(name string, mode fs.FileMode, write func(w io.Writer) error) error {
	if err := checkName(name); err != nil {
		return err
	}
	name = Target(name)
	info, err := os.Stat(name)
	switch {
	case err == nil && checkPlain(info) != nil:
		return &fs.PathError{Op: "write", Path: name, Err: checkPlain(info)}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	sweep(name, leftFor)
	fresh, err := writeBeside(name, write, mode, info)
	if err != nil {
		return err
	}
	if err := Rename(fresh, name); err != nil {
		return errors.Join(err, os.Remove(fresh))
	}
	return nil
}

// Target is the file that a name stands for when symbolic links are followed;
// the name itself when there is no such file yet.
func Target(name string) string {
	if to, err := filepath.EvalSymlinks(name); err == nil {
		return to
	}
	return name
}

// writeBeside writes a new file in the folder of another, which it is to
// replace; old describes that one, nil when it does not exist. Its name begins
// with a dot: no reader of data files takes it for one.
func writeBeside(name string, write func(w io.Writer) error, mode fs.FileMode,
	old fs.FileInfo) (fresh string, err error) {
	f, err := createBeside(name, mode)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	err = write(f)
	if err == nil && old != nil {
		err = f.Chmod(old.Mode().Perm())
	}
	if err == nil {
		err = moment.Around("sync", f.Name(), f.Sync)
	}
	return f.Name(), errors.Join(err, f.Close())
}

func createBeside(name string, mode fs.FileMode) (*os.File, error) {
	dir, own := besides(name)
	for {
		fresh := filepath.Join(dir, own+strconv.FormatUint(rand.Uint64(), 36)+besideEnd)
		f, err := os.OpenFile(fresh, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// What the names of files begin and end with that are to replace another.
const (
	besideBegin = ".matewell-"
	besideEnd   = ".new"
)

// besides is the folder of a file, and how the names of those begin in it that
// are to replace it.
func besides(name string) (dir, own string) {
	dir, base := filepath.Split(name)
	const most = 80 // of 255 that names have
	return filepath.Clean(dir), besideBegin + base[:min(len(base), most)] + "-"
}

// leftFor is how old a file must be that nobody is writing any more.
const leftFor = 5 * time.Minute

// SweepLeft removes what processes that were killed left beside a file. It is for
// whoever holds the lock of that file: nobody else is writing it.
func SweepLeft(name string) { sweep(Target(name), 0) }

// sweep removes what is as old as that. What can't be removed stays: it does no
// harm.
func sweep(name string, age time.Duration) {
	dir, own := besides(name)
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, entry := range entries {
		if !strings.HasPrefix(entry.Name(), own) || !strings.HasSuffix(entry.Name(), besideEnd) {
			continue
		}
		if info, err := entry.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) >= age {
			_ = os.Remove(filepath.Join(dir, entry.Name()))
		}
	}
}

// Rename gives a file or a folder another name, in one step, and makes sure that
// this is on disk. A file of that name is replaced, a folder is not. It waits up
// to two seconds for another program that has the file open, where that is in
// the way.
func Rename(from, to string) error {
	if err := moment.Around("rename", to, func() error { return robustio.Rename(from, to) }); err != nil {
		return err
	}
	return moment.Around("settle", to, func() error { return settle(to) })
}

// Read is the content of an ordinary file of at most MaxPlain bytes, which another
// process may be replacing just now.
func Read(name string) ([]byte, error) {
	if info, err := os.Stat(name); err == nil {
		if err := checkPlain(info); err != nil {
			return nil, &fs.PathError{Op: "read", Path: name, Err: err}
		} else if info.Size() > MaxPlain {
			return nil, fmt.Errorf("read %s: it has %d bytes; more than %d are not read", name, info.Size(), MaxPlain)
		}
	}
	return robustio.ReadFile(name)
}
