package main

import (
	"context"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/queries/why"
)

type whyOptions struct {
	askOptions
	id string
}

func newWhyCmd(e desk.Env) *cobra.Command {
	var opts whyOptions
	cmd := &cobra.Command{
		Use:   "why ID",
		Short: "Show the whole trail of an answer",
		Long: `Why shows the whole trail of an answer: each fact, measure, rule and supersession
it rests on, who says so and where, best evidence first, what was worked out from
what, who says otherwise, and what would prove each step wrong.

ID is the "id" of a row, as --format json prints it and as stands below a table;
of what a swap touches, and of its numbers, it is the "answer_id". Or put the
question once more:
why fits, why differ and why swap take what fits, differ and swap take.`,
		Example: `  matewell why fits:Tarnholt-207.4418b:skerry-620/2003/eu/late:front-brake/caliper-left
  matewell why fits "Tarnholt 207.4418b" --on skerry-620/2003/eu/late
  matewell why differ skerry-620/2003 skerry-620/2004 --position front-brake/lever`,
		Args: wants(1, 1, "the id of an answer, or fits, differ or swap with what it takes"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.id = args[0]
			return runWhy(cmd.Context(), e, opts.askOptions, why.WhyQuestion{ID: opts.id})
		},
		ValidArgsFunction: nothing,
	}
	opts.addFlags(cmd)
	cmd.AddCommand(newWhyFitsCmd(e), newWhyDifferCmd(e), newWhySwapCmd(e))
	return cmd
}

func newWhyFitsCmd(e desk.Env) *cobra.Command {
	cmd := fitsCommand(e, func(ctx context.Context, e desk.Env, opts fitsOptions) error {
		return runWhy(ctx, e, opts.askOptions, why.WhyQuestion{Fits: &opts.FitsQuestion})
	})
	cmd.Short = "Show the trail of what fits answers"
	cmd.Long = "Why fits takes what fits takes, and shows the whole trail of each row."
	cmd.Example = `  matewell why fits "Tarnholt 207.4418b" --on skerry-620/2003/eu/late`
	return cmd
}

func newWhyDifferCmd(e desk.Env) *cobra.Command {
	cmd := differCommand(e, func(ctx context.Context, e desk.Env, opts differOptions) error {
		return runWhy(ctx, e, opts.askOptions, why.WhyQuestion{Differ: &opts.DifferQuestion})
	})
	cmd.Short = "Show the trail of what differ answers"
	cmd.Long = `Why differ takes what differ takes, and shows for each position how the parts
were compared, and for each way to swap them what judges it.`
	cmd.Example = `  matewell why differ skerry-620/2003 skerry-620/2004 --position front-brake/lever`
	return cmd
}

func newWhySwapCmd(e desk.Env) *cobra.Command {
	cmd := swapCommand(e, func(ctx context.Context, e desk.Env, opts swapOptions) error {
		return runWhy(ctx, e, opts.askOptions, why.WhyQuestion{Swap: &opts.SwapQuestion})
	})
	cmd.Short = "Show the trail of what swap answers"
	cmd.Long = `Why swap takes what swap takes, and shows for each joint, run, row and circuit
that the swap touches the measures and the rule it was judged by.`
	cmd.Example = `  matewell why swap --on skerry-620/2002/eu front-brake/master-cylinder="Tarnholt 207.7003"`
	return cmd
}

func runWhy(ctx context.Context, e desk.Env, opts askOptions, q why.WhyQuestion) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	answer, err := why.Why(ctx, r, q)
	if err != nil {
		return err
	}
	if err := printAnswer(e, opts.format, answer, whyPage(answer), r.Left); err != nil {
		return err
	}
	if answer.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}
