package desk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/term"
)

// Env is everything a command may touch besides its flags and arguments, so
// that a test can hand in buffers, a fixed clock and files in memory.
type Env struct {
	In       io.Reader
	Out, Err io.Writer
	// Bars is where progress is shown; Err itself, which run makes one that
	// nothing reaches that a terminal would obey.
	Bars io.Writer
	// InTerm, OutTerm and ErrTerm say whether a person is at the other end of
	// the stream, on a terminal.
	InTerm, OutTerm, ErrTerm bool
	// Width is the number of columns of the terminal behind Out; 0 when it is
	// not known.
	Width int
	// Unstyled says that the terminal behind Out prints control sequences
	// instead of obeying them.
	Unstyled bool
	// Raw has the terminal behind In hand over each key as it is pressed; what
	// it gives undoes that. It is called only when InTerm is true.
	Raw    func() (restore func(), err error)
	Now    func() time.Time
	Began  time.Time // when the process began; zero when nobody noted it
	Getenv func(name string) string
	// DirFS gives the files of a folder named on the command line.
	DirFS func(dir string) fs.FS
	// Roomy makes the heap ready for a question that allocates much; nil does
	// nothing.
	Roomy func()
	// Thrifty keeps the heap small while data files are read and a store is
	// made of them: within a room, as long as what is in use leaves some; nil does
	// nothing.
	Thrifty func(room int)
	// Program tells this build of matewell from others: what one build keeps
	// in the cache folder is not read by the next.
	Program string
}

// SystemEnv is the env of the running process; done is for its end.
func SystemEnv() (e Env, done func()) {
	done = func() {}
	e = Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Raw: rawTerminal, Roomy: roomyHeap, Thrifty: thriftyHeap,
		Now: time.Now, Began: began(), Getenv: os.Getenv, DirFS: os.DirFS}
	e.InTerm = term.IsTerminal(int(os.Stdin.Fd()))
	e.OutTerm = term.IsTerminal(int(os.Stdout.Fd()))
	e.ErrTerm = term.IsTerminal(int(os.Stderr.Fd()))
	if e.OutTerm {
		if width, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil {
			e.Width = width
		}
		var styled bool
		styled, done = styledConsole(os.Stdout)
		e.Unstyled = !styled
	}
	if path, err := os.Executable(); err == nil {
		e.Program = ProgramAt(path)
	}
	return e, done
}

// ProgramAt tells the program in a file from other builds by its size and age;
// it is empty when that can't be read.
func ProgramAt(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%d bytes of %d", info.Size(), info.ModTime().UnixNano())
}

// Colours reports whether the answer may be coloured: only for a person, and
// not when NO_COLOR is set to anything (the convention of no-color.org).
func (e Env) Colours() bool {
	return e.OutTerm && !e.Unstyled && e.Getenv("NO_COLOR") == "" && e.Getenv("TERM") != "dumb"
}

// Columns is how wide the answer may be: the terminal's width, 80 when that is
// not known, and 0 for no limit when nobody looks at a terminal. A console that
// obeys no control sequences goes on in the next line once the last column is
// filled, and would show an empty line after it: that column stays empty.
func (e Env) Columns() int {
	switch {
	case !e.OutTerm:
		return 0
	case e.Width <= 0:
		return 80
	case e.Unstyled:
		return e.Width - 1
	default:
		return e.Width
	}
}

// DataDir is the folder for what the user loaded and wrote: XDG_DATA_HOME, or
// where the system keeps such files. It is not created here.
func (e Env) DataDir() (string, error) {
	return e.userDir("XDG_DATA_HOME", e.systemFolders().data)
}

// CacheDir is the folder for what can be made again: XDG_CACHE_HOME, or where
// the system keeps such files. It is not created here.
func (e Env) CacheDir() (string, error) {
	return e.userDir("XDG_CACHE_HOME", e.systemFolders().cache)
}

// ConfigDir is the folder for who the user is: XDG_CONFIG_HOME, or where the
// system keeps such files. It is not created here.
func (e Env) ConfigDir() (string, error) {
	return e.userDir("XDG_CONFIG_HOME", e.systemFolders().config)
}

// userDir is matewell's own folder in the one a variable names, else the usual
// one. A relative path in the variable is ignored, as the XDG base directory
// specification asks.
func (e Env) userDir(variable, usual string) (string, error) {
	if dir := e.Getenv(variable); filepath.IsAbs(dir) {
		return filepath.Join(dir, "matewell"), nil
	}
	if usual == "" {
		return "", errors.New("neither " + variable + " nor " + homeVariable + " says where your files are")
	}
	return usual, nil
}

func rawTerminal() (func(), error) {
	fd := int(os.Stdin.Fd())
	state, err := term.MakeRaw(fd)
	if err != nil {
		return nil, err
	}
	return func() { _ = term.Restore(fd, state) }, nil
}

// Today is the date as a finding has it.
func Today(e Env) string { return e.Now().Format(time.DateOnly) }
