package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/cayleygraph/cayley/clog"
	cayleygraph "github.com/cayleygraph/cayley/graph"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/quad"
	"github.com/lib/pq"
)

// The graph library logs a failed connection with the whole address, password and
// all, besides giving the error: the error is enough.
func init() { clog.SetLogger(nil) }

// OpenSQL opens a store that is shared through a PostgreSQL server, or one
// that speaks its protocol: postgres://user@host/database. The error is
// ErrNoGeneration where nothing was loaded into the database, in which nothing is made
// then. Errors never hold the password.
//
// TLS is used as sslmode says, or PGSSLMODE: disable, allow, prefer (the usual),
// require, verify-ca, verify-full; Connection tells what came of it. A service
// (PGSERVICE), PGPASSWORD and the password file are heeded.
//
// A server that does not answer within connectTime, or the seconds that the
// address has as connect_timeout, is given up, and at once when ctx ends.
func OpenSQL(ctx context.Context, text string) (*Store, error) { return openSQL(ctx, text, false) }

// MakeSQL is OpenSQL to load into: the tables are made when they aren't there.
func MakeSQL(ctx context.Context, text string) (*Store, error) { return openSQL(ctx, text, true) }

func openSQL(ctx context.Context, text string, toLoad bool) (*Store, error) {
	a, err := parseAddress(text)
	if err != nil {
		return nil, fmt.Errorf("store: open the database: %w", err)
	}
	public := a.public()
	most := connectTime
	if seconds, err := strconv.Atoi(a.Query().Get("connect_timeout")); err == nil && seconds > 0 {
		most = time.Duration(seconds) * time.Second
	}
	within, stop := context.WithTimeout(ctx, most)
	defer stop()
	s, err := waited(within, func() (s *Store, err error) {
		err = withoutService(func() error {
			s, err = open(ctx, a, toLoad)
			return a.hide(err)
		})
		return s, err
	}, func(s *Store) { _ = s.Close() })
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case isTimeout(err):
		return nil, fmt.Errorf("store: open %s: the server does not answer, after %s", public, most)
	case err != nil:
		return nil, fmt.Errorf("store: open %s: %w", public, err)
	}
	return s, nil
}

// isTimeout reports whether an error is that time ran out, ours or the driver's own,
// which counts the same seconds.
func isTimeout(err error) bool {
	var late net.Error
	return errors.Is(err, context.DeadlineExceeded) || errors.As(err, &late) && late.Timeout()
}

// connectTime is how long a server is waited for.
const connectTime = 15 * time.Second

// waited does something and waits for it until ctx ends: the driver of the server
// does not heed that everywhere. What comes later goes to late, unless it is an
// error.
func waited[T any](ctx context.Context, do func() (T, error), late func(T)) (T, error) {
	type outcome struct {
		result T
		err    error
	}
	done := make(chan outcome, 1)
	go func() {
		result, err := do()
		done <- outcome{result, err}
	}()
	select {
	case o := <-done:
		return o.result, o.err
	case <-ctx.Done():
		go func() {
			if o := <-done; o.err == nil {
				late(o.result)
			}
		}()
		var none T
		return none, ctx.Err()
	}
}

func open(ctx context.Context, a *sqlAddress, toLoad bool) (*Store, error) {
	db, err := a.reach(ctx)
	if err != nil {
		return nil, err
	}
	empty, err := prepare(ctx, db, a.String(), toLoad)
	if err == nil && empty && !toLoad {
		err = ErrNoGeneration
	}
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return opened(ctx, &sqlTables{db: db, at: a}, empty)
}

// noSuchTable is how SQL says that a table is not there.
const noSuchTable = "42P01"

// prepare says whether the tables are empty, or not there; then they are made where
// something is to be loaded. It asks before it makes them, and before Cayley connects, because Cayley prints its
// failures, address and all, rather than only giving them back.
func prepare(ctx context.Context, db *sql.DB, address string, toLoad bool) (empty bool, err error) {
	err = db.QueryRowContext(ctx, "SELECT NOT EXISTS (SELECT 1 FROM quads)").Scan(&empty)
	var fault *pq.Error
	if !errors.As(err, &fault) || fault.Code != noSuchTable {
		return empty, err
	}
	if !toLoad {
		return true, nil
	}
	registerBulk()
	err = csql.Init(bulkType, address, nil)
	if errors.Is(err, cayleygraph.ErrDatabaseExists) {
		return true, nil // somebody else was faster
	}
	return true, err
}

// sqlTables is a backend over Cayley's tables. Cayley's own iterators ask the
// server once for each node and once for each name; over a network that is what
// a question costs. So the tables are read here, with one query for each step of a
// question, over the connection with which the server was reached; Cayley makes one of
// its own once something is written.
type sqlTables struct {
	db *sql.DB
	at *sqlAddress

	writing sync.Mutex
	writer  *cayley // nil until something is written

	asking sync.Mutex
	asked  map[string]*asked
}

// asked is a query: how often it was asked, and what the server keeps of it once that is
// often.
type asked struct {
	times int
	kept  *sql.Stmt
}

// oftenAsked is from which time on the server keeps a query, with its plan: making one
// takes as long as following it.
const oftenAsked = 4

// query asks the server.
func (t *sqlTables) query(ctx context.Context, query string, values []any) (*sql.Rows, error) {
	t.asking.Lock()
	if t.asked == nil {
		t.asked = map[string]*asked{}
	}
	if t.asked[query] == nil {
		t.asked[query] = &asked{}
	}
	a := t.asked[query]
	var err error
	if a.times++; a.times >= oftenAsked && a.kept == nil {
		a.kept, err = t.db.PrepareContext(ctx, query)
	}
	kept := a.kept
	t.asking.Unlock()
	switch {
	case err != nil:
		return nil, err
	case kept != nil:
		return kept.QueryContext(ctx, values...)
	}
	return t.db.QueryContext(ctx, query, values...)
}

// The queries of a step. Nodes are known by their hash.
const (
	sqlOwn = "SELECT s.value_string, t.value_string FROM quads q JOIN nodes s ON s.hash = q.subject_hash" +
		" JOIN nodes t ON t.hash = q.object_hash WHERE q.predicate_hash = $1 AND q.subject_hash = ANY($2)"
	sqlWalk = "SELECT s.value_string, t.value_string FROM (SELECT DISTINCT subject_hash FROM quads" +
		" WHERE predicate_hash = $1 AND object_hash = ANY($2)) e JOIN quads q ON q.subject_hash = e.subject_hash AND " +
		"q.predicate_hash = $3" +
		" JOIN nodes s ON s.hash = q.subject_hash JOIN nodes t ON t.hash = q.object_hash"
	sqlFrom = "SELECT s.value_string, '' FROM (SELECT DISTINCT subject_hash FROM quads" +
		" WHERE predicate_hash = $1 AND object_hash = ANY($2)) e JOIN nodes s ON s.hash = e.subject_hash"
)

// apply hands changes to Cayley.
func (t *sqlTables) apply(ctx context.Context, add, remove []quad.Quad) error {
	t.writing.Lock()
	defer t.writing.Unlock()
	if t.writer == nil {
		err := withoutService(func() error {
			registerBulk()
			qs, err := csql.New(bulkType, t.at.String(), nil)
			if err != nil {
				return t.at.hide(err)
			}
			t.writer = newCayley(qs)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return t.writer.apply(ctx, add, remove)
}

func (t *sqlTables) close() error {
	err := t.db.Close()
	if t.writer != nil {
		err = errors.Join(err, t.writer.close())
	}
	return err
}

func (t *sqlTables) own(ctx context.Context, nodes []quad.IRI) ([]bundle, error) {
	return ask(ctx, t, sqlOwn, termHolds, nodes)
}

func (t *sqlTables) walk(ctx context.Context, predicate quad.IRI, nodes []quad.IRI, visit func([]bundle) error) error {
	list, err := ask(ctx, t, sqlWalk, predicate, nodes, termHolds)
	if err != nil {
		return err
	}
	// A bundle that leads to nodes of two chunks comes with each.
	slices.SortFunc(list, func(a, b bundle) int { return cmp.Compare(a.node, b.node) })
	return visit(slices.CompactFunc(list, func(a, b bundle) bool { return a.node == b.node }))
}

func (t *sqlTables) from(ctx context.Context, predicate quad.IRI, nodes []quad.IRI) ([]quad.IRI, error) {
	list, err := ask(ctx, t, sqlFrom, predicate, nodes)
	found := make([]quad.IRI, len(list))
	for i, b := range list {
		found[i] = b.node
	}
	return found, err
}

// each gives every quad; a label, which no quad of ours has, is left out.
func (t *sqlTables) each(ctx context.Context, visit func(quad.Quad) error) error {
	const query = "SELECT s.value_string, p.value_string, o.value_string, o.iri FROM quads q JOIN nodes s ON s.hash = " +
		"q.subject_hash" +
		" JOIN nodes p ON p.hash = q.predicate_hash JOIN nodes o ON o.hash = q.object_hash"
	return rows(ctx, t, query, nil, func(rows *sql.Rows) error {
		var s, p, o sql.NullString
		var isIRI sql.NullBool
		if err := rows.Scan(&s, &p, &o, &isIRI); err != nil {
			return err
		}
		q := quad.Quad{Subject: quad.IRI(s.String), Predicate: quad.IRI(p.String), Object: quad.String(o.String)}
		if isIRI.Bool {
			q.Object = quad.IRI(o.String)
		}
		return visit(q)
	})
}

func (t *sqlTables) held(ctx context.Context, visit func(bundle) error) error {
	const query = "SELECT s.value_string, o.value_string FROM quads q JOIN nodes s ON s.hash = q.subject_hash" +
		" JOIN nodes o ON o.hash = q.object_hash WHERE q.predicate_hash = $1"
	return rows(ctx, t, query, []any{hashOf(termHolds)}, func(rows *sql.Rows) error {
		var node, text string
		if err := rows.Scan(&node, &text); err != nil {
			return err
		}
		return visit(bundle{quad.IRI(node), text})
	})
}
