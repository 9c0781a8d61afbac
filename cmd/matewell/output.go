package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"matewell/cmd/matewell/internal/drawing"
	"matewell/graph/disk"
)

// ownMark stands near the beginning of every file that matewell writes for a
// person, in whatever makes a comment there: by it matewell knows its own files,
// which it may write over unasked.
const ownMark = drawing.Mark

// ownMarkWithin is how far from the beginning the mark stands at most, in bytes.
const ownMarkWithin = 1024

// writeDrawing writes a picture for a person; see writeOwn.
func writeDrawing(e env, file string, data []byte, force bool) error {
	return writeOwn(e, "drew", file, data, force)
}

// writeOwn writes a file for a person in one step, and says what it did. A file that
// is there and was not written by matewell stays as it is unless force is set.
func writeOwn(e env, did, file string, data []byte, force bool) error {
	if !force {
		if err := mayReplace(file); err != nil {
			return err
		}
	}
	if err := disk.Replace(file, data, 0o644); err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	fmt.Fprintf(e.Err, "matewell: %s %s\n", did, file)
	return nil
}

// mayReplace refuses a file that somebody else wrote.
func mayReplace(file string) error {
	if err := disk.MayWrite(file); err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	f, err := os.Open(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, ownMarkWithin))
	if err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	if len(head) > 0 && !bytes.Contains(head, []byte(ownMark)) {
		return fmt.Errorf("%s is there and was not written by matewell: choose another name, or write over it with --force",
			file)
	}
	return nil
}
