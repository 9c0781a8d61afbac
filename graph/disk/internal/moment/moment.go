// Package moment lets tests stop a process where it matters what it leaves behind:
// just before and just after each step that puts a file in place or on disk. In the
// program nobody sets it, and nothing happens.
package moment

// at is told of each moment; an error of it is that of the step. It is set before
// anything else runs, by disktest alone.
var at func(what, name string) error

// Set has a function told of each moment.
func Set(f func(what, name string) error) { at = f }

// Around does a step on a file or folder, between its two moments.
func Around(what, name string, step func() error) error {
	if at == nil {
		return step()
	}
	if err := at("before "+what, name); err != nil {
		return err
	}
	if err := step(); err != nil {
		return err
	}
	return at("after "+what, name)
}
