package disk_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"matewell/graph/disk"
	"matewell/graph/disk/disktest"
)

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// holds reports a file's content that is not as wanted.
func holds(t *testing.T, name, want string) {
	t.Helper()
	got, err := disk.Read(name)
	if err != nil || string(got) != want {
		t.Errorf("%s holds %q (%v), want %q", filepath.Base(name), got, err, want)
	}
}

// names are what lies in a folder.
func names(t *testing.T, dir string) (list []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		list = append(list, entry.Name())
	}
	return list
}

func TestReplace(t *testing.T) {
	dir := disktest.Folder(t)
	name := filepath.Join(dir, "über, lengths.yaml")
	for _, text := range []string{"first", "", "third\r\n"} {
		if err := disk.Replace(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		holds(t, name, text)
	}
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left behind: %q", got)
	}
}

// A reader that has the file open for a moment is in the way on Windows only,
// and keeps what it reads.
func TestReplaceWhatIsRead(t *testing.T) {
	name := filepath.Join(disktest.Folder(t), "current")
	write(t, name, "old")
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	closed := make(chan error)
	go func() {
		time.Sleep(50 * time.Millisecond)
		closed <- f.Close()
	}()
	if err := disk.Replace(name, []byte("new"), 0o666); err != nil {
		t.Error(err)
	}
	if err := <-closed; err != nil {
		t.Error(err)
	}
	holds(t, name, "new")
}

func TestReplaceFails(t *testing.T) {
	dir := disktest.Folder(t)
	if err := disk.Replace(filepath.Join(dir, "absent", "file"), nil, 0o666); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("in a folder that is not there: %v", err)
	}
	if err := disk.Replace(dir, []byte("x"), 0o666); err == nil {
		t.Error("a folder was replaced by a file")
	}
	if got := names(t, dir); len(got) != 0 {
		t.Errorf("left behind: %q", got)
	}
}

func TestReplaceFollowsALink(t *testing.T) {
	dir := disktest.Folder(t)
	name, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	write(t, name, "old")
	if err := os.Symlink(name, link); err != nil {
		t.Skip("no links here: ", err)
	}
	if text, err := os.ReadFile(link); err != nil || string(text) != "old" {
		t.Skip("links are made here, but not followed")
	}
	if err := disk.Replace(link, []byte("new"), 0o666); err != nil {
		t.Fatal(err)
	}
	holds(t, name, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info, err)
	}
}

func TestRename(t *testing.T) {
	dir := disktest.Folder(t)
	from, to := filepath.Join(dir, "unfinished"), filepath.Join(dir, "done")
	if err := os.Mkdir(from, 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(from, "file"), "x")
	if err := disk.SyncFolder(from); err != nil {
		t.Fatal(err)
	}
	if err := disk.Rename(from, to); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(to, "file"), "x")
	if err := disk.SyncFolder(from); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("flush a folder that is gone: %v", err)
	}
}

func TestReadOfNothingIsQuick(t *testing.T) {
	if _, err := disk.Read(filepath.Join(disktest.Folder(t), "absent")); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

func TestRemove(t *testing.T) {
	dir := disktest.Folder(t)
	deep := filepath.Join(dir, "a folder", "in it")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(deep, "file"), "x")
	write(t, filepath.Join(dir, "a folder", "file"), "x")
	if err := disk.Remove(filepath.Join(dir, "a folder")); err != nil {
		t.Error(err)
	}
	if got := names(t, dir); len(got) != 0 {
		t.Errorf("left: %q", got)
	}
	if err := disk.Remove(filepath.Join(dir, "a folder")); err != nil {
		t.Errorf("a second time: %v", err)
	}
}

func TestLock(t *testing.T) {
	name := filepath.Join(disktest.Folder(t), "lock")
	unlock, err := disk.Lock(context.Background(), name)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer cancel()
	if _, err := disk.Lock(ctx, name); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a second holder: %v", err)
	}
	if err := unlock(); err != nil {
		t.Fatal(err)
	}
	if unlock, err = disk.Lock(context.Background(), name); err != nil {
		t.Fatal(err)
	}
	if err := unlock(); err != nil {
		t.Error(err)
	}
	if _, err := disk.Lock(context.Background(), filepath.Join(name, "under a file")); err == nil {
		t.Error("a lock under a file")
	}
}

// TestLeftoversAreSwept: what a killed process left goes with the next write, and
// what somebody else may be writing does not.
func TestLeftoversAreSwept(t *testing.T) {
	dir := disktest.Folder(t)
	name := filepath.Join(dir, "file")
	old, young, other := filepath.Join(dir, ".matewell-file-a.new"), filepath.Join(dir, ".matewell-file-b.new"),
		filepath.Join(dir, ".matewell-other-c.new")
	for _, left := range []string{old, young, other} {
		write(t, left, "half")
	}
	hour := time.Now().Add(-time.Hour)
	for _, left := range []string{old, other} {
		if err := os.Chtimes(left, hour, hour); err != nil {
			t.Fatal(err)
		}
	}
	if err := disk.Replace(name, []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	there := func(name string) bool { _, err := os.Stat(name); return err == nil }
	if there(old) || !there(young) || !there(other) {
		t.Errorf("old %v, young %v, another file's %v", there(old), there(young), there(other))
	}
	disk.SweepLeft(name)
	if there(young) || !there(other) || !there(name) {
		t.Errorf("young %v, another file's %v, the file %v", there(young), there(other), there(name))
	}
}
