package main

import (
	"context"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
)

// askOptions are what every question has: which graph to ask, and how to print
// the answer.
type askOptions struct {
	where
	format page.Format
}

func (o *askOptions) addFlags(cmd *cobra.Command) {
	o.where.addFlags(cmd)
	addFormatFlag(cmd, &o.format)
}

// ask puts a question to the graph the flags choose, and prints the answer. An
// answer that leaves something safety-relevant open decides the exit status.
func ask[Q, A any](ctx context.Context, e desk.Env, o askOptions,
	question func(context.Context, graph.Reader, Q) (A, error), asked Q, lay func(A) page.Page) (err error) {
	r, err := open(ctx, e, o.where)
	if err != nil {
		return err
	}
	defer r.done(&err)
	answer, err := question(ctx, r, asked)
	if err != nil {
		return err
	}
	if err := printAnswer(e, o.format, answer, lay(answer), r.left); err != nil {
		return err
	}
	if s, ok := any(answer).(interface{ SafetyOpen() bool }); ok && s.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}
