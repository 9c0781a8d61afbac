package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"

	"github.com/cayleygraph/quad"
	ldberrors "github.com/syndtr/goleveldb/leveldb/errors"
)

// Errors that say what is to be done about a store; they are wrapped.
var (
	// ErrOtherVersion says that another version of the program wrote the store:
	// it is to be loaded again.
	ErrOtherVersion = errors.New("another version of matewell loaded this")
	// ErrDamaged says that something in the store can't be read: it is to be
	// loaded again.
	ErrDamaged = errors.New("the store is damaged")
)

// readError says of an error of a store on disk that it is damage, unless
// somebody stopped the reading.
func readError(err error) error {
	if err == nil || errors.Is(err, ErrDamaged) || errors.Is(err, context.Canceled) || errors.Is(err,
		context.DeadlineExceeded) {
		return err
	}
	if ldberrors.IsCorrupted(err) || errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return err
}

// damagedAt says that what a node leads to is not what was written.
func damagedAt(node quad.IRI) error {
	if node == "" {
		return fmt.Errorf("%w: a record is gone", ErrDamaged)
	}
	return fmt.Errorf("%w: the record of %s is gone", ErrDamaged, node)
}

// format is the version of the layout and of what records mean. A store of any
// other one is refused. TestFormat fails when a record type changes, to remind
// of this number.
const format = 10

// header is what a store says of itself.
type header struct {
	Format int
	// Holds counts the records of each sort that is there.
	Holds map[string]int
}

// headerNode is the node that leads to the header.
const headerNode quad.IRI = identities + "store"

// level is one quad store with what its header says. Several in layers make a
// Store.
type level struct {
	backend
	header header
}

// backend is what is asked of a quad store: everything else is built on it.
type backend interface {
	// own gives the bundles at nodes, as far as there are any.
	own(ctx context.Context, nodes []quad.IRI) ([]bundle, error)
	// walk visits the bundles from which a predicate leads to one of the nodes,
	// each once, in no order, some at a time.
	walk(ctx context.Context, predicate quad.IRI, nodes []quad.IRI, visit func([]bundle) error) error
	// from gives the nodes from which a predicate leads to one of the nodes, in
	// no order, perhaps several times.
	from(ctx context.Context, predicate quad.IRI, nodes []quad.IRI) ([]quad.IRI, error)
	// each visits every quad, in no order.
	each(ctx context.Context, visit func(quad.Quad) error) error
	// held visits the bundles at all nodes, in no order.
	held(ctx context.Context, visit func(bundle) error) error
	// apply adds quads and takes others away, all or nothing.
	apply(ctx context.Context, add, remove []quad.Quad) error
	close() error
}

// openLevel reads the header of a backend. Without one it is empty, or written
// before there were headers: anyQuads tells which.
func openLevel(ctx context.Context, b backend, empty bool) (level, error) {
	l := level{backend: b}
	found, err := b.own(ctx, []quad.IRI{headerNode})
	if err != nil {
		return l, fmt.Errorf("store: open: %w", readError(err))
	}
	if len(found) == 0 {
		if empty {
			return l, nil
		}
		return l, fmt.Errorf("store: open: %w", ErrOtherVersion)
	}
	list, err := unpack[header](found)
	if err != nil || len(list) != 1 {
		return l, errors.Join(fmt.Errorf("store: open: %w: its header can't be read", ErrDamaged), err)
	}
	l.header = list[0]
	if l.header.Format != format {
		return l, fmt.Errorf("store: open: %w (format %d, this program reads %d)", ErrOtherVersion, l.header.Format, format)
	}
	return l, nil
}

// has reports whether there is any record of a sort.
func (l level) has(name string) bool { return l.header.Holds[name] > 0 }

// headerQuad is the quad that holds the header.
func headerQuad(holds map[string]int) (quad.Quad, error) {
	text, err := packed([]header{{Format: format, Holds: maps.Clone(holds)}})
	return quad.Quad{Subject: headerNode, Predicate: termHolds, Object: quad.String(text)}, err
}
