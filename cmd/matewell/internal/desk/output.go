package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"matewell/cmd/matewell/internal/drawing"
	"matewell/graph/disk"
)

// OwnMark stands near the beginning of every file that matewell writes for a
// person, in whatever makes a comment there: by it matewell knows its own files,
// which it may write over unasked.
const OwnMark = drawing.Mark

// ownMarkWithin is how far from the beginning the mark stands at most, in bytes.
const ownMarkWithin = 1024

// writeDrawing writes a picture for a person; see WriteOwn.
func writeDrawing(e Env, file string, data []byte, force bool) error {
	return WriteOwn(e, "drew", file, data, force)
}

// WriteOwn writes a file for a person in one step, and says what it did. A file that
// is there and was not written by matewell stays as it is unless force is set.
func WriteOwn(e Env, did, file string, data []byte, force bool) error {
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
	if len(head) > 0 && !bytes.Contains(head, []byte(OwnMark)) {
		return fmt.Errorf("%s is there and was not written by matewell: choose another name, or write over it with --force",
			file)
	}
	return nil
}

// WriteDrawings writes pages, the first into the file that was asked for.
func WriteDrawings(e Env, file string, pages []string, force bool) error {
	for i, page := range pages {
		if err := writeDrawing(e, pageFile(file, i+1), []byte(page), force); err != nil {
			return err
		}
	}
	return nil
}

// pageFile is the file of a page, from 1: the first is the one asked for.
func pageFile(file string, page int) string {
	if page == 1 {
		return file
	}
	ext := filepath.Ext(file)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(file, ext), page, ext)
}
