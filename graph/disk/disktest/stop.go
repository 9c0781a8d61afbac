package disktest

import (
	"errors"
	"fmt"
	"io"
	"os"

	"matewell/graph/disk/internal/moment"
)

// errStopped is what a step fails with at the moment that FailAt names.
var errStopped = errors.New("stopped by a test")

// KillAt has this process killed at the n-th moment, from 1, just before or just
// after a step of package disk; each moment that is passed goes to log.
func KillAt(n int, log io.Writer) {
	stopAt(n, log, func() error {
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Kill()
		}
		if err != nil {
			return err
		}
		select {} // until the signal arrives
	})
}

// FailAt is KillAt for a step that fails there, as on a disk that is full.
func FailAt(n int, log io.Writer) {
	stopAt(n, log, func() error { return errStopped })
}

func stopAt(n int, log io.Writer, stop func() error) {
	passed := 0
	moment.Set(func(what, name string) error {
		passed++
		fmt.Fprintln(log, passed, what, name)
		if passed == n {
			return stop()
		}
		return nil
	})
}
