package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/wording"
	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/swap"
)

type fitsOptions struct {
	askOptions
	fits.FitsQuestion
}

func newFitsCmd(e desk.Env) *cobra.Command { return fitsCommand(e, runFits) }

// fitsCommand takes the question; run answers it.
func fitsCommand(e desk.Env, run func(ctx context.Context, e desk.Env, opts fitsOptions) error) *cobra.Command {
	var opts fitsOptions
	cmd := &cobra.Command{
		Use:   "fits [PART] [--on MACHINE]",
		Short: "Tell where a part fits, or what fits on a machine",
		Long: `Fits tells where a part fits: as listed, through a supersession in the direction
that allows it, as the content of a kit, or by somebody's finding. With --on and
no part it tells what fits on a machine, position by position.

A machine is a model, a model year or range of years, a variant, or a bike of
your own: skerry-620, skerry-620/2003, skerry-620/2001-2003,
skerry-620/2003/eu/late. A model year that holds several variants is split where
the answer differs, with the fact that settles it; give --market or --frame when
you know them.

A part number may be written in any spelling, with or without its brand. Of a
part that is listed at hundreds of places, as a common bolt is, it tells which
models it is listed on; --on MACHINE judges the places of one of them, --all every
place.

What fits on a whole machine is counted assembly by assembly where it plainly
fits on every variant; the rest is printed. --assembly prints one assembly, --all
everything.`,
		Example: `  matewell fits "Tarnholt 207.4418b"
  matewell fits 2074418B --on skerry-620/2003
  matewell fits --on skerry-620/2003 --frame TK6A-011377 --assembly front-brake
  matewell fits --on skerry-620/2003/eu/late --position front-brake/caliper-left`,
		Args: wants(0, 1, "at most one part number; put quotes around a brand and a number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				opts.Part = args[0]
			}
			if err := opts.check(); err != nil {
				return err
			}
			return run(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, partWords)),
	}
	opts.addFlags(e, cmd)
	return cmd
}

func (o *fitsOptions) addFlags(e desk.Env, cmd *cobra.Command) {
	addMachineFlags(e, cmd, &o.Where, &o.On, &o.Market, &o.Frame)
	cmd.Flags().StringVar(&o.Position, "position", "", "only at this `POSITION` of the machine")
	cmd.Flags().StringVar(&o.Assembly, "assembly", "", "only in this `ASSEMBLY` of the machine")
	cmd.Flags().BoolVar(&o.All, "all", false, allHelp+"; of a part that is listed at hundreds of places, each")
	cmd.Flags().BoolVar(&o.Twins, "twins", false, "also list other revisions and colours of the number")
	complete(cmd, "position", fromGraph(e, &o.Where, positionsOn(&o.On)))
	complete(cmd, "assembly", fromGraph(e, &o.Where, assembliesOn(&o.On)))
	o.askOptions.addFlags(cmd)
}

func (o *fitsOptions) check() error {
	switch {
	case o.Part == "" && o.On == "":
		return desk.Usagef("fits wants a part number, or a machine after --on")
	case o.On == "" && (o.Position != "" || o.Assembly != ""):
		return desk.Usagef("--position and --assembly belong to a machine: add --on")
	case o.Position != "" && o.Assembly != "":
		return desk.Usagef("give --position or --assembly, not both")
	}
	return nil
}

func runFits(ctx context.Context, e desk.Env, opts fitsOptions) error {
	whole := opts.Part == "" && opts.Position == "" && opts.Assembly == ""
	return ask(ctx, e, opts.askOptions, swap.Fits, opts.FitsQuestion,
		func(a fits.FitsAnswer) page.Page { return fitsPage(a, opts.All || !whole) })
}

// fitsPage lays out the answer, the counts first. Rows about a part name the
// machines, rows about a machine name the parts; those that plainly fit are
// counted unless all is asked for.
func fitsPage(a fits.FitsAnswer, all bool) page.Page {
	notes := &page.Footnotes{}
	rows := page.Section{Title: fitsTitle(a), Rows: fitsRecords(a)}
	rows.Lines = verdictLines(a.Verdicts)
	t := page.Table{Columns: []string{"part", "on", "position", "verdict", "why", "source"},
		Group: "position", Detail: "why", More: "source"}
	var plain page.Tally
	first := ""
	for _, row := range a.Rows {
		if !all && plainlyFits(a, row) {
			plain.Add(row.Position.Assembly().Local())
			continue
		}
		first = cmp.Or(first, row.ID)
		t.Add(fitsPart(a, row), fitsOn(a, row), page.Place(row.Position), row.Verdict.String(), fitsWhy(row, notes),
			fitsSource(row))
	}
	rows.Table = page.BothSides(t, "position", "part")
	if len(plain.Names) > 0 {
		rows.After = append(rows.After, "Besides, these plainly fit on every variant asked about: "+plain.At()+
			". --assembly prints those of one, --all prints all.")
	}
	if len(a.Models) > 0 {
		rows = rangeSection(a)
	} else if len(a.Rows) == 0 && len(a.Unsaid) == 0 {
		rows.Lines = append(rows.Lines, "Nobody says anything about it.")
	}
	for _, c := range a.Unsaid {
		rows.After = append(rows.After, "Nobody says anything about it on "+string(c.Model)+" "+c.String()+".")
	}
	if len(a.Rows) > 0 {
		rows.After = append(rows.After, whyLines(cmp.Or(first, a.Rows[0].ID))...)
	}
	for _, cut := range a.NotFollowed {
		rows.After = append(rows.After, "Not all was looked at: "+cut+".")
	}
	return page.Page{rows, splitSection(a.Split, fitsSettledBy(a)), belongsSection(a), notes.Section(),
		twinSection(a.Twins), withdrawnSection(a.Withdrawn), cautionSection(a.Cautions)}
}

// rangeSection tells of a part that is listed nearly everywhere on which models
// it is.
func rangeSection(a fits.FitsAnswer) page.Section {
	t := page.Table{Columns: []string{"model", "years", "places", "says", "why"}, Detail: "why"}
	records := page.Table{Columns: []string{"model", "covers", "places", "verdict", "via", "why"}}
	models := map[graph.ModelID]bool{}
	for _, m := range a.Models {
		models[m.Model] = true
		t.Add(string(m.Model), m.Covers, strconv.Itoa(m.Places), m.Verdict.String(), m.Why)
		records.Add(string(m.Model), m.Covers, strconv.Itoa(m.Places), m.Verdict.String(), string(m.Via), m.Why)
	}
	s := page.Section{Title: fmt.Sprintf("%s: said of %d models", fitsTitle(a), len(models)), Table: t,
		Rows: records}
	ask := "matewell fits " + strings.ReplaceAll(string(a.Part.ID), " ", "-")
	s.After = []string{"This is what the lists say; no place was looked at by itself, nor one list held against another.",
		fmt.Sprintf("The places of one machine: %s --on %s; every place: %[1]s --all", ask, a.Models[0].Model)}
	return s
}

// plainlyFits reports whether there is nothing to decide about a row: it fits on
// all that is asked about, and nobody says otherwise.
func plainlyFits(a fits.FitsAnswer, row fits.FitsRow) bool {
	return row.Verdict == graph.Fits && row.Part != "" && len(row.ContradictedBy) == 0 && fitsOn(a, row) == ""
}

func fitsTitle(a fits.FitsAnswer) string {
	title := "What fits"
	if a.Part != nil {
		title = "Where " + string(a.Part.ID) + " fits"
		if a.Part.Name != "" {
			title = "Where " + string(a.Part.ID) + " (" + a.Part.Name + ") fits"
		}
	}
	if a.On != nil {
		title += " on " + a.On.Asked
		if a.On.Frame != "" {
			title += ", frame " + a.On.Frame
		}
	}
	return title
}

// fitsOn says on which machines a row holds, as far as the question leaves that
// open.
func fitsOn(a fits.FitsAnswer, row fits.FitsRow) string {
	switch {
	case a.On == nil:
		return onCell(row.Coverage)
	case a.On.Frame != "", len(a.On.Variants) == len(row.Coverage.On) && row.Coverage.Frames == "":
		return ""
	case len(a.On.Variants) == 1 && row.Coverage.Frames == a.On.Variants[0].Frames.String():
		return ""
	}
	return row.Coverage.String()
}

func fitsPart(a fits.FitsAnswer, row fits.FitsRow) string {
	switch {
	case a.Part != nil:
		return "" // the title says it
	case row.Part == "":
		return "not known"
	}
	return page.Hard(row.Part)
}

// fitsWhy is the reason in one phrase, with what has to be done and what else
// must be known.
func fitsWhy(row fits.FitsRow, notes *page.Footnotes) string {
	why := row.Why
	if why == page.Join(row.Changes, func(c evidence.Change) string { return c.Do }) {
		why = "" // the changes are the reason
	}
	for _, c := range row.Changes {
		why += "\n" + changeText(c)
	}
	if len(row.Schemes) > 0 {
		why += fmt.Sprintf("\nin scheme %s", page.List(row.Schemes))
	}
	if len(row.ContradictedBy) > 0 {
		why += "\ncontradicted " + notes.Add(against(row))
	}
	return strings.TrimPrefix(why, "\n")
}

// fitsSettledBy names the facts that tell the variants asked about apart.
func fitsSettledBy(a fits.FitsAnswer) []string {
	var facts []string
	for _, row := range a.Rows {
		for _, fact := range row.SettledBy {
			if !slices.Contains(facts, fact) {
				facts = append(facts, fact)
			}
		}
	}
	return facts
}

// fitsSource is whose word a row is, and that nobody says what was computed.
func fitsSource(row fits.FitsRow) string {
	text := sourceCell(row.Source, row.Rank, row.OtherSources)
	if row.Via == evidence.ViaComputed && text != "" {
		text = "computed from " + text
	}
	return text
}

// against says in short who contradicts a row, and what would settle it.
func against(row fits.FitsRow) string {
	text := fmt.Sprintf("%s at %s, %s: %s (%s)", wording.OrNobody(row.Part), row.Position.Local(), row.Covers,
		row.Verdict, evidence.VoiceText(row.Via, row.Source, row.Rank, row.Steps))
	for _, c := range row.ContradictedBy {
		text += "; against it " + c.String()
	}
	if row.Settle != "" {
		text += ". To settle it: " + row.Settle
	}
	return text
}

// fitsRecords is every row in full, one value to a cell.
func fitsRecords(a fits.FitsAnswer) page.Table {
	t := page.Table{Columns: []string{"model", "from", "to", "markets", "mark", "frames", "position", "part", "verdict",
		"via", "why", "changes", "source", "rank", "other_sources", "contradicted_by", "settle", "settled_by", "id"}}
	for _, row := range a.Rows {
		c := row.Coverage
		t.Add(string(c.Model), page.Year(c.From), page.Year(c.To), page.List(c.Markets), c.Mark, c.Frames,
			string(row.Position),
			string(row.Part), row.Verdict.String(), string(row.Via), row.Why, page.Join(row.Changes, changeText), row.Source.ID,
			row.Rank.String(), page.Join(row.OtherSources, sourceID),
			page.Join(row.ContradictedBy, evidence.Contradiction.String),
			row.Settle, page.List(row.SettledBy), row.ID)
	}
	return t
}
