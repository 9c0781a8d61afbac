package disk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// MaxPlain is the largest file that Read takes in, in bytes; 100,000 findings
// take about 40 MB.
const MaxPlain = 64 << 20

// Why a file is no plain one, and is neither read nor written over.
var (
	errFolder = errors.New("it is a folder, not a file")
	errPipe   = errors.New("it is a pipe, not a file")
	errDevice = errors.New("it is a device, not a file")
)

// checkPlain says why what is there is no ordinary file: to open a pipe waits for
// whoever is at its other end, and a device may never end.
func checkPlain(info fs.FileInfo) error {
	switch mode := info.Mode(); {
	case mode.IsDir():
		return errFolder
	case mode&fs.ModeNamedPipe != 0:
		return errPipe
	case !mode.IsRegular():
		return errDevice
	}
	return nil
}

// CheckPlain is nil for an ordinary file, of any size.
func CheckPlain(files fs.FS, name string) error {
	info, err := fs.Stat(files, name)
	if err == nil {
		err = checkPlain(info)
	}
	return err
}

// MayWrite says whether a name is that of an ordinary file, or of none yet: an
// error says why nothing is written there.
func MayWrite(name string) error {
	info, err := os.Stat(Target(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil {
		err = checkPlain(info)
	}
	return err
}

// ReadPlain reads an ordinary file of at most so many bytes. A folder, a pipe, a
// device and what is larger are refused, before they are opened.
func ReadPlain(files fs.FS, name string, most int64) (content []byte, err error) {
	info, err := fs.Stat(files, name)
	if err == nil {
		err = checkPlain(info)
	}
	if err != nil {
		return nil, err
	}
	if info.Size() > most {
		return nil, fmt.Errorf("it has %d bytes; more than %d are not read", info.Size(), most)
	}
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	whole := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead)) // so that it need not grow
	if _, err = whole.ReadFrom(io.LimitReader(f, most+1)); int64(whole.Len()) > most {
		return nil, fmt.Errorf("it has more than %d bytes, which are not read", most)
	}
	return whole.Bytes(), err
}
