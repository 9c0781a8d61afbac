package store

import (
	"database/sql"
	"fmt"
	"strings"
	"sync"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	graphlog "github.com/cayleygraph/cayley/graph/log"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/cayley/graph/sql/postgres"
	"github.com/cayleygraph/quad"
	"github.com/lib/pq"
)

// bulkType is our kind of SQL store to Cayley: its PostgreSQL, with another way
// to write many quads at once.
const bulkType = "postgres-bulk"

// registerBulk makes bulkType known to Cayley, whose list of kinds is the
// process's.
var registerBulk = sync.OnceFunc(func() {
	csql.Register(bulkType, csql.Registration{
		Driver:             "postgres",
		HashType:           "BYTEA",
		BytesType:          "BYTEA",
		HorizonType:        "BIGSERIAL",
		TimeType:           "timestamp with time zone",
		QueryDialect:       postgres.QueryDialect,
		ConditionalIndexes: true,
		FillFactor:         true,
		Error:              postgres.ConvError,
		Estimated: func(table string) string {
			return "SELECT reltuples::BIGINT AS estimate FROM pg_class WHERE relname='" + table + "';"
		},
		RunTx: writeBulk,
	})
})

// fewNodes is how many nodes are written one by one: below it making a table
// for them takes longer.
const fewNodes = 500

// writeBulk is the part of a transaction that adds quads. Cayley sends a
// statement for each node and each quad; here they are copied into a table of
// the transaction's own, and from there into Cayley's in one statement.
// CockroachDB, which has no such tables unless told, gets the statements.
func writeBulk(tx *sql.Tx, nodes []graphlog.NodeUpdate, quads []graphlog.QuadUpdate,
	opts cayleygraph.IgnoreOpts) error {
	if len(nodes) < fewNodes {
		return postgres.RunTxPostgres(tx, nodes, quads, opts)
	}
	var version string
	if err := tx.QueryRow("SELECT version()").Scan(&version); err != nil {
		return err
	}
	if !strings.HasPrefix(version, "PostgreSQL") {
		return postgres.RunTxPostgres(tx, nodes, quads, opts)
	}
	if err := copyNodes(tx, nodes); err != nil {
		return fmt.Errorf("write nodes: %w", err)
	}
	if err := copyQuads(tx, quads, opts); err != nil {
		return fmt.Errorf("write quads: %w", err)
	}
	return nil
}

func copyNodes(tx *sql.Tx, nodes []graphlog.NodeUpdate) error {
	const (
		table = "CREATE TEMPORARY TABLE coming_nodes (hash BYTEA, refs INT, value_string TEXT, iri BOOLEAN) ON COMMIT DROP"
		merge = "INSERT INTO nodes (hash, refs, value_string, iri) SELECT hash, refs, value_string, iri FROM coming_nodes" +
			" ON CONFLICT (hash) DO UPDATE SET refs = nodes.refs + EXCLUDED.refs"
	)
	return copyOver(tx, table, merge, pq.CopyIn("coming_nodes", "hash", "refs", "value_string", "iri"),
		func(row func(values ...any) error) error {
			for _, n := range nodes {
				// Ours are names and texts alone; how a value is kept is Cayley's to say.
				_, values, err := csql.NodeValues(csql.NodeHash{ValueHash: n.Hash}, n.Val)
				if err != nil {
					return err
				}
				var isIRI any
				switch n.Val.(type) {
				case quad.IRI:
					isIRI = true
				case quad.String:
				default:
					return fmt.Errorf("a %T can't be kept", n.Val)
				}
				if err := row(values[0], n.RefInc, values[1], isIRI); err != nil {
					return err
				}
			}
			return nil
		})
}

func copyQuads(tx *sql.Tx, quads []graphlog.QuadUpdate, opts cayleygraph.IgnoreOpts) error {
	const table = "CREATE TEMPORARY TABLE coming_quads (s BYTEA, p BYTEA, o BYTEA, l BYTEA) ON COMMIT DROP"
	merge := "INSERT INTO quads (subject_hash, predicate_hash, object_hash, label_hash, ts) SELECT s, p, o, l, now() " +
		"FROM coming_quads"
	if opts.IgnoreDup {
		merge += " ON CONFLICT DO NOTHING"
	}
	return copyOver(tx, table, merge, pq.CopyIn("coming_quads", "s", "p", "o", "l"),
		func(row func(values ...any) error) error {
			for _, q := range quads {
				var values []any
				for _, h := range q.Quad.Dirs() {
					values = append(values, csql.NodeHash{ValueHash: h}.SQLValue())
				}
				if err := row(values...); err != nil {
					return err
				}
			}
			return nil
		})
}

// copyOver makes a table, copies rows into it, and merges it into another.
func copyOver(tx *sql.Tx, table, merge, into string, rows func(row func(values ...any) error) error) error {
	if _, err := tx.Exec(table); err != nil {
		return err
	}
	stmt, err := tx.Prepare(into)
	if err != nil {
		return err
	}
	err = rows(func(values ...any) error {
		_, err := stmt.Exec(values...)
		return err
	})
	if err == nil {
		_, err = stmt.Exec() // sends what is left
	}
	if closed := stmt.Close(); err == nil {
		err = closed
	}
	if err == nil {
		_, err = tx.Exec(merge)
	}
	return err
}
