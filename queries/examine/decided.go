package examine

import (
	"crypto/sha256"
)

// Decided keeps outcomes by all that decides them, for changes on many machines of one
// model, of which most are alike around most places.
type Decided map[Decider]decided

// Decider stands for all that decides something, however much that is: its SHA-256.
type Decider [sha256.Size]byte

type decided struct {
	outcome Outcome
	ok      bool // something was judged
}
