package store

import (
	"sync"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/quad"
)

// knownValues remembers the values of nodes between reads: of the nodes that one
// question reads four in ten come again, above all predicates, sources and
// kinds. The value of a node never changes, but a node that nothing uses any
// more can make room for another, so a store that is written to forgets.
type knownValues struct {
	mu     sync.Mutex
	values map[any]quad.Value // by key of the reference
}

// mostKnown bounds the memory: about 10 MB.
const mostKnown = 100_000

// lookUp gives the values of the nodes, nil for those it doesn't know, and the
// references of these in the same order.
func (k *knownValues) lookUp(refs []cayleygraph.Ref) (values []quad.Value, missing []cayleygraph.Ref) {
	values = make([]quad.Value, len(refs))
	k.mu.Lock()
	defer k.mu.Unlock()
	for i, ref := range refs {
		if values[i] = k.values[ref.Key()]; values[i] == nil {
			missing = append(missing, ref)
		}
	}
	return values, missing
}

// keep remembers values, in the order of their references; nil ones are not
// kept.
func (k *knownValues) keep(refs []cayleygraph.Ref, values []quad.Value) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.values == nil || len(k.values) > mostKnown {
		k.values = map[any]quad.Value{}
	}
	for i, ref := range refs {
		if values[i] != nil {
			k.values[ref.Key()] = values[i]
		}
	}
}

func (k *knownValues) forget() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.values = nil
}
