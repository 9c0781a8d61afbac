package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	cayleygraph "github.com/cayleygraph/cayley/graph"
	csql "github.com/cayleygraph/cayley/graph/sql"
)

// sqlQuery is a query that ends in a list of nodes, in the form in which
// Cayley's connection takes one. Nodes are known by their hash.
type sqlQuery struct {
	text  string
	first csql.Value // stands after text; nil for none
	more  string     // stands after first
	nodes []csql.Value
}

// SQL is the text of the query with its placeholders.
func (q sqlQuery) SQL(b *csql.Builder) string {
	text := q.text
	if q.first != nil {
		text += b.Placeholder() + q.more
	}
	marks := make([]string, len(q.nodes))
	for i := range marks {
		marks[i] = b.Placeholder()
	}
	return text + "(" + strings.Join(marks, ", ") + ")"
}

// Args are the values of the placeholders.
func (q sqlQuery) Args() []csql.Value {
	if q.first == nil {
		return q.nodes
	}
	return append([]csql.Value{q.first}, q.nodes...)
}

// Columns is part of Cayley's interface; its iterators ask for it, this
// package reads rows by place.
func (q sqlQuery) Columns() []string { return nil }

// chunk is how many nodes go into one query; the protocol allows 65,535.
const chunk = 4000

// ask runs a query for some nodes, a chunk at a time, and visits its rows.
func (t *sqlTables) ask(ctx context.Context, q sqlQuery, nodes []cayleygraph.Ref, visit func(*sql.Rows) error) error {
	for start := 0; start < len(nodes); start += chunk {
		q.nodes = nil
		for _, node := range nodes[start:min(start+chunk, len(nodes))] {
			hash, ok := node.(csql.Value)
			if !ok {
				return fmt.Errorf("not a node of a SQL store: %T", node)
			}
			q.nodes = append(q.nodes, hash)
		}
		if err := t.rows(ctx, q, visit); err != nil {
			return err
		}
	}
	return nil
}

func (t *sqlTables) rows(ctx context.Context, q sqlQuery, visit func(*sql.Rows) error) error {
	rows, err := t.tables.Query(ctx, q)
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

// queryError is Cayley's error without the text of the query, which is long,
// and without its losing what the context says.
func queryError(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	message, _, _ := strings.Cut(err.Error(), "\nquery:")
	return errors.New(message)
}
