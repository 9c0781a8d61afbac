//go:build !windows

package disk

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
)

// syncNames makes sure that the names in a folder are on disk. Some file systems
// can't do that for a folder, and say so.
func syncNames(dir string) error {
	err := syncFile(dir, os.O_RDONLY)
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		return nil
	}
	return err
}

// settle makes sure that the new name of a file or folder is on disk.
func settle(name string) error { return syncNames(filepath.Dir(name)) }

// removeByName has nothing better to offer here.
func removeByName(_ string, err error) error { return err }

// checkName lets every name through: any byte may stand in one.
func checkName(string) error { return nil }
