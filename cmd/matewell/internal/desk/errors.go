package desk

import (
	"errors"
	"fmt"
	"io/fs"
)

// UsageError is a wrong command line.
type UsageError struct{ err error }

func (u UsageError) Error() string { return u.err.Error() }

func (u UsageError) Unwrap() error { return u.err }

// WrongUsage says that err is in what was typed.
func WrongUsage(err error) error { return UsageError{err} }

// Usagef is an error in what was typed.
func Usagef(format string, args ...any) error { return WrongUsage(fmt.Errorf(format, args...)) }

// ErrUnsafe says that the answer was printed and is one to be careful with.
var ErrUnsafe = errors.New("something safety-relevant is unknown, does not fit, or fits only after work")

// ErrSaid says that all there is to say was printed already.
var ErrSaid = errors.New("already reported")

// Reason is an error without the path that the message names already.
func Reason(err error) error {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errNotThere
	case errors.As(err, &at):
		return at.Err
	}
	return err
}

// errNotThere says in the same words on every system that nothing has a name.
var errNotThere = errors.New("no such file or folder")
