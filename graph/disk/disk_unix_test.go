//go:build unix

package disk_test

import (
	"os"
	"path/filepath"
	"testing"

	"matewell/graph/disk"
	"matewell/graph/disk/disktest"
)

func TestReplaceKeepsPermissions(t *testing.T) {
	name := filepath.Join(disktest.Folder(t), "file")
	write(t, name, "old")
	if err := os.Chmod(name, 0o664); err != nil { // more than most umasks leave
		t.Fatal(err)
	}
	if err := disk.Replace(name, []byte("new"), 0o600); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(name)
	if err != nil || info.Mode().Perm() != 0o664 {
		t.Errorf("mode %v (%v), want 0664", info.Mode(), err)
	}
}

func TestReplaceWritesToADevice(t *testing.T) {
	if err := disk.Replace(os.DevNull, []byte("x"), 0o666); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Errorf("the device is now %v (%v)", info.Mode(), err)
	}
}
