package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// maxPlain is the largest file of findings that is taken in, in bytes; 100,000
// findings take about 40 MB.
const maxPlain = 64 << 20

// readPlain reads a file, or a pipe that ends. Devices, some of which never
// end, and what is larger than maxPlain are refused.
func readPlain(files fs.FS, name string) (content []byte, err error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("it is a folder, not a file")
	case info.Mode()&fs.ModeDevice != 0:
		return nil, errors.New("it is a device, not a file")
	case info.Size() > maxPlain:
		return nil, fmt.Errorf("it has %d bytes; more than %d are not read", info.Size(), maxPlain)
	}
	content, err = io.ReadAll(io.LimitReader(f, maxPlain+1))
	if len(content) > maxPlain {
		return nil, fmt.Errorf("it has more than %d bytes, which are not read", maxPlain)
	}
	return content, err
}
