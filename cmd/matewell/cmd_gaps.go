package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/disk"
	"matewell/loader"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/gaps"
	"matewell/queries/lists"
	"matewell/queries/swap"
)

type gapsOptions struct {
	askOptions
	gaps.Question
	swaps  []string
	all    bool
	sheet  string
	seller bool
	force  bool
}

func newGapsCmd(e desk.Env) *cobra.Command {
	var opts gapsOptions
	cmd := &cobra.Command{
		Use:   "gaps --on MACHINE [--swap POSITION=PART | --take PLACE --from MACHINE]",
		Short: "Tell what can't be judged yet, and which measurement settles most",
		Long: `Gaps lists what nobody can judge yet: on a machine as it stands, or once other
parts are on it, and what fails. The measurements that would settle it are
ranked: safety first, then how many answers hang on each, then how easy it is to
get at.

--sheet writes a sheet to print or fill in; a filled CSV comes back by
"matewell record --from FILE.csv". --seller makes of the same list a short
message for whoever offers the part and has no gauge.`,
		Example: `  matewell gaps --on winter-project --assembly front-brake
  matewell gaps --on skerry-620/2003/eu/late --swap front-brake/caliper-left=207.7412 --seller
  matewell gaps --on skerry-620/2003/eu/late --take front-wheel --from fjeld-750/2003/eu --sheet wheel.csv`,
		Args: wants(0, 0, "flags only: --on MACHINE"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			for _, text := range opts.swaps {
				one, err := swap.ParseSwap(text)
				if err != nil {
					return desk.Usagef("%v", err)
				}
				opts.Swaps = append(opts.Swaps, one)
			}
			return runGaps(cmd.Context(), e, opts)
		},
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	addMachineFlags(e, cmd, &opts.Where, &opts.On, &opts.Market, &opts.Frame)
	flags := cmd.Flags()
	flags.StringArrayVar(&opts.swaps, "swap", nil, "with this part on: `POSITION=PART`; may be given several times")
	flags.StringArrayVar(&opts.Take, "take", nil, "with this `PLACE` taken over, a position or an assembly; may be "+
		"given several times")
	flags.StringVar(&opts.From, "from", "", "the `MACHINE` that --take takes from")
	flags.StringVar(&opts.Assembly, "assembly", "", "only what concerns this `ASSEMBLY`")
	flags.BoolVar(&opts.all, "all", false, "list every gap, not the first "+strconv.Itoa(maxGaps))
	flags.StringVar(&opts.sheet, "sheet", "", "write a measuring sheet to this `FILE`, .html to print or .csv to fill in")
	flags.BoolVar(&opts.force, "force", false, "write the sheet over a file that matewell did not write")
	flags.BoolVar(&opts.seller, "seller", false, "print a message for whoever offers the part")
	notBoth(cmd, "swap", "take")
	complete(cmd, "from", fromGraph(e, &opts.Where, variantWords))
	opts.addFlags(cmd)
	return cmd
}

// maxGaps is how many gaps a table lists unasked.
const maxGaps = 25

func runGaps(ctx context.Context, e desk.Env, opts gapsOptions) (err error) {
	switch {
	case opts.On == "":
		return desk.Usagef("say on which machine: --on MACHINE")
	case len(opts.Take) > 0 && opts.From == "":
		return desk.Usagef("say what --take takes the part from: --from MACHINE")
	case len(opts.Take) == 0 && opts.From != "":
		return desk.Usagef("say what is taken from %s: --take PLACE", opts.From)
	case opts.seller && len(opts.swaps)+len(opts.Take) == 0:
		return desk.Usagef("--seller is about a part that is offered: add --swap POSITION=PART")
	}
	if opts.sheet != "" && !slices.Contains([]string{".html", ".csv"}, strings.ToLower(filepath.Ext(opts.sheet))) {
		return desk.Usagef("a sheet is an .html or a .csv file, and %s is neither", opts.sheet)
	}
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	opts.Usual = loader.Lacking
	answer, err := gaps.Gaps(ctx, r, opts.Question)
	if err != nil {
		return err
	}
	if opts.sheet != "" {
		if err := writeSheet(e, opts, answer); err != nil {
			return err
		}
	}
	if opts.seller && opts.format == page.FormatTable {
		_, err = fmt.Fprint(e.Out, sellerText(answer))
	} else {
		err = printAnswer(e, opts.format, answer, gapsPage(answer, opts.all), r.Left)
	}
	if err == nil && answer.SafetyOpen() {
		err = desk.ErrUnsafe
	}
	return err
}

func gapsPage(a gaps.Answer, all bool) page.Page {
	head := page.Section{Title: "What can't be judged yet on " + string(a.On)}
	if a.Bike != "" {
		head.Title += " (" + string(a.Bike) + ")"
	}
	for _, s := range a.Swaps {
		head.Lines = append(head.Lines, "with "+string(s.Now)+" at "+s.Position.Local())
	}
	head.Lines = append(head.Lines, fmt.Sprintf("%d of %d joints, runs and rows can't be judged; %d do not fit.", a.Open,
		a.Judged, len(a.Fails)))
	pages := page.Page{head}
	if len(a.Fails) > 0 {
		pages = append(pages, openSection("What does not fit", a.Fails))
	}
	list := page.Section{Title: "What settles most, first"}
	list.Table = page.Table{Columns: []string{"", "where", "what", "with", "to", "settles", "off first"}}
	list.Rows = page.Table{Columns: []string{"rank", "position", "part", "feature", "dimension", "what", "gauge",
		"accuracy", "safety", "settles", "off first", "for"}}
	for i, g := range a.Gaps {
		if all || i < maxGaps {
			list.Table.Add(strconv.Itoa(i+1), page.BreakAfter(g.Where, "/"), g.What, g.Gauge, g.Accuracy, settlesText(g),
				offFirst(g))
		}
		list.Rows.Add(strconv.Itoa(i+1), g.Position.Local(), string(g.Part), g.Feature, g.Dim, g.What, g.Gauge, g.Accuracy,
			string(g.Safety),
			strconv.Itoa(len(g.Settles)), strconv.Itoa(g.Off), page.Join(g.Settles, func(s string) string { return s }))
	}
	switch more := len(a.Gaps) - maxGaps; {
	case len(a.Gaps) == 0:
		list.Lines = []string{"Nothing that a measurement would settle."}
	case more > 0 && !all:
		list.After = []string{fmt.Sprintf("%d more; --all lists them, --assembly narrows them, --sheet writes them down.",
			more)}
	}
	pages = append(pages, list)
	if len(a.Rest) > 0 {
		pages = append(pages, openSection("Unknown, and no measurement is known that settles it", a.Rest))
	}
	if len(a.Unwritten) > 0 {
		pages = append(pages, unwrittenSection(a.Unwritten, all))
	}
	return append(pages, cautionSection(a.Cautions))
}

// unwrittenSection tells what nobody judges since nobody wrote it down; that is no fault.
func unwrittenSection(list []gaps.Unwritten, all bool) page.Section {
	s := page.Section{Title: "Joints that such a machine usually has, and nobody wrote of this one",
		Table: page.Table{Columns: []string{"joint", "what", "meets"}}}
	for _, u := range list {
		end := func(e examine.End) string { return page.BreakAfter(e.Position.Local()+"."+e.Feature, "/") }
		s.Table.Add(queries.LocalName(string(u.Joint)), end(u.A), end(u.B))
	}
	s.After = []string{"What they would judge is judged by nobody. A model writes them under joints; " +
		"no fault where it has them otherwise."}
	tell := ". --all lists them."
	if len(list) == 1 {
		tell = ". --all lists it."
	}
	return page.Folded(s, all, fmt.Sprintf("%d %s, so", len(list), page.Plural(len(list), "joint", "joints"))+
		" that nobody judges how those parts meet"+tell)
}

func settlesText(g gaps.Gap) string {
	text := g.Settles[0]
	if len(g.Settles) > 1 {
		text = fmt.Sprintf("%d answers", len(g.Settles))
	}
	if g.Safety != graph.SafetyNone {
		text += " (" + string(g.Safety) + ")"
	}
	return text
}

func offFirst(g gaps.Gap) string {
	if g.Off == 0 {
		return ""
	}
	return strconv.Itoa(g.Off) + " " + page.Plural(g.Off, "part", "parts")
}

func openSection(title string, outcomes []examine.Outcome) page.Section {
	s := page.Section{Title: title, Table: page.Table{Columns: []string{"what", "why", "order"}, Detail: "order"}}
	for _, o := range outcomes {
		_, local, _ := strings.Cut(o.ID, ":")
		safety := ""
		if len(o.Safety) > 0 {
			safety = " (" + string(o.Safety[0]) + ")"
		}
		var orders []string
		for _, c := range o.Checks {
			for _, order := range c.Orders {
				if c.Verdict != graph.Fits && !slices.Contains(orders, order.Text) {
					orders = append(orders, order.Text)
				}
			}
		}
		s.Table.Add(o.What+" "+local+safety, o.Why, page.Join(orders, func(text string) string { return text }))
	}
	return s
}

// sheetColumns are those of a measuring sheet. What is filled in stands under
// "value" and "with"; the rest tells "matewell record" what it is about.
var sheetColumns = []string{"part", "feature", "dimension", "position", "what", "with", "to", "value", "note"}

// writeSheet writes the gaps as a sheet to print or to fill in.
func writeSheet(e desk.Env, opts gapsOptions, a gaps.Answer) error {
	var b bytes.Buffer
	if strings.EqualFold(filepath.Ext(opts.sheet), ".csv") {
		w := csv.NewWriter(&b)
		rows := [][]string{sheetColumns}
		for _, g := range a.Gaps {
			rows = append(rows, []string{string(g.Part), g.Feature, g.Dim, string(g.Position), askedFor(g), g.Gauge, g.Accuracy,
				"",
				""})
		}
		rows = append(rows, []string{"", "", "", "", "sheet for " + string(a.On) + ", " + desk.OwnMark + " on " +
			desk.Today(e), "", "", "", ""})
		if err := w.WriteAll(rows); err != nil {
			return fmt.Errorf("write %s: %w", opts.sheet, err)
		}
	} else {
		s := measuringSheet(a)
		s.Made = desk.Today(e)
		if err := s.write(&b); err != nil {
			return fmt.Errorf("write %s: %w", opts.sheet, err)
		}
	}
	if !opts.force {
		if err := mayReplaceSheet(opts.sheet); err != nil {
			return err
		}
	}
	if err := disk.Replace(opts.sheet, b.Bytes(), 0o644); err != nil {
		return fmt.Errorf("write %s: %w", opts.sheet, err)
	}
	fmt.Fprintf(e.Err, "matewell: wrote %s, %d lines to fill in\n", opts.sheet, len(a.Gaps))
	return nil
}

// askedFor says what is asked for, with the words that it takes.
func askedFor(g gaps.Gap) string {
	if len(g.Words) == 0 {
		return g.What
	}
	return g.What + ": " + strings.Join(g.Words, " | ")
}

// mayReplaceSheet refuses any file that is there: a sheet may be filled in.
func mayReplaceSheet(file string) error {
	if err := disk.MayWrite(file); err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	if _, err := os.Stat(file); err == nil {
		return fmt.Errorf("%s is there already, perhaps filled in: choose another name, or write over it with --force", file)
	}
	return nil
}

// measuringSheet is the sheet to print, with room for each value.
func measuringSheet(a gaps.Answer) jobSheet {
	b := sheetBlock{ID: "measure", Title: "The first lines settle most",
		Lines: []string{"Measure each twice, clean and cold; note what you read, with its unit."}}
	b.Table.Columns = []string{"no.", "where", "what", "with", "to", "value"}
	for i, g := range a.Gaps {
		where := joinLines(g.Where, string(g.Part), string(g.Safety))
		b.Table.Add(strconv.Itoa(i+1), where, askedFor(g), g.Gauge, g.Accuracy, toWrite)
	}
	return jobSheet{Title: "Measuring sheet, " + string(a.On), Blocks: []sheetBlock{b}}
}

// How much a message for a seller asks for.
const (
	maxSellerMarks    = 6
	maxSellerPhotos   = 5
	maxSellerMeasures = 3
)

// sellerText asks whoever offers a part, and has no gauge, for what decides.
func sellerText(a gaps.Answer) string {
	var b strings.Builder
	for _, s := range a.Swaps {
		what := s.NowName
		if what == "" {
			what = s.Name
		}
		var marks, photos, measures []string
		for _, g := range forSeller(a, s) {
			switch {
			case slices.Contains(marks, plainly(g)): // asked already
			case g.Gauge == graph.ByEye && len(marks) < maxSellerMarks:
				marks = append(marks, plainly(g))
			case g.Gauge != graph.ByEye && len(measures) < maxSellerMeasures:
				measures = append(measures, plainly(g)+" ("+g.Gauge+")")
			}
			if photo := strings.ReplaceAll(g.Feature, "-", " "); len(photos) < maxSellerPhotos && !slices.Contains(photos,
				photo) && g.Gauge != graph.ByEye {
				photos = append(photos, photo)
			}
		}
		fmt.Fprintf(&b, "Your %s, %s: before I buy it I must know that it fits my machine (%s).\n", what, s.Now, a.On)
		b.WriteString("1. Which numbers and marks stand on it, cast, stamped or on a label? All of them, please.\n")
		for _, m := range marks {
			b.WriteString("   - " + m + "\n")
		}
		b.WriteString("2. Photos in which a ruler lies beside it: the whole part, its numbers")
		if len(photos) > 0 {
			b.WriteString("; straight from the front: " + page.List(photos))
		}
		b.WriteString(".\n")
		if len(measures) > 0 {
			b.WriteString("3. If you can measure, these decide (a ruler is better than nothing; say what you used):\n")
			for _, m := range measures {
				b.WriteString("   - " + m + "\n")
			}
		}
		b.WriteString("Thank you.\n")
	}
	return b.String()
}

// forSeller are the gaps that whoever offers a part can close: first what decides whether a
// line reaches, then of each feature one before the next of any.
func forSeller(a gaps.Answer, s swap.SwapLine) []gaps.Gap {
	asked := lists.Kept(a.Gaps, func(g gaps.Gap) bool { return g.Position == s.Position && g.Part == s.Now && g.Easy() })
	reaches := func(g gaps.Gap) bool {
		return slices.ContainsFunc(g.Settles, func(what string) bool { return strings.HasPrefix(what, examine.OfRun+" ") })
	}
	slices.SortStableFunc(asked, func(x, y gaps.Gap) int {
		return cmp.Compare(lists.Order(!reaches(x)), lists.Order(!reaches(y)))
	})
	var turns [][]gaps.Gap
	of := map[string]int{}
	for _, g := range asked {
		turn := of[g.Feature]
		of[g.Feature]++
		if turn == len(turns) {
			turns = append(turns, nil)
		}
		turns[turn] = append(turns[turn], g)
	}
	return slices.Concat(turns...)
}

// plainly says a measure as one would to somebody else.
func plainly(g gaps.Gap) string { return strings.ReplaceAll(g.Feature, "-", " ") + ": " + g.What }
