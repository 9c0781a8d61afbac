//go:build unix

package disk_test

import (
	"os"
	"path/filepath"
	"syscall"
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

// TestOrdinaryFilesOnly: a pipe would be waited for, a device never ends.
func TestOrdinaryFilesOnly(t *testing.T) {
	dir := disktest.Folder(t)
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	large := filepath.Join(dir, "large")
	write(t, large, "")
	if err := os.Truncate(large, disk.MaxPlain+1); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{os.DevNull, "/dev/zero", pipe, dir, large} {
		if _, err := disk.Read(name); err == nil {
			t.Errorf("%s was read", name)
		}
		if _, err := disk.ReadPlain(os.DirFS(filepath.Dir(name)), filepath.Base(name), disk.MaxPlain); err == nil {
			t.Errorf("%s was read", name)
		}
		if name == large {
			continue
		}
		if err := disk.Replace(name, []byte("x"), 0o666); err == nil {
			t.Errorf("%s was written", name)
		}
		if err := disk.MayWrite(name); err == nil {
			t.Errorf("%s may be written", name)
		}
		if info, err := os.Stat(name); err != nil || info.Mode().IsRegular() {
			t.Errorf("%s is now %v (%v)", name, info.Mode(), err)
		}
	}
	if err := disk.MayWrite(filepath.Join(dir, "new")); err != nil {
		t.Error(err)
	}
}
