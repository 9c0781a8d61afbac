// Package disktest helps tests that write files.
package disktest

import (
	"os"
	"testing"

	"matewell/graph/disk"
)

// Folder is a new folder, gone when the test ends. It is t.TempDir for tests
// that also run as Windows programs under Wine, where the standard library
// can't remove a folder that holds something.
func Folder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "matewell test ") // a blank, as in folders that people make
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := disk.Remove(dir); err != nil {
			t.Error(err)
		}
	})
	return dir
}
