package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/conflicts"
)

type conflictsOptions struct {
	askOptions
	conflicts.ConflictsQuestion
}

func newConflictsCmd(e desk.Env) *cobra.Command {
	var opts conflictsOptions
	cmd := &cobra.Command{
		Use:   "conflicts",
		Short: "List where sources contradict one another",
		Long: `Conflicts lists every contradiction in the graph, what touches safety first:
measures of one part, lists that name different parts, findings against findings,
against lists and against the measures, ways a number takes another's place,
torques, lengths of runs. Both sides stand with who says so; reprints of one
origin count once, and nothing is averaged. Each comes with the one measurement
or look that would settle it, and with what that costs where the graph knows.

A conflict is open when neither side outranks the other. Where people measured on
both sides, those outvote the others who are more than twice as many first hand,
the maker's sheet counted, at least two of them with the gauge in hand.`,
		Example: `  matewell conflicts
  matewell conflicts --safety
  matewell conflicts --on skerry-620/2003/eu/late --position front-brake/lever
  matewell conflicts --part "Varnhegg 31-184.1"`,
		Args: wants(0, 0, "no arguments: narrow it with --on, --part, --position or --safety"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if opts.On == "" && (opts.Market != "" || opts.Frame != "") {
				return desk.Usagef("--market and --frame belong to a machine: add --on")
			}
			return runConflicts(cmd.Context(), e, opts)
		},
		ValidArgsFunction: nothing,
	}
	addMachineFlags(e, cmd, &opts.Where, &opts.On, &opts.Market, &opts.Frame)
	cmd.Flags().StringVar(&opts.Part, "part", "", "only about this `PART`")
	cmd.Flags().StringVar(&opts.Position, "position", "", "only at this `POSITION`, of any model without --on")
	cmd.Flags().BoolVar(&opts.Safety, "safety", false, "only what touches brakes, steering, wheels, drive or throttle")
	complete(cmd, "part", fromGraph(e, &opts.Where, partWords))
	complete(cmd, "position", fromGraph(e, &opts.Where, positionsOn(&opts.On)))
	opts.askOptions.addFlags(cmd)
	return cmd
}

func runConflicts(ctx context.Context, e desk.Env, opts conflictsOptions) error {
	return ask(ctx, e, opts.askOptions, conflicts.Conflicts, opts.ConflictsQuestion, conflictsPage)
}

// conflictsPage lays out the rows class by class, each as a few sentences: both
// sides would never fit beside each other in a cell.
func conflictsPage(a conflicts.ConflictsAnswer) page.Page {
	var p page.Page
	for _, class := range append(graph.SafetyClasses(), graph.SafetyNone) {
		s := page.Section{Title: conflictsTitle(class)}
		for _, row := range a.Rows {
			if firstClass(row) == class {
				s.Lines = append(s.Lines, conflictLines(row)...)
			}
		}
		p = append(p, s)
	}
	all := page.Section{Lines: conflictsTotal(a), Rows: conflictRecords(a)}
	return append(p, all)
}

func firstClass(row conflicts.ConflictRow) graph.Safety {
	if len(row.Safety) == 0 {
		return graph.SafetyNone
	}
	return row.Safety[0]
}

func conflictsTitle(class graph.Safety) string {
	if class == graph.SafetyNone {
		return "Without a safety class"
	}
	return strings.ToUpper(string(class[:1])) + string(class[1:])
}

func conflictLines(row conflicts.ConflictRow) []string {
	head := string(row.Sort) + ": " + row.About
	if row.Covers != "" {
		head += ", " + row.Covers
	}
	if row.Open {
		head += " (open)"
	}
	lines := []string{head}
	for _, s := range row.Sides {
		lines = append(lines, indent+sideText(s))
	}
	settle := indent + "to settle it: " + row.Settle
	if row.Cost != nil {
		settle += " [" + costText(*row.Cost) + "]"
	}
	return append(lines, settle)
}

func sideText(s conflicts.ConflictVoices) string {
	if len(s.Sources) == 0 {
		return s.Says
	}
	return fmt.Sprintf("%s (%s: %s)", s.Says, s.Rank, voicesText(s.Sources))
}

func costText(c conflicts.SettleCost) string {
	if c.Effort == graph.EffortNone {
		return "no work: " + c.Why
	}
	return c.Effort.String() + ": " + c.Why
}

// conflictsTotal is how many there are, and what of the lists was compared with what.
func conflictsTotal(a conflicts.ConflictsAnswer) []string {
	total := "Among what was compared, nobody contradicts anybody."
	if len(a.Rows) > 0 {
		counts := page.Join(a.Counts, func(c conflicts.ConflictCount) string { return fmt.Sprintf("%d %s", c.Rows, c.Sort) })
		total = fmt.Sprintf("Conflicts: %d (%s).", len(a.Rows), strings.ReplaceAll(counts, ";", ","))
	}
	lines := []string{total, fmt.Sprintf("Compared: what is said with what is said; %s with the measures of the machine.",
		page.Counted(a.Held, "listed or tried part"))}
	if a.NotHeld > 0 {
		lines = append(lines, fmt.Sprintf("Not held against the measures: %s that nobody had in hand; --on MACHINE does.",
			page.Counted(a.NotHeld, "listed part")))
	}
	return lines
}

// conflictRecords is every row in full, one value to a cell.
func conflictRecords(a conflicts.ConflictsAnswer) page.Table {
	t := page.Table{Columns: []string{"sort", "about", "safety", "part", "at", "covers", "sides", "open", "settle",
		"effort", "cost", "answer_id"}}
	for _, row := range a.Rows {
		effort, cost := "", ""
		if row.Cost != nil {
			effort, cost = row.Cost.Effort.String(), row.Cost.Why
		}
		open := ""
		if row.Open {
			open = "yes"
		}
		t.Add(string(row.Sort), row.About, page.Join(row.Safety, func(s graph.Safety) string { return string(s) }),
			string(row.Part),
			page.Join(row.At, func(id graph.PositionID) string { return string(id) }), row.Covers,
			page.Join(row.Sides, sideText), open,
			row.Settle, effort, cost, row.AnswerID)
	}
	return t
}
