package store

import (
	"context"
	"database/sql"
	"fmt"

	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/quad"
	"github.com/lib/pq"
)

// chunk is how many nodes go into one query: what it finds is in memory at a time.
const chunk = 4000

// hashOf is how Cayley's tables know a node.
func hashOf(node quad.IRI) any { return csql.HashOf(node).SQLValue() }

// hashesOf is the same of several, for "= ANY".
func hashesOf(nodes []quad.IRI) any {
	list := make(pq.ByteaArray, len(nodes))
	for i, node := range nodes {
		list[i], _ = hashOf(node).([]byte)
	}
	return list
}

// ask runs a query for some nodes, a chunk at a time: they are its second value, between
// two predicates, or behind one.
func ask(ctx context.Context, t *sqlTables, query string, by quad.IRI, nodes []quad.IRI,
	then ...quad.IRI) ([]bundle, error) {
	var list []bundle
	for start := 0; start < len(nodes); start += chunk {
		values := []any{hashOf(by), hashesOf(nodes[start:min(start+chunk, len(nodes))])}
		for _, predicate := range then {
			values = append(values, hashOf(predicate))
		}
		err := rows(ctx, t, query, values, func(rows *sql.Rows) error {
			var node, text sql.NullString
			err := rows.Scan(&node, &text)
			list = append(list, bundle{quad.IRI(node.String), text.String})
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return list, ctx.Err()
}

// rows runs a query and visits each row of it. A server that hangs is left when ctx
// ends.
func rows(ctx context.Context, t *sqlTables, query string, values []any, visit func(*sql.Rows) error) error {
	_, err := waited(ctx, func() (struct{}, error) { return struct{}{}, visitRows(ctx, t, query, values, visit) },
		func(struct{}) {})
	return err
}

func visitRows(ctx context.Context, t *sqlTables, query string, values []any, visit func(*sql.Rows) error) error {
	rows, err := t.query(ctx, query, values)
	if err != nil {
		return queryError(ctx, err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := visit(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// queryError is an error without its losing what the context says.
func queryError(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return fmt.Errorf("sql query failed: %w", err)
}
