package disk

import (
	"errors"
	"os"
	"path/filepath"

	"matewell/graph/disk/internal/moment"
)

// SyncFolder makes sure that a folder's names and the content of its files are
// on disk. Folders in it are left out.
func SyncFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if entry.IsDir() {
			continue
		}
		if err := syncFile(filepath.Join(dir, entry.Name()), os.O_RDWR); err != nil {
			return err
		}
	}
	return syncNames(dir)
}

// syncFile opens a file and has the system write out what it still holds back.
func syncFile(name string, flag int) error {
	f, err := os.OpenFile(name, flag, 0)
	if err != nil {
		return err
	}
	return errors.Join(moment.Around("sync", name, f.Sync), f.Close())
}
