package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"matewell/graph"
	"matewell/loader"
	"matewell/queries"
)

type withdrawOptions struct {
	where
	why, date, to string
}

func newRecordWithdrawCmd(e env) *cobra.Command {
	var opts withdrawOptions
	cmd := &cobra.Command{
		Use:   "withdraw FINDING --why REASON",
		Short: "Take a finding of yours back",
		Long: `Withdraw takes a finding of your own back. It no longer counts, but stays to be
seen, with the reason: nothing is deleted, so that others don't fall for it again.`,
		Example: `  matewell record withdraw gull-2026-11-25-k3w5q2ab --why "read off the wrong caliper"`,
		Args:    wants(1, 1, "the name of a finding, as \"matewell record list\" shows it"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runWithdraw(cmd.Context(), e, graph.FindingID(args[0]), opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.where, findingWordsFrom)),
	}
	cmd.Flags().StringVar(&opts.why, "why", "", "the `REASON`")
	cmd.Flags().StringVar(&opts.date, "date", "", "`WHEN`, today if not given")
	addFindingsFlag(cmd, &opts.to)
	opts.where.addFlags(cmd)
	return cmd
}

func findingWordsFrom(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
	findings, err := r.Findings(ctx)
	var words []string
	for _, f := range findings {
		words = append(words, string(f.ID))
	}
	return words, err
}

func runWithdraw(ctx context.Context, e env, id graph.FindingID, opts withdrawOptions) error {
	if opts.why == "" {
		return usagef("say why: --why REASON")
	}
	e, file, err := findingsFile(e, opts.to)
	if err != nil {
		return err
	}
	base, err := openBase(ctx, e, opts.where)
	if err != nil {
		return err
	}
	defer base.Close()
	if err := mayWithdraw(ctx, e, base, id, file); err != nil {
		return err
	}
	w := loader.Withdrawal{Finding: id, Why: opts.why, Date: opts.date}
	if w.Date == "" {
		w.Date = today(e)
	}
	text, err := loader.WithdrawalText(w)
	if err != nil {
		return err
	}
	if err := file.AddWithdrawal(ctx, text); err != nil {
		return notWritten(e, err, text)
	}
	_, err = fmt.Fprintf(e.Out, "Withdrawn: %s no longer counts; it stays in %s with your reason.\n", id,
		filepath.ToSlash(file.Path))
	return err
}

// mayWithdraw refuses a finding that does not stand in the user's own file.
func mayWithdraw(ctx context.Context, e env, base opened, id graph.FindingID, file loader.FindingFile) error {
	mine, err := ownFindings(ctx, e, base, file)
	if err != nil {
		return err
	}
	for _, f := range mine {
		switch {
		case f.ID == id && f.Withdrawn != "":
			return fmt.Errorf("%s is withdrawn already: %s", id, f.Withdrawn)
		case f.ID == id:
			return nil
		}
	}
	others, err := base.Findings(ctx)
	if err != nil {
		return err
	}
	var names []string
	for _, f := range others {
		if f.ID == id {
			return fmt.Errorf("%s is not yours: it stands in %s; record a finding of your own that says otherwise", id, f.Pos)
		}
	}
	for _, f := range mine {
		names = append(names, string(f.ID))
	}
	return &queries.NotFoundError{What: "finding", Asked: string(id), Where: "in " + filepath.ToSlash(file.Path),
		Near: graph.Nearest(string(id), names, 3)}
}

// ownFindings are those in the user's file; none when there is no file yet.
func ownFindings(ctx context.Context, e env, base opened, file loader.FindingFile) ([]graph.Finding, error) {
	s, err := readFindings(ctx, e, base, file.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", filepath.ToSlash(file.Path), reason(err))
	}
	defer s.Close()
	return s.Findings(ctx)
}
