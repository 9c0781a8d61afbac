package store

import (
	"context"
	"encoding/binary"
	"fmt"

	"github.com/cayleygraph/cayley/graph/refs"
	"github.com/cayleygraph/quad"
	hierarchy "github.com/hidal-go/hidalgo/kv"
	"github.com/hidal-go/hidalgo/kv/flat"
)

// levelDB is a backend over a folder of Cayley's that nobody writes to. Cayley
// fetches and decodes every quad and every node by itself, through four layers
// of interfaces; a question reads thousands. So what a question asks is read
// from Cayley's indexes and log directly, a page of the log at a time, which
// takes a third of the time. Where things lie is as Cayley v0.7.7 writes data
// version 2, which it checks itself when the folder is opened; the contract of
// stores holds for this backend as for the others.
type levelDB struct {
	cayley
	log *quadLog
}

func (l *levelDB) close() error {
	l.log.close()
	return l.cayley.close()
}

func (l *levelDB) about(ctx context.Context, nodes []quad.IRI) ([]quad.Quad, error) {
	var waiting []number
	for _, node := range nodes {
		n, err := l.numberOf(node)
		if err != nil {
			return nil, err
		}
		if n != 0 {
			waiting = append(waiting, n)
		}
	}
	asked := map[number]bool{}
	var quads []quad.Quad
	for len(waiting) > 0 && ctx.Err() == nil {
		node := waiting[0]
		waiting = waiting[1:]
		if asked[node] {
			continue
		}
		asked[node] = true
		var err error
		if quads, waiting, err = l.aboutNode(node, quads, waiting); err != nil {
			return nil, err
		}
	}
	return quads, ctx.Err()
}

// aboutNode adds the quads of a node, and the parts of its record that they
// lead to.
func (l *levelDB) aboutNode(node number, quads []quad.Quad, parts []number) ([]quad.Quad, []number, error) {
	list, err := l.log.get(indexKey(quadsOfSubject, node))
	if err != nil {
		return quads, parts, err
	}
	for len(list) > 0 {
		n, size := binary.Uvarint(list)
		if size <= 0 {
			return quads, parts, fmt.Errorf("bad index entry of node %d", node)
		}
		list = list[size:]
		link, there, err := l.log.link(n)
		if err != nil {
			return quads, parts, err
		}
		if !there {
			continue
		}
		q, err := l.quad(link)
		if err != nil {
			return quads, parts, err
		}
		quads = append(quads, q)
		if isPart(q.Object, q.Subject) {
			parts = append(parts, link.object)
		}
	}
	return quads, parts, nil
}

func (l *levelDB) quad(link quadLink) (q quad.Quad, err error) {
	if q.Subject, err = l.log.value(link.subject); err != nil {
		return q, err
	}
	if q.Predicate, err = l.log.value(link.predicate); err != nil {
		return q, err
	}
	if q.Object, err = l.log.value(link.object); err != nil {
		return q, err
	}
	q.Label, err = l.log.value(link.label)
	return q, err
}

func (l *levelDB) subjects(ctx context.Context, predicate quad.IRI, objects []quad.Value) ([]quad.Value, error) {
	p, err := l.numberOf(predicate)
	if err != nil || p == 0 {
		return nil, err
	}
	var found []quad.Value
	for _, object := range objects {
		o, err := l.numberOf(object)
		if err != nil {
			return nil, err
		}
		if o == 0 {
			continue
		}
		err = l.log.scan(indexKey(quadsOfObject, o, p), func(key []byte) error {
			subject, err := l.log.value(lastNumber(key))
			found = append(found, subject)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return found, ctx.Err()
}

// numberOf is the number of a node, 0 when the store doesn't have it.
func (l *levelDB) numberOf(v quad.Value) (number, error) {
	if n, ok := l.log.met.Load(v); ok {
		return n.(number), nil
	}
	hash := refs.HashOf(v)
	entry, err := l.log.get(flat.KeyEscape(hierarchy.Key{{'v', hash[0], hash[1]}, hash[:]}))
	if err != nil {
		return 0, err
	}
	n, _ := binary.Uvarint(entry)
	return n, nil
}

// The prefixes of the two indexes, as Cayley makes them from what an index
// goes by.
var (
	quadsOfSubject = indexPrefix(0)
	quadsOfObject  = indexPrefix(1)
)

func indexPrefix(i int) []byte {
	var prefix []byte
	for _, d := range indexes()[i].Dirs {
		prefix = append(prefix, d.Prefix())
	}
	return prefix
}

// indexKey is the key of an index, or what its longer keys start with.
func indexKey(prefix []byte, numbers ...number) []byte {
	var key []byte
	for _, n := range numbers {
		key = binary.BigEndian.AppendUint64(key, n)
	}
	return flat.KeyEscape(hierarchy.Key{prefix, key})
}

// lastNumber is the number at the end of a key.
func lastNumber(key []byte) number {
	parts := flat.KeyUnescape(key)
	last := parts[len(parts)-1]
	return binary.BigEndian.Uint64(last[len(last)-8:])
}
