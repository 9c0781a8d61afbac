package main

import (
	"context"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
)

// askOptions are what every question has: which graph to ask, and how to print
// the answer.
type askOptions struct {
	shelf.Where
	format page.Format
}

func (o *askOptions) addFlags(cmd *cobra.Command) {
	addWhere(cmd, &o.Where)
	addFormatFlag(cmd, &o.format)
}

// ask puts a question to the graph the flags choose, and prints the answer. An
// answer that leaves something safety-relevant open decides the exit status.
func ask[Q, A any](ctx context.Context, e desk.Env, o askOptions,
	question func(context.Context, graph.Reader, Q) (A, error), asked Q, lay func(A) page.Page) (err error) {
	r, err := shelf.Open(ctx, e, o.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	answer, err := question(ctx, r, asked)
	if err != nil {
		return err
	}
	if err := printAnswer(e, o.format, answer, lay(answer), r.Left); err != nil {
		return err
	}
	if s, ok := any(answer).(interface{ SafetyOpen() bool }); ok && s.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}
