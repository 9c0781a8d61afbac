package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/drawing"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries"
	"matewell/queries/differ"
	"matewell/queries/evidence"
	"matewell/queries/once"
)

type differOptions struct {
	askOptions
	differ.DifferQuestion
	all     bool
	picture string
	force   bool
}

func newDifferCmd(e desk.Env) *cobra.Command { return differCommand(e, runDiffer) }

// differCommand takes the question; run answers it.
func differCommand(e desk.Env, run func(ctx context.Context, e desk.Env, opts differOptions) error) *cobra.Command {
	var opts differOptions
	cmd := &cobra.Command{
		Use:   "differ MACHINE MACHINE",
		Short: "Tell what differs between two model years or variants",
		Long: `Differ compares two machines position by position and tells how the parts differ
and which way they interchange:

  cosmetic          another number, but only colour, finish or decal differs
  dimensional       other dimensions, which ones and by how much
  functional        a port, pin or feature more or less
  only on one side  the other machine has no such position
  not known         too little was measured to tell

The class is worked out from numbers and features; what somebody found to be
otherwise is shown beside it. Positions with the same part are counted, and what
differs alike at several places is said once, unless --all is given. Variants of
one market are compared with each other.

--picture draws all years of the model: bars as long as a part is used, and between
them the kind of change and which way the parts still go.`,
		Example: `  matewell differ skerry-620/2003 skerry-620/2004
  matewell differ skerry-620/2003/eu/early skerry-620/2003/eu/late
  matewell differ skerry-620/2002 skerry-620s/2002 --assembly front-brake
  matewell differ skerry-620/2001/eu skerry-620/2006/eu --assembly front-brake --picture years.svg`,
		Args: wants(2, 2, "two machines, such as skerry-620/2003 and skerry-620/2004"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.A, opts.B = args[0], args[1]
			if opts.Position != "" && opts.Assembly != "" {
				return desk.Usagef("give --position or --assembly, not both")
			}
			return run(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(2, fromGraph(e, &opts.Where, variantWords)),
	}
	cmd.Flags().StringVar(&opts.Market, "market", "", "only machines for this `MARKET`")
	cmd.Flags().StringVar(&opts.Assembly, "assembly", "", "only in this `ASSEMBLY`")
	cmd.Flags().StringVar(&opts.Position, "position", "", "only at this `POSITION`")
	addAllFlag(cmd, &opts.all)
	cmd.Flags().StringVar(&opts.picture, "picture", "", "also draw all years of the model, a strip a place, into this "+
		"SVG `FILE`")
	cmd.Flags().BoolVar(&opts.force, "force", false, "let --picture write over a file that is not matewell's")
	first := new(string) // completion offers the places of all models
	complete(cmd, "market", fromGraph(e, &opts.Where, marketWords))
	complete(cmd, "assembly", fromGraph(e, &opts.Where, assembliesOn(first)))
	complete(cmd, "position", fromGraph(e, &opts.Where, positionsOn(first)))
	opts.askOptions.addFlags(cmd)
	return cmd
}

func runDiffer(ctx context.Context, e desk.Env, opts differOptions) error {
	question := func(ctx context.Context, r graph.Reader, q differ.DifferQuestion) (differ.DifferAnswer, error) {
		r = once.New(r)
		if opts.picture != "" {
			if err := drawYears(ctx, e, r, opts); err != nil {
				return differ.DifferAnswer{}, err
			}
		}
		return differ.Differ(ctx, r, q)
	}
	return ask(ctx, e, opts.askOptions, question, opts.DifferQuestion,
		func(a differ.DifferAnswer) page.Page { return differPage(a, opts.all) })
}

// drawYears writes the picture of all years of the model.
func drawYears(ctx context.Context, e desk.Env, r graph.Reader, opts differOptions) error {
	strips, err := differ.StripsOf(ctx, r, opts.DifferQuestion)
	if wrong := (*queries.QuestionError)(nil); errors.As(err, &wrong) {
		return desk.WrongUsage(err)
	}
	if err != nil {
		return err
	}
	return desk.WriteDrawings(e, opts.picture, drawing.Years(strips), opts.force)
}

// differPage lays out the answer: the counts, the rows, what differs alike at
// several places, and the years that share a part. With all each row
// stands alone, those of the same part too.
func differPage(a differ.DifferAnswer, all bool) page.Page {
	notes := &page.Footnotes{}
	rows := page.Section{Title: "What differs: A is " + a.A.Asked + ", B is " + a.B.Asked,
		Lines: []string{a.Summary.Text + "."},
		Rows:  differRecords(a)}
	rows.Table = page.Table{Columns: []string{"A has", "B has", "on", "position", "difference", "interchange", "how"},
		Group: "position", Detail: "how"}
	first, runs := "", yearsTogether{all: all}
	var alike causes
	for _, row := range a.Rows {
		told := all || row.Class != differ.ClassSame
		runs.add(row.Position, row.Runs, told)
		if !told {
			continue
		}
		first = cmp.Or(first, row.ID)
		if !all {
			alike.add(a, row)
		}
	}
	for _, row := range a.Rows {
		if row.Class == differ.ClassSame && !all || alike.tell(a, row) {
			continue
		}
		rows.Table.Add(sideCell(row.A), sideCell(row.B), differOn(a, row), page.BreakAfter(row.Position, "/"),
			string(row.Class), row.Interchange, differWhy(row, notes, all))
	}
	rows = page.OnceOnly(rows, "position", "A has", "B has")
	for _, alone := range a.Alone {
		rows.After = append(rows.After, string(alone)+" has no counterpart to compare with.")
	}
	rows.After = append(rows.After, whyLines(first)...)
	return page.Page{rows, alike.section(), runs.section(), notes.Section(), cautionSection(a.Cautions)}
}

// sideCell is what one side has at a position.
func sideCell(s *differ.DifferSide) string {
	switch {
	case s == nil:
		return "no such position"
	case s.Part == "":
		return "not known"
	}
	return page.Hard(s.Part)
}

// differOn names the variants of a row when it is not about all that are
// compared.
func differOn(a differ.DifferAnswer, row differ.DifferRow) string {
	if len(row.Pairs) == len(a.Pairs) {
		return ""
	}
	return row.Covers
}

// mostDifferences is how many differences of one row are told when not all is
// asked for.
const mostDifferences = 8

// differWhy is what the class comes from.
func differWhy(row differ.DifferRow, notes *page.Footnotes, all bool) string {
	why := row.Why
	if len(row.Differences) > 0 {
		why = "" // they are the reason
	}
	told := row.Differences
	if !all && len(told) > mostDifferences {
		told = worstFirst(told)[:mostDifferences-1]
	}
	for _, d := range told {
		why += "\n" + d.Text
	}
	if more := len(row.Differences) - len(told); more > 0 {
		why += fmt.Sprintf("\nand %d more differences: --all prints them", more)
	}
	for _, d := range row.Disputed {
		why += "\ndisputed " + notes.Add(d.String()+". To settle it: "+d.Settle)
	}
	for _, missing := range row.NotKnown {
		why += "\nnot known: " + missing
	}
	for _, way := range ways(row) {
		for _, c := range way.direction.ContradictedBy {
			why += "\ncontradicted " + notes.Add(row.Position+", "+way.name+": "+
				way.direction.Verdict.String()+"; against it "+c.String())
		}
	}
	return strings.TrimPrefix(why, "\n")
}

// way is one direction of interchange.
type way struct {
	name      string
	direction differ.Direction
}

func ways(row differ.DifferRow) []way {
	var all []way
	if row.AOnB != nil {
		all = append(all, way{"A on B", *row.AOnB})
	}
	if row.BOnA != nil {
		all = append(all, way{"B on A", *row.BOnA})
	}
	return all
}

// differRecords is every row in full, one value to a cell.
func differRecords(a differ.DifferAnswer) page.Table {
	t := page.Table{Columns: []string{"position", "covers", "class", "a", "b", "differences", "disputed", "not_known",
		"interchange",
		"a_on_b", "a_on_b_why", "a_on_b_source", "b_on_a", "b_on_a_why", "b_on_a_source", "contradicted_by", "runs", "id"}}
	for _, row := range a.Rows {
		cells := []string{row.Position, row.Covers, string(row.Class), sideCell(row.A), sideCell(row.B),
			page.Join(row.Differences, func(d differ.Difference) string { return d.Text }),
			page.Join(row.Disputed, differ.DisputedDim.String), page.Join(row.NotKnown, func(s string) string { return s }),
			row.Interchange}
		var against []evidence.Contradiction
		for _, d := range []*differ.Direction{row.AOnB, row.BOnA} {
			if d == nil {
				d = &differ.Direction{}
			}
			cells = append(cells, d.Verdict.String(), d.Why, d.Source.ID)
			against = append(against, d.ContradictedBy...)
		}
		t.Add(append(cells, page.Join(against, evidence.Contradiction.String), row.Runs, row.ID)...)
	}
	return t
}
