//go:build unix

package loader_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

func TestPipeIsNotRead(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "parts.yaml"), 0o600); err != nil {
		t.Skip("no pipes here: ", err)
	}
	done := make(chan string)
	go func() {
		_, probs := load(t, "", os.DirFS(dir))
		done <- codesOf(probs)
	}()
	select {
	case got := <-done:
		if want := "parts.yaml not-a-file"; got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the load waits on a pipe")
	}
}
