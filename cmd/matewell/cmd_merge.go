package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/loader"
)

type mergeOptions struct {
	askOptions
	to string
}

// mergeAnswer is what "matewell merge" prints as JSON.
type mergeAnswer struct {
	Files []string `json:"files"` // as given
	Into  string   `json:"into"`
	// New are the findings that were added, Known those that were there
	// already, Withdrawn those of yours that came in as taken back.
	New       []graph.FindingID `json:"new"`
	Known     []graph.FindingID `json:"known"`
	Withdrawn []graph.FindingID `json:"withdrawn"`
	Conflicts []mergeConflict   `json:"conflicts"`
}

// mergeConflict is one identity for two different findings: the one here stays.
type mergeConflict struct {
	Finding graph.FindingID `json:"finding"`
	Ours    string          `json:"ours"` // as text
	Theirs  string          `json:"theirs"`
	File    string          `json:"file"`
}

func newMergeCmd(e desk.Env) *cobra.Command {
	var opts mergeOptions
	cmd := &cobra.Command{
		Use:   "merge FILE...",
		Short: "Take in the findings of others",
		Long: `Merge adds the findings in somebody else's file to your own. The same finding
twice is one. Where one name stands for two different findings, both are shown
and the one that is here stays as it is.`,
		Example: "  matewell merge heron.yaml",
		Args:    wants(1, -1, "a file of findings"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runMerge(cmd.Context(), e, args, opts)
		},
	}
	addFindingsFlag(cmd, &opts.to)
	opts.askOptions.addFlags(cmd)
	return cmd
}

func runMerge(ctx context.Context, e desk.Env, names []string, opts mergeOptions) (err error) {
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
	file.Known = mine.Lines
	shelf.BeThrifty(e, 0) // a stranger's file may be large
	m := merger{e: e, base: base, mine: mine, taken: map[graph.FindingID]int{},
		goneIDs: map[graph.FindingID]bool{},
		answer:  mergeAnswer{Files: names, Into: filepath.ToSlash(file.Path)}}
	for _, name := range names {
		if err := m.takeIn(ctx, name); err != nil {
			return err
		}
	}
	if err := m.write(ctx, file); err != nil {
		return err
	}
	return printAnswer(e, opts.format, m.answer, m.answer.page(), base.Left)
}

// merger puts findings together.
type merger struct {
	e     desk.Env
	base  shelf.Opened
	mine  shelf.OwnFindings
	taken map[graph.FindingID]int // new ones by their number among the items
	items []string                // the new findings as text
	gone  []loader.Withdrawal
	// goneIDs are yours that came in as taken back.
	goneIDs map[graph.FindingID]bool
	answer  mergeAnswer
}

// withoutFindings is a graph in which nobody has found anything yet, so that
// what comes in is read by itself.
type withoutFindings struct{ graph.Reader }

// Findings gives none.
func (withoutFindings) Findings(context.Context, ...graph.FindingID) ([]graph.Finding, error) {
	return nil, nil
}

func (m *merger) takeIn(ctx context.Context, name string) error {
	content, err := desk.ReadInput(m.e, name, disk.MaxPlain)
	if err != nil {
		return fmt.Errorf("read %s: %w", name, desk.Reason(err))
	}
	var probs diag.List
	file := filepath.ToSlash(filepath.Clean(name))
	out, whole, err := loader.LoadFindings(ctx, withoutFindings{m.base}, file, content, &probs,
		func(f graph.Facts) error { return m.addAll(ctx, f.Findings, filepath.ToSlash(name)) })
	if err != nil || whole && len(out) == 0 {
		return err
	}
	if err := diag.Print(m.e.Err, &probs, func(string) []byte { return content }); err != nil {
		return err
	}
	fmt.Fprintf(m.e.Err, "matewell: %s, nothing merged\n", shelf.CountFaults(&probs))
	return desk.ErrSaid
}

// addAll compares findings with those that are there already: with the data, and in
// the user's file.
func (m *merger) addAll(ctx context.Context, findings []graph.Finding, file string) error {
	ids := make([]graph.FindingID, len(findings))
	for i, f := range findings {
		ids[i] = f.ID
	}
	if len(ids) == 0 {
		return nil
	}
	have := map[graph.FindingID]graph.Finding{}
	for _, r := range []graph.Reader{m.base, m.mine} {
		found, err := r.Findings(ctx, ids...)
		if err != nil {
			return err
		}
		for _, f := range found {
			have[f.ID] = f
		}
	}
	for _, f := range findings {
		before, known := have[f.ID]
		if err := m.add(ctx, f, before, known, file); err != nil {
			return err
		}
	}
	return nil
}

func (m *merger) add(ctx context.Context, f, before graph.Finding, known bool, file string) error {
	text, err := loader.FindingText(f)
	if err != nil {
		return err
	}
	if at, twice := m.taken[f.ID]; twice {
		// A file named before this one brought it.
		if before, err = m.again(ctx, m.items[at]); err != nil {
			return err
		}
		known = true
	}
	if !known {
		m.taken[f.ID] = len(m.items)
		m.items = append(m.items, text)
		m.answer.New = append(m.answer.New, f.ID)
		return nil
	}
	same, err := sameFinding(before, f)
	if err != nil {
		return err
	}
	switch {
	case !same:
		ours, err := loader.FindingText(before)
		m.answer.Conflicts = append(m.answer.Conflicts, mergeConflict{f.ID, ours, text, file})
		return err
	case f.Withdrawn != "" && before.Withdrawn == "" && !m.goneIDs[f.ID]:
		m.goneIDs[f.ID] = true
		m.gone = append(m.gone, loader.Withdrawal{Finding: f.ID, Why: f.Withdrawn, Date: f.WithdrawnOn})
		m.answer.Withdrawn = append(m.answer.Withdrawn, f.ID)
		return nil
	}
	m.answer.Known = append(m.answer.Known, f.ID)
	return nil
}

// again is a finding that came in by an earlier file, read back from its text.
func (m *merger) again(ctx context.Context, text string) (graph.Finding, error) {
	var f graph.Finding
	var probs diag.List
	_, _, err := loader.LoadFindings(ctx, withoutFindings{m.base}, shelf.CheckedAs, []byte("findings:\n"+text), &probs,
		func(facts graph.Facts) error {
			for _, f = range facts.Findings {
			}
			return nil
		})
	return f, errors.Join(err, probs.Err())
}

// mostPrinted is up to how many findings are printed when they can't be written.
const mostPrinted = 100

// write puts all that is new into the file, in one step.
func (m *merger) write(ctx context.Context, file shelf.FindingsPlace) error {
	var gone []string
	for _, w := range m.gone {
		text, err := loader.WithdrawalText(w)
		if err != nil {
			return err
		}
		gone = append(gone, text)
	}
	if len(m.items)+len(gone) == 0 {
		return nil
	}
	_, err := file.Add(ctx, m.items, gone)
	switch {
	case err != nil && len(m.items)+len(gone) > mostPrinted:
		return fmt.Errorf("nothing was written: %w", err)
	case err != nil:
		return notWritten(m.e, err, strings.Join(m.items, "")+strings.Join(gone, ""))
	}
	return nil
}

func (a mergeAnswer) page() page.Page {
	said := fmt.Sprintf("Merged %s into %s: %d new, %d known already, %d withdrawn, %d in conflict.",
		page.List(a.Files), a.Into, len(a.New), len(a.Known), len(a.Withdrawn), len(a.Conflicts))
	s := page.Section{Lines: []string{said}}
	s.Rows.Columns = []string{"finding", "came in as"}
	for _, group := range []struct {
		as  string
		ids []graph.FindingID
	}{{"new", a.New}, {"known", a.Known}, {"withdrawn", a.Withdrawn}} {
		for _, id := range group.ids {
			s.Rows.Add(string(id), group.as)
		}
	}
	p := page.Page{s}
	for _, c := range a.Conflicts {
		p[0].Rows.Add(string(c.Finding), "conflict")
		p = append(p, page.Section{Title: string(c.Finding) + " stands for two findings; the one here stays as it is",
			Lines: append(textLines("here:", c.Ours), textLines("in "+c.File+":", c.Theirs)...)})
	}
	return p
}

// textLines is a title and the lines of a text below it, set in as they are.
func textLines(title, text string) []string {
	lines := []string{title}
	for line := range strings.Lines(text) {
		plain := strings.TrimLeft(line, " ")
		margin := strings.Repeat(page.HardSpace, 2+len(line)-len(plain))
		lines = append(lines, margin+strings.TrimRight(plain, "\n"))
	}
	return lines
}
