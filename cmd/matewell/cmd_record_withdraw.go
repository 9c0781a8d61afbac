package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"matewell/graph"
	"matewell/graph/store"
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
	e, file, err := findingsTo(e, opts.to, &opts.where)
	if err != nil {
		return err
	}
	base, err := openBase(ctx, e, opts.where)
	if err != nil {
		return err
	}
	defer base.Close()
	var by string
	if file.Known, by, err = mayWithdraw(ctx, e, base, id, file); err != nil {
		return err
	}
	w := loader.Withdrawal{Finding: id, Why: opts.why, Date: opts.date}
	if w.Date == "" {
		w.Date = today(e)
	}
	if isLater(w.Date, today(e)) {
		return usagef("--date %s lies in the future: today is %s", w.Date, today(e))
	}
	text, err := loader.WithdrawalText(w)
	if err != nil {
		return err
	}
	if _, err := file.Add(ctx, nil, []string{text}); err != nil {
		return notWritten(e, err, text)
	}
	_, err = fmt.Fprintf(e.Out, "Withdrawn: %s%s no longer counts; it stays in %s with your reason.\n", id, by,
		filepath.ToSlash(file.Path))
	return err
}

// isLater reports whether a day, month or year begins after today; what is no date is
// refused elsewhere.
func isLater(date, today string) bool {
	isDate := strings.Trim(date, "0123456789-") == ""
	return isDate && date > today[:min(len(date), len(today))]
}

// mayWithdraw refuses a finding that does not stand in the user's own file. It gives
// the lines of that file, and who signed the finding, in words.
func mayWithdraw(ctx context.Context, e env, base opened, id graph.FindingID,
	file findingsPlace) (known *loader.FindingLines, by string, err error) {
	mine, err := findingsIn(ctx, e, base, file)
	if err != nil {
		return nil, "", err
	}
	defer mine.Close()
	found, err := mine.Findings(ctx, id)
	switch {
	case err != nil:
		return nil, "", err
	case len(found) > 0 && found[0].Withdrawn != "":
		return nil, "", fmt.Errorf("%s is withdrawn already: %s", id, found[0].Withdrawn)
	case len(found) > 0 && found[0].By != "":
		return mine.lines, ", signed by " + found[0].By + ",", nil
	case len(found) > 0:
		return mine.lines, "", nil
	}
	others, err := base.Findings(ctx, id)
	if err != nil {
		return nil, "", err
	}
	for _, f := range others {
		return nil, "", fmt.Errorf("%s is not yours: it stands in %s; record a finding of your own that says otherwise", id,
			f.Pos)
	}
	all, err := mine.Findings(ctx)
	if err != nil {
		return nil, "", err
	}
	var names []string
	for _, f := range all {
		names = append(names, string(f.ID))
	}
	return nil, "", &queries.NotFoundError{What: "finding", Asked: string(id), Where: "in " + filepath.ToSlash(file.Path),
		Near: graph.Nearest(string(id), names, 3)}
}

// findingsIn are those in the user's file; none when there is no file yet.
func findingsIn(ctx context.Context, e env, base opened, file findingsPlace) (ownFindings, error) {
	if file.server != "" {
		text, err := noteText(ctx, base.Store)
		if err != nil || len(text) == 0 {
			none, errNone := store.Memory()
			return ownFindings{none, nil}, errors.Join(err, errNone)
		}
		return readFindingsText(ctx, e, base.Store, storeFindings, text)
	}
	mine, err := readFindings(ctx, e, base.Store, file.Path)
	if errors.Is(err, fs.ErrNotExist) {
		none, err := store.Memory()
		return ownFindings{none, nil}, err
	}
	if err != nil {
		return mine, fmt.Errorf("read %s: %w", filepath.ToSlash(file.Path), reason(err))
	}
	return mine, nil
}
