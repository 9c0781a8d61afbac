package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/cayley/graph/sql/postgres"
	"github.com/cayleygraph/quad"
)

// OpenSQL opens a store that is shared through a PostgreSQL server, or one
// that speaks its protocol: postgres://user@host/database. The tables are made
// when they aren't there. Errors never hold the password.
func OpenSQL(ctx context.Context, address string) (*Store, error) {
	if err := prepare(ctx, address); err != nil {
		return nil, fmt.Errorf("store: open %s: %w", public(address), err)
	}
	qs, err := csql.New(postgres.Type, address, nil)
	if err != nil {
		return nil, fmt.Errorf("store: open %s: %w", public(address), err)
	}
	tables, ok := qs.(*csql.QuadStore)
	if !ok {
		return nil, errors.Join(fmt.Errorf("store: open %s: not a SQL store but %T", public(address), qs), qs.Close())
	}
	return newStore(&sqlTables{cayley: cayley{qs: qs}, tables: tables}), nil
}

// prepare reaches the server and makes the tables. It asks before it makes
// them, and before Cayley connects, because Cayley prints its failures,
// address and all, rather than only giving them back.
func prepare(ctx context.Context, address string) error {
	db, err := sql.Open("postgres", address)
	if err != nil {
		return err
	}
	defer db.Close()
	var table sql.NullString
	if err := db.QueryRowContext(ctx, "SELECT to_regclass('quads')::text").Scan(&table); err != nil {
		return err
	}
	if table.Valid {
		return nil
	}
	err = csql.Init(postgres.Type, address, nil)
	if errors.Is(err, cayleygraph.ErrDatabaseExists) {
		return nil // somebody else was faster
	}
	return err
}

// public is an address without its password.
func public(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return "the database"
	}
	return u.Redacted()
}

// sqlTables is a backend over Cayley's tables. Cayley's own iterators ask the
// server once for each node and once for each name; over a network that is
// what a question costs. So the tables are read here, through Cayley's
// connection, with two queries for each level of a record: its quads, then the
// names of their nodes. Joining the two tables would be one, but the planner
// reads the whole table of nodes for it.
type sqlTables struct {
	cayley
	tables *csql.QuadStore
}

func (t *sqlTables) about(ctx context.Context, nodes []quad.IRI) ([]quad.Quad, error) {
	return aboutNodes(ctx, t, nodes)
}

func (t *sqlTables) each(ctx context.Context, visit func(quad.Quad) error) error {
	return t.eachBy(ctx, t, visit)
}

func (t *sqlTables) links(ctx context.Context, seen *names, nodes []int) ([]quadRef, error) {
	const query = "SELECT subject_hash, predicate_hash, object_hash, label_hash FROM quads WHERE subject_hash IN "
	refs := make([]cayleygraph.Ref, len(nodes))
	for i, node := range nodes {
		refs[i] = seen.refs[node]
	}
	var links []quadRef
	err := t.ask(ctx, sqlQuery{text: query}, refs, func(rows *sql.Rows) error {
		var subject, predicate, object, label csql.NodeHash
		if err := rows.Scan(&subject, &predicate, &object, &label); err != nil {
			return err
		}
		links = append(links, quadRef{hashIndex(seen, subject), hashIndex(seen, predicate),
			hashIndex(seen, object), hashIndex(seen, label)})
		return nil
	})
	return links, err
}

// hashIndex adds a node by its hash.
func hashIndex(seen *names, hash csql.NodeHash) int {
	if !hash.Valid() {
		return none
	}
	at, _ := seen.add(hash, nil)
	return at
}

func (t *sqlTables) resolve(ctx context.Context, seen *names) error {
	const query = "SELECT hash, value_string, iri, datatype FROM nodes WHERE hash IN "
	fresh := seen.unresolved()
	seen.values = append(seen.values, make([]quad.Value, len(fresh))...)
	return t.ask(ctx, sqlQuery{text: query}, fresh, func(rows *sql.Rows) error {
		var hash csql.NodeHash
		var text, datatype sql.NullString
		var isIRI sql.NullBool
		if err := rows.Scan(&hash, &text, &isIRI, &datatype); err != nil {
			return err
		}
		at := seen.index[hash.Key()]
		switch {
		case isIRI.Bool:
			seen.values[at] = quad.IRI(text.String)
		case datatype.Valid:
			seen.values[at] = quad.TypedString{Value: quad.String(text.String), Type: quad.IRI(datatype.String)}
		default:
			seen.values[at] = quad.String(text.String)
		}
		return nil
	})
}

func (t *sqlTables) subjects(ctx context.Context, predicate quad.IRI, objects []quad.Value) ([]quad.Value, error) {
	const query = "SELECT DISTINCT subject_hash FROM quads WHERE predicate_hash = "
	refs := make([]cayleygraph.Ref, len(objects))
	for i, object := range objects {
		refs[i] = csql.HashOf(object)
	}
	seen := &names{}
	q := sqlQuery{text: query, first: csql.HashOf(predicate), more: " AND object_hash IN "}
	err := t.ask(ctx, q, refs, func(rows *sql.Rows) error {
		var subject csql.NodeHash
		err := rows.Scan(&subject)
		hashIndex(seen, subject)
		return err
	})
	if err != nil {
		return nil, err
	}
	err = t.resolve(ctx, seen)
	return seen.values, err
}

// apply leaves out what is there already, since Cayley would count its nodes
// once more.
func (t *sqlTables) apply(ctx context.Context, add, remove []quad.Quad) error {
	var subjects []quad.IRI
	for _, q := range add {
		if node, ok := q.Subject.(quad.IRI); ok {
			subjects = append(subjects, node)
		}
	}
	there, err := t.about(ctx, subjects)
	if err != nil {
		return err
	}
	return t.cayley.apply(ctx, without(add, there), remove)
}
