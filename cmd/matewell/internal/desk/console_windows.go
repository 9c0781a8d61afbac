package desk

import (
	"errors"
	"os"
	"syscall"

	"golang.org/x/sys/windows"
)

// styledConsole has the console behind a stream obey control sequences, which
// one does only when asked to, and Windows before 10 never; undo makes it as it
// was, for the programs that share it.
func styledConsole(f *os.File) (ok bool, undo func()) {
	console := windows.Handle(f.Fd())
	var mode uint32
	if err := windows.GetConsoleMode(console, &mode); err != nil {
		return false, func() {}
	}
	wanted := mode | windows.ENABLE_PROCESSED_OUTPUT | windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING
	if err := windows.SetConsoleMode(console, wanted); err != nil {
		return false, func() {}
	}
	return true, func() { _ = windows.SetConsoleMode(console, mode) }
}

// ReaderGone reports whether nobody reads any more what was written.
func ReaderGone(err error) bool {
	return errors.Is(err, windows.ERROR_BROKEN_PIPE) || errors.Is(err, windows.ERROR_NO_DATA) || errors.Is(err,
		syscall.EPIPE)
}
