package desk

import (
	"path/filepath"

	"matewell/graph/disk"
)

// ReadInput reads a file that was named on the command line or by the
// environment: every such file comes in by this door, which takes ordinary
// files of at most so many bytes.
func ReadInput(e Env, name string, most int64) ([]byte, error) {
	dir, base := filepath.Split(name)
	return disk.ReadPlain(e.DirFS(filepath.Clean(dir)), base, most)
}
