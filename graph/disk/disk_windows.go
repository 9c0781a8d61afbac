package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"unicode"
)

// syncNames does nothing: NTFS keeps the names in a folder in a journal, in the
// order in which they changed, and a folder can't be flushed there without
// rights that users do not have.
func syncNames(string) error { return nil }

// settle makes sure that the new name of a file is on disk. Flushing a file
// writes out the journal up to the file's last change, its new name included,
// and with it all that happened before; so a folder waits for the next file.
//
// Source: Microsoft, FlushFileBuffers ("causes all buffered data to be written
// to a file", and its metadata); needs a handle that may write.
func settle(name string) error {
	info, err := os.Stat(name)
	if err != nil || info.IsDir() {
		return err
	}
	return syncFile(name, os.O_RDWR)
}

// errInvalidFunction is ERROR_INVALID_FUNCTION: the file system does not know
// what it was asked for.
const errInvalidFunction = syscall.Errno(1)

// removeByName removes a folder one name after the other. What the standard
// library does first, from Windows 10 on, some network drives and Wine can't.
func removeByName(name string, err error) error {
	if !errors.Is(err, errInvalidFunction) {
		return err
	}
	var names []string
	err = filepath.WalkDir(name, func(path string, _ fs.DirEntry, err error) error {
		names = append(names, path)
		return err
	})
	for _, path := range slices.Backward(names) { // what is in a folder before the folder
		err = errors.Join(err, os.Remove(path))
	}
	return err
}

// checkName refuses a file name that Windows takes for a device, or for a part
// of another file that no folder shows.
func checkName(name string) error {
	base := filepath.Base(name)
	if good := FileName(base); refused(base) {
		return fmt.Errorf("no file can be called %q here; %q would do", base, good)
	}
	return nil
}

// refused reports whether Windows has no file of a name: it would fail, or
// write to a device or to a hidden part of another file.
func refused(name string) bool {
	return isDevice(name) || strings.ContainsAny(name, notInNames) || strings.ContainsFunc(name, unicode.IsControl) ||
		strings.TrimRight(name, " .") != name
}
