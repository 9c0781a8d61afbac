package store

import (
	"errors"
	"fmt"

	"github.com/cayleygraph/quad"
	"github.com/cayleygraph/quad/pquads"
	"google.golang.org/protobuf/encoding/protowire"
)

// quadLink is a quad by the numbers of its nodes.
type quadLink struct{ subject, predicate, object, label number }

// The fields of an entry, as Cayley's primitive.proto numbers them.
const (
	fieldSubject   protowire.Number = 2
	fieldPredicate protowire.Number = 3
	fieldObject    protowire.Number = 4
	fieldLabel     protowire.Number = 5
	fieldValue     protowire.Number = 8
	fieldDeleted   protowire.Number = 9
)

// value is the value of a node; nil for none.
func (l *quadLog) value(n number) (quad.Value, error) {
	if n == 0 {
		return nil, nil
	}
	page, err := l.page(n >> pageBits)
	if err != nil {
		return nil, err
	}
	if known := page.values[n%pageSize].Load(); known != nil {
		return *known, nil
	}
	entry, err := l.entry(page, n)
	if err != nil {
		return nil, err
	}
	var value quad.Value
	err = eachField(entry, func(field protowire.Number, _ uint64, content []byte) (err error) {
		if field == fieldValue {
			value, err = pquads.UnmarshalValue(content)
		}
		return err
	})
	if err == nil && value == nil {
		err = errors.New("it has no value")
	}
	if err != nil {
		return nil, fmt.Errorf("node %d of the log can't be read: %w", n, err)
	}
	page.values[n%pageSize].Store(&value)
	if node, ok := value.(quad.IRI); ok {
		l.met.Store(node, n)
	}
	return value, nil
}

// link is a quad; false for one that was deleted.
func (l *quadLog) link(n number) (quadLink, bool, error) {
	var q quadLink
	page, err := l.page(n >> pageBits)
	if err != nil {
		return q, false, err
	}
	entry, err := l.entry(page, n)
	if err != nil {
		return q, false, err
	}
	there := true
	err = eachField(entry, func(field protowire.Number, content uint64, _ []byte) error {
		switch field {
		case fieldSubject:
			q.subject = content
		case fieldPredicate:
			q.predicate = content
		case fieldObject:
			q.object = content
		case fieldLabel:
			q.label = content
		case fieldDeleted:
			there = content == 0
		}
		return nil
	})
	return q, there, err
}

// eachField visits the fields of an entry, with their number or their bytes.
func eachField(entry []byte, visit func(field protowire.Number, n uint64, content []byte) error) error {
	for len(entry) > 0 {
		field, kind, size := protowire.ConsumeTag(entry)
		if size < 0 {
			return protowire.ParseError(size)
		}
		entry = entry[size:]
		var n uint64
		var content []byte
		switch kind {
		case protowire.VarintType:
			n, size = protowire.ConsumeVarint(entry)
		case protowire.BytesType:
			content, size = protowire.ConsumeBytes(entry)
		default:
			size = protowire.ConsumeFieldValue(field, kind, entry)
		}
		if size < 0 {
			return protowire.ParseError(size)
		}
		if err := visit(field, n, content); err != nil {
			return err
		}
		entry = entry[size:]
	}
	return nil
}
