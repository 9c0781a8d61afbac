package shelf

import (
	"io/fs"
	"path/filepath"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/loader"
)

// fileSeen is a file as it stood when it was looked at, without its content.
type fileSeen struct {
	Size     int64 `json:"size"`
	Modified int64 `json:"modified"` // in nanoseconds, as At is
	At       int64 `json:"at"`       // when it was looked at
}

// lookAt looks at a file; the zero fileSeen stands for one that is not there.
func lookAt(e desk.Env, path string) fileSeen {
	dir, base := filepath.Split(path)
	at := e.Now()
	info, err := fs.Stat(e.DirFS(filepath.Clean(dir)), base)
	if err != nil || !info.Mode().IsRegular() {
		return fileSeen{}
	}
	return fileSeen{info.Size(), info.ModTime().UnixNano(), at.UnixNano()}
}

// Settled is how long a file must have stood unchanged before it was looked at, for its
// time and size to tell later whether it was changed: some systems keep time by two seconds.
const Settled = 3 * time.Second

// still says whether the file stands as it did when it was seen before.
func (now fileSeen) still(before fileSeen) bool {
	return now.Size == before.Size && now.Modified == before.Modified && before.At-before.Modified >= int64(Settled)
}

// keptSeen stands beside the first of the stores of a findings file, and says how the file
// looked when all of it was last read: while it looks so it need not be read again.
type keptSeen struct {
	fileSeen
	First  string               `json:"first"`  // identity of the first store
	Second string               `json:"second"` // identity of the second store; empty without one
	Sum    bool                 `json:"sum"`    // true where the file is kept as a whole, without marks
	Added  loader.AddedFindings `json:"added"`  // over both
}
