package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/store"
	"matewell/loader"
	"matewell/queries"
)

type withdrawOptions struct {
	shelf.Where
	why, date, to string
}

func newRecordWithdrawCmd(e desk.Env) *cobra.Command {
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
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, findingWordsFrom)),
	}
	cmd.Flags().StringVar(&opts.why, "why", "", "the `REASON`")
	cmd.Flags().StringVar(&opts.date, "date", "", "`WHEN`, today if not given")
	addFindingsFlag(cmd, &opts.to)
	addWhere(cmd, &opts.Where)
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

func runWithdraw(ctx context.Context, e desk.Env, id graph.FindingID, opts withdrawOptions) (err error) {
	if opts.why == "" {
		return desk.Usagef("say why: --why REASON")
	}
	file, err := shelf.FindingsTo(e, opts.to, &opts.Where)
	if err != nil {
		return err
	}
	base, err := shelf.OpenBase(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer func() { base.Done(&err) }()
	mine, err := findingsIn(ctx, e, base, file)
	if err != nil {
		return err
	}
	defer mine.Close()
	base.Left, base.From = base.Left.And(mine.Left), slices.Concat(base.From, mine.From)
	var by string
	if file.Known, by, err = mayWithdraw(ctx, base, mine, id, file); err != nil {
		return err
	}
	own, err := userName(e)
	if err != nil {
		return err
	}
	w := loader.Withdrawal{Finding: id, Why: opts.why, Date: opts.date}
	if w.Date == "" {
		w.Date = desk.Today(e)
	}
	if isLater(w.Date, desk.Today(e)) {
		return desk.Usagef("--date %s lies in the future: today is %s", w.Date, desk.Today(e))
	}
	text, err := loader.WithdrawalText(w)
	if err != nil {
		return err
	}
	added, err := file.Add(ctx, nil, []string{text})
	if err != nil {
		return notWritten(e, err, text)
	}
	if len(added) == 0 {
		return fmt.Errorf("%s is withdrawn already: somebody did so just now", id)
	}
	signed, theirs := "", ""
	if by != "" {
		signed = ", signed by " + by + ","
	}
	if by != "" && own != "" && by != own {
		theirs = fmt.Sprintf("It counts on for everybody else: tell %s, who can withdraw it too, or have your file "+
			"merged.\n", by)
	}
	_, err = fmt.Fprintf(e.Out, "Withdrawn: %s%s no longer counts; it stays in %s with your reason.\n%s", id, signed,
		filepath.ToSlash(file.Path), theirs)
	return err
}

// isLater reports whether a day, month or year begins after today; what is no date is
// refused elsewhere.
func isLater(date, today string) bool {
	isDate := strings.Trim(date, "0123456789-") == ""
	return isDate && date > today[:min(len(date), len(today))]
}

// mayWithdraw refuses a finding that does not stand in the user's own file. It gives
// the lines of that file, and who signed the finding; empty for nobody.
func mayWithdraw(ctx context.Context, base shelf.Opened, mine shelf.OwnFindings, id graph.FindingID,
	file shelf.FindingsPlace) (known *loader.FindingLines, by string, err error) {
	found, err := mine.Findings(ctx, id)
	switch {
	case err != nil:
		return nil, "", err
	case len(found) > 0 && found[0].Withdrawn != "":
		return nil, "", fmt.Errorf("%s is withdrawn already: %s", id, found[0].Withdrawn)
	case len(found) > 0:
		return mine.Lines, found[0].By, nil
	}
	others, err := base.Findings(ctx, id)
	if err != nil {
		return nil, "", err
	}
	for _, f := range others {
		return nil, "", fmt.Errorf("%s is not yours: it stands in %s; record a finding of your own that says otherwise: %s",
			id, f.Pos, sayOtherwise(f))
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

// sayOtherwise is how one says something else than a finding does, of the same part and place.
func sayOtherwise(f graph.Finding) string {
	words := []string{"matewell record", strconv.Quote(string(f.Part))}
	if f.Bike != "" {
		words = append(words, "--on "+string(f.Bike))
	} else if len(f.On) > 0 {
		words = append(words, "--on "+string(f.On[0]))
	}
	if f.Position != "" {
		words = append(words, "--position "+f.Position.Local(), "--verdict VERDICT")
	}
	for _, m := range f.Measured {
		words = append(words, fmt.Sprintf(`--measured "%s.%s=VALUE; GAUGE"`, m.Feature, m.Dim))
	}
	return strings.Join(words, " ")
}

// findingsIn are those in the user's file; none when there is no file yet.
func findingsIn(ctx context.Context, e desk.Env, base shelf.Opened, file shelf.FindingsPlace) (shelf.OwnFindings,
	error) {
	if file.Server != "" {
		text, err := shelf.NoteText(ctx, base.Store)
		if err != nil || len(text) == 0 {
			none, errNone := store.Memory()
			return shelf.OwnFindings{Store: none}, errors.Join(err, errNone)
		}
		return shelf.ReadFindingsText(ctx, e, base.Store, shelf.StoreFindings, text)
	}
	mine, err := shelf.ReadFindings(ctx, e, base.Store, file.Path)
	if errors.Is(err, fs.ErrNotExist) {
		none, err := store.Memory()
		return shelf.OwnFindings{Store: none}, err
	}
	if err != nil {
		return mine, fmt.Errorf("read %s: %w", filepath.ToSlash(file.Path), desk.Reason(err))
	}
	return mine, nil
}
