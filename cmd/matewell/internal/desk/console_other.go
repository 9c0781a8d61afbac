//go:build !windows

package desk

import (
	"errors"
	"os"
	"syscall"
)

// styledConsole has nothing to ask for: every terminal here obeys control
// sequences, or says by TERM that it does not.
func styledConsole(*os.File) (ok bool, undo func()) { return true, func() {} }

// ReaderGone reports whether nobody reads any more what was written.
func ReaderGone(err error) bool { return errors.Is(err, syscall.EPIPE) }
