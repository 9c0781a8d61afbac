package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/evidence"
)

type recordListOptions struct {
	askOptions
	evidence.FindingsQuestion
}

func newRecordListCmd(e desk.Env) *cobra.Command {
	var opts recordListOptions
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List findings, yours and others'",
		Long: `List prints the findings that answers rest on: your own and those that came with
the data. Findings that were taken back are left out unless asked for.`,
		Example: `  matewell record list --by gull
  matewell record list --position front-brake --verdict "does not fit"
  matewell record list --withdrawn`,
		Args:              wants(0, 0, "no arguments; narrow the list with flags"),
		RunE:              func(cmd *cobra.Command, _ []string) error { return runRecordList(cmd.Context(), e, opts) },
		ValidArgsFunction: nothing,
	}
	flags := cmd.Flags()
	flags.StringVar(&opts.Part, "part", "", "only about this part `NUMBER`")
	flags.StringVar(&opts.On, "on", "", "only on this `MACHINE`")
	flags.StringVar(&opts.Position, "position", "", "only at this `POSITION` or in this assembly")
	flags.StringVar(&opts.By, "by", "", "only by this `NAME`")
	flags.StringVar(&opts.Verdict, "verdict", "", "only with this `VERDICT`")
	flags.BoolVar(&opts.Withdrawn, "withdrawn", false, "only those that were taken back")
	flags.BoolVar(&opts.All, "all", false, "those that were taken back too")
	complete(cmd, "part", fromGraph(e, &opts.Where, partWords))
	complete(cmd, "on", fromGraph(e, &opts.Where, variantWords))
	complete(cmd, "verdict", fixedWords(graph.VerdictWords()))
	opts.askOptions.addFlags(cmd)
	return cmd
}

func runRecordList(ctx context.Context, e desk.Env, opts recordListOptions) error {
	return ask(ctx, e, opts.askOptions, evidence.Findings, opts.FindingsQuestion, findingsPage)
}

func findingsPage(a evidence.FindingsAnswer) page.Page {
	s := page.Section{Title: "Findings", Rows: findingTable(a.Findings)}
	s.Table = page.Table{Columns: []string{"position", "part", "verdict", "found", "by", "finding"}, Group: "position",
		Detail: "found"}
	for _, f := range a.Findings {
		s.Table.Add(page.Place(f.Position), page.Hard(f.Part), f.Verdict, findingWords(f), f.Source.By,
			page.BreakAfter(string(f.ID), "-"))
	}
	if len(a.Findings) == 0 {
		s.Lines = []string{"No findings."}
	}
	return page.Page{s}
}

// findingWords is what a finding says, in a cell.
func findingWords(f evidence.FindingLine) string {
	var lines []string
	if f.Withdrawn != "" {
		lines = append(lines, "withdrawn: "+f.Withdrawn)
	}
	if len(f.Covers) > 0 {
		lines = append(lines, "on "+strings.Join(f.Covers, ", "))
	}
	if f.Why != "" {
		lines = append(lines, f.Why)
	}
	for _, m := range f.Measured {
		lines = append(lines, measuredWords(m))
	}
	if f.Method != "" {
		lines = append(lines, "("+string(f.Method)+")")
	}
	return strings.Join(lines, "\n")
}

func measuredWords(m evidence.MeasuredLine) string {
	text := m.Feature + "." + m.Dim + " " + m.Value
	if m.With != "" {
		text += ", " + m.With
	}
	return text
}

// findingTable is findings in full, one value to a cell.
func findingTable(findings []evidence.FindingLine) page.Table {
	t := page.Table{Columns: []string{"finding", "part", "position", "covers", "verdict", "why", "changes", "measured",
		"method",
		"rank", "by", "date", "photos", "withdrawn", "at"}}
	for _, f := range findings {
		t.Add(string(f.ID), string(f.Part), string(f.Position), strings.Join(f.Covers, "; "), f.Verdict, f.Why,
			page.Join(f.Changes, changeText), page.Join(f.Measured, measuredWords), string(f.Method), f.Source.Rank.String(),
			f.Source.By, f.Source.Date, page.List(f.Photos), f.Withdrawn, f.Source.At)
	}
	return t
}
