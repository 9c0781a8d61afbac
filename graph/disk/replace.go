package disk

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"

	"github.com/rogpeppe/go-internal/robustio"
)

// Replace makes data the whole content of a file. A process that is killed, or
// a machine that loses its power, leaves the old content or the new one, never
// half of either; once Replace has returned, it is the new one. Whoever has the
// old file open goes on reading that.
//
// A file that is there keeps its permissions; a new one gets mode, less what
// the user's umask takes away. A symbolic link is followed. What is no plain
// file, such as a device or a pipe, is written to. A name that the system would
// take for something else than a file is refused.
func Replace(name string, data []byte, mode fs.FileMode) error {
	if err := checkName(name); err != nil {
		return err
	}
	name = Target(name)
	info, err := os.Stat(name)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return os.WriteFile(name, data, mode)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	fresh, err := writeBeside(name, data, mode, info)
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

// writeBeside writes data to a new file in the folder of another, which it is to
// replace; old describes that one, nil when it does not exist. Its name begins
// with a dot: no reader of data files takes it for one.
func writeBeside(name string, data []byte, mode fs.FileMode, old fs.FileInfo) (fresh string, err error) {
	f, err := createBeside(name, mode)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	_, err = f.Write(data)
	if err == nil && old != nil {
		err = f.Chmod(old.Mode().Perm())
	}
	if err == nil {
		err = f.Sync()
	}
	return f.Name(), errors.Join(err, f.Close())
}

func createBeside(name string, mode fs.FileMode) (*os.File, error) {
	for {
		fresh := filepath.Join(filepath.Dir(name), ".matewell-"+strconv.FormatUint(rand.Uint64(), 36)+".new")
		f, err := os.OpenFile(fresh, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// Rename gives a file or a folder another name, in one step, and makes sure that
// this is on disk. A file of that name is replaced, a folder is not. It waits up
// to two seconds for another program that has the file open, where that is in
// the way.
func Rename(from, to string) error {
	if err := robustio.Rename(from, to); err != nil {
		return err
	}
	return settle(to)
}

// Read is the content of a file that another process may be replacing just now.
func Read(name string) ([]byte, error) { return robustio.ReadFile(name) }
