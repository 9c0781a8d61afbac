package store

import (
	cayleygraph "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/quad"
)

// names are nodes and their values, each once. A node is known by its index.
type names struct {
	index  map[any]int // by key of the reference
	refs   []cayleygraph.Ref
	values []quad.Value // of the first refs, as far as they were resolved
}

// none is the index of an absent node, such as no label.
const none = -1

func (n *names) add(ref cayleygraph.Ref, err error) (int, error) {
	if err != nil || ref == nil {
		return none, err
	}
	key := ref.Key()
	if at, ok := n.index[key]; ok {
		return at, nil
	}
	if n.index == nil {
		n.index = map[any]int{}
	}
	at := len(n.refs)
	n.index[key] = at
	n.refs = append(n.refs, ref)
	return at, nil
}

// unresolved are the references whose values are not known yet.
func (n *names) unresolved() []cayleygraph.Ref { return n.refs[len(n.values):] }

// quadRef is a quad whose nodes are still to be resolved.
type quadRef struct {
	subject, predicate, object, label int
}

func (n *names) quad(l quadRef) quad.Quad {
	q := quad.Quad{Subject: n.values[l.subject], Predicate: n.values[l.predicate], Object: n.values[l.object]}
	if l.label != none {
		q.Label = n.values[l.label]
	}
	return q
}
