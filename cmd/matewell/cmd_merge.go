package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

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

func newMergeCmd(e env) *cobra.Command {
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

func runMerge(ctx context.Context, e env, names []string, opts mergeOptions) error {
	e, file, err := findingsFile(e, opts.to)
	if err != nil {
		return err
	}
	base, err := openBase(ctx, e, opts.where)
	if err != nil {
		return err
	}
	defer base.Close()
	m := merger{e: e, base: base, have: map[graph.FindingID]graph.Finding{},
		answer: mergeAnswer{Files: names, Into: filepath.ToSlash(file.Path)}}
	if err := m.start(ctx, file); err != nil {
		return err
	}
	for _, name := range names {
		if err := m.takeIn(ctx, name); err != nil {
			return err
		}
	}
	if err := m.write(ctx, file); err != nil {
		return err
	}
	return printAnswer(e, opts.format, m.answer, m.answer.page())
}

// merger puts findings together.
type merger struct {
	e      env
	base   opened
	have   map[graph.FindingID]graph.Finding
	items  strings.Builder // the new findings as text
	gone   []loader.Withdrawal
	answer mergeAnswer
}

// start notes what is there already: with the data, and in the user's file.
func (m *merger) start(ctx context.Context, file loader.FindingFile) error {
	shipped, err := m.base.Findings(ctx)
	if err != nil {
		return err
	}
	own, err := ownFindings(ctx, m.e, m.base, file)
	if err != nil {
		return err
	}
	for _, f := range append(shipped, own...) {
		m.have[f.ID] = f
	}
	return nil
}

// withoutFindings is a graph in which nobody has found anything yet, so that
// what comes in is read by itself.
type withoutFindings struct{ graph.Reader }

// Findings gives none.
func (withoutFindings) Findings(context.Context, ...graph.FindingID) ([]graph.Finding, error) {
	return nil, nil
}

func (m *merger) takeIn(ctx context.Context, name string) error {
	content, err := readInput(m.e, name, disk.MaxPlain)
	if err != nil {
		return fmt.Errorf("read %s: %w", name, reason(err))
	}
	var probs diag.List
	facts, err := loadOver(ctx, m.e, withoutFindings{m.base}, name, content, &probs)
	if err != nil {
		fmt.Fprintf(m.e.Err, "matewell: %v, nothing merged\n", err)
		return errSaid
	}
	for _, f := range facts.Findings {
		if err := m.add(f, filepath.ToSlash(name)); err != nil {
			return err
		}
	}
	return nil
}

func (m *merger) add(f graph.Finding, file string) error {
	text, err := loader.FindingText(f)
	if err != nil {
		return err
	}
	before, known := m.have[f.ID]
	if !known {
		m.have[f.ID] = f
		m.items.WriteString(text)
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
	case f.Withdrawn != "" && before.Withdrawn == "":
		m.have[f.ID] = f
		m.gone = append(m.gone, loader.Withdrawal{Finding: f.ID, Why: f.Withdrawn, Date: f.WithdrawnOn})
		m.answer.Withdrawn = append(m.answer.Withdrawn, f.ID)
		return nil
	}
	m.answer.Known = append(m.answer.Known, f.ID)
	return nil
}

func (m *merger) write(ctx context.Context, file loader.FindingFile) error {
	if m.items.Len() > 0 {
		if _, err := file.AddFindings(ctx, m.items.String()); err != nil {
			return notWritten(m.e, err, m.items.String())
		}
	}
	for _, w := range m.gone {
		text, err := loader.WithdrawalText(w)
		if err := errors.Join(err, file.AddWithdrawal(ctx, text)); err != nil {
			return notWritten(m.e, err, text)
		}
	}
	return nil
}

func (a mergeAnswer) page() page {
	s := section{Lines: []string{fmt.Sprintf("Merged %s into %s: %d new, %d known already, %d withdrawn, %d in conflict.",
		list(a.Files), a.Into, len(a.New), len(a.Known), len(a.Withdrawn), len(a.Conflicts))}}
	s.Rows.Columns = []string{"finding", "came in as"}
	for _, group := range []struct {
		as  string
		ids []graph.FindingID
	}{{"new", a.New}, {"known", a.Known}, {"withdrawn", a.Withdrawn}} {
		for _, id := range group.ids {
			s.Rows.add(string(id), group.as)
		}
	}
	p := page{s}
	for _, c := range a.Conflicts {
		p[0].Rows.add(string(c.Finding), "conflict")
		p = append(p, section{Title: string(c.Finding) + " stands for two findings; the one here stays as it is",
			Lines: append(textLines("here:", c.Ours), textLines("in "+c.File+":", c.Theirs)...)})
	}
	return p
}

// textLines is a title and the lines of a text below it, set in as they are.
func textLines(title, text string) []string {
	lines := []string{title}
	for line := range strings.Lines(text) {
		plain := strings.TrimLeft(line, " ")
		margin := strings.Repeat(hardSpace, 2+len(line)-len(plain))
		lines = append(lines, margin+strings.TrimRight(plain, "\n"))
	}
	return lines
}
