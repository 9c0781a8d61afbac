package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"

	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/quad"
)

// sqlQuery is a query in the form in which Cayley's connection takes one. Its
// text has a question mark for each node, the one in brackets for all of nodes.
type sqlQuery struct {
	text        string
	first, last quad.IRI // before and behind the nodes; empty for none
	nodes       []quad.IRI
}

// SQL is the text of the query with its placeholders.
func (q sqlQuery) SQL(b *csql.Builder) string {
	marks := func(n int) string {
		list := make([]string, n)
		for i := range list {
			list[i] = b.Placeholder()
		}
		return strings.Join(list, ", ")
	}
	var text strings.Builder
	for rest := q.text; ; {
		before, after, found := strings.Cut(rest, "?")
		text.WriteString(before)
		if !found {
			return text.String()
		}
		if strings.HasSuffix(before, "(") {
			text.WriteString(marks(len(q.nodes)))
		} else {
			text.WriteString(marks(1))
		}
		rest = after
	}
}

// Args are the values of the placeholders.
func (q sqlQuery) Args() []csql.Value {
	var args []csql.Value
	if q.first != "" {
		args = append(args, csql.HashOf(q.first))
	}
	for _, node := range q.nodes {
		args = append(args, csql.HashOf(node))
	}
	if q.last != "" {
		args = append(args, csql.HashOf(q.last))
	}
	return args
}

// Columns is part of Cayley's interface; its iterators ask for it, this
// package reads rows by place.
func (q sqlQuery) Columns() []string { return nil }

// chunk is how many nodes go into one query; the protocol allows 65,535.
const chunk = 4000

// ask runs a query for some nodes, a chunk at a time.
func ask(ctx context.Context, t *sqlTables, q sqlQuery, nodes []quad.IRI) ([]bundle, error) {
	var list []bundle
	for start := 0; start < len(nodes); start += chunk {
		q.nodes = nodes[start:min(start+chunk, len(nodes))]
		err := rows(ctx, t, q, func(rows *sql.Rows) error {
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
func rows(ctx context.Context, t *sqlTables, q sqlQuery, visit func(*sql.Rows) error) error {
	_, err := waited(ctx, func() (struct{}, error) { return struct{}{}, visitRows(ctx, t, q, visit) }, func(struct{}) {})
	return err
}

func visitRows(ctx context.Context, t *sqlTables, q sqlQuery, visit func(*sql.Rows) error) error {
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
