package store

import (
	"errors"
)

// batch is how many quads go into the store at a time.
const batch = 20_000

// errLayers is returned by what would write to a layered store, which has no
// one place to write to.
var errLayers = errors.New("store: a layered store is read only")
