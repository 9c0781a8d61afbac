package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/queries"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/figure"
	"matewell/queries/lists"
	"matewell/queries/once"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

type swapOptions struct {
	askOptions
	swap.SwapQuestion
	sheetOptions
	picture string
	force   bool
	all     bool
	shop    bool
}

func newSwapCmd(e desk.Env) *cobra.Command { return withPlan(e, runSwap) }

// swapCommand takes the question; run answers it.
func swapCommand(e desk.Env, run func(ctx context.Context, e desk.Env, opts swapOptions) error) *cobra.Command {
	var opts swapOptions
	cmd := &cobra.Command{
		Use:   "swap --on MACHINE POSITION=PART...",
		Short: "Tell what putting other parts on a machine implies",
		Long: `Swap tells what happens when parts of a machine are replaced: what mates and
what does not, by how much, what to get or to make instead, what to renew and
what to measure first, the numbers before and after, the torques, and what each
consequence drags in, to its end.

The machine is a variant, a model year, or a bike of your own, which is taken as
found. A model year that holds several variants is split where their answers
differ; --market and --frame say which it is, and --picture, --sheet and --plan want
one. Give several POSITION=PART together when they go on together; POSITION=none
takes a part off. --picture also draws what is touched; --sheet writes what is taken
to the bench: parts, tools, the order of work, each joint's torque, what to try
afterwards. --shop gives one list of what to get instead, in CSV one row a number.

The first lines say what it comes to. What mates, and what differs and was judged,
is counted; --all prints it.`,
		Example: `  matewell swap --on skerry-620/2003/eu/late front-brake/master-cylinder="Tarnholt 207.7003"
  matewell swap --on skerry-620/2002/eu bodywork/side-panel-left="Tarnholt 302.4026/sl" --picture swap.svg
  matewell swap --on winter-project lamps/headlamp=402.4004 --sheet headlamp.html`,
		Args: wants(1, -1, "POSITION=PART, such as front-brake/caliper-left=311.0042a"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if opts.On == "" {
				return desk.Usagef("swap wants a machine after --on")
			}
			for _, arg := range args {
				change, err := swap.ParseSwap(arg)
				if err != nil {
					return desk.WrongUsage(err)
				}
				opts.Swaps = append(opts.Swaps, change)
			}
			if err := opts.check(); err != nil {
				return err
			}
			return run(cmd.Context(), e, opts)
		},
		ValidArgsFunction: fromGraph(e, &opts.Where, swapWords(&opts.On)),
	}
	addMachineFlags(e, cmd, &opts.Where, &opts.On, &opts.Market, &opts.Frame)
	cmd.Flags().StringVar(&opts.Scheme, "scheme", "", "the machine's colour `SCHEME`; without it the first it was sold in")
	cmd.Flags().StringVar(&opts.picture, "picture", "", "also draw what is touched into this SVG `FILE`")
	opts.addFlag(cmd)
	cmd.Flags().BoolVar(&opts.force, "force", false, "let --picture and --sheet write over a file that is not matewell's")
	addShopFlag(cmd, &opts.shop)
	opts.addFlags(cmd)
	return cmd
}

// addShopFlag gives a command the flag that asks for one list of what to get.
func addShopFlag(cmd *cobra.Command, shop *bool) {
	cmd.Flags().BoolVar(shop, "shop", false, "instead give one list of what to get: numbers, kits, what is made, fluids")
	notBoth(cmd, "shop", "picture")
}

// giveShop prints one list of what to get for a swap or a plan.
func giveShop(e desk.Env, f page.Format, a swap.ShopAnswer, left shelf.LeftOut) error {
	p := swapShopPage(a)
	if f == page.FormatCSV {
		p = page.Page{buyingSection("", a.List)}
	}
	if err := printAnswer(e, f, a, p, left); err != nil {
		return err
	}
	if a.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}

// swapWords completes the position, then the part behind the equals sign.
func swapWords(on *string) wordsFrom {
	return func(ctx context.Context, r graph.Reader, typed string) ([]string, error) {
		position, part, hasPart := strings.Cut(typed, "=")
		if !hasPart {
			words, err := positionsOn(on)(ctx, r, typed)
			for i := range words {
				words[i] += "="
			}
			return words, err
		}
		words, err := partWords(ctx, r, part)
		for i := range words {
			words[i] = position + "=" + words[i]
		}
		return words, err
	}
}

func runSwap(ctx context.Context, e desk.Env, opts swapOptions) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	if opts.shop {
		answer, err := donor.ShopSwap(ctx, r, opts.SwapQuestion)
		if err != nil {
			return err
		}
		return giveShop(e, opts.format, answer, r.Left)
	}
	kept := once.New(r) // a picture and a sheet put questions of their own
	report, err := swap.SwapEach(ctx, kept, opts.SwapQuestion)
	if err != nil {
		return err
	}
	if opts.picture != "" || opts.sheet != "" {
		if len(report.Split) > 0 {
			return desk.Usagef("a picture or a sheet is for one machine, and the answer depends on which of these it "+
				"is: %s; to settle it: %s",
				page.Join(report.Split, func(s queries.SplitLine) string { return string(s.Variant) }),
				settleWords(report.SettledBy))
		}
	}
	if err := writeSwapFiles(ctx, e, kept, opts, report.Answers[0]); err != nil {
		return err
	}
	if err := printAnswer(e, opts.format, report, swapReportPage(report, opts.all), r.Left); err != nil {
		return err
	}
	if report.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}

// writeSwapFiles writes the picture and the job sheet that were asked for.
func writeSwapFiles(ctx context.Context, e desk.Env, r graph.Reader, opts swapOptions, a swap.SwapAnswer) error {
	if opts.picture == "" && opts.sheet == "" {
		return nil
	}
	figures, err := figure.ForSwap(ctx, r, opts.SwapQuestion, a)
	if err != nil {
		return err
	}
	if opts.picture != "" {
		if err := drawSwap(e, opts.picture, a, figures, opts.force); err != nil {
			return err
		}
	}
	if opts.sheet == "" {
		return nil
	}
	bench, err := worksheet.ForSwap(ctx, r, opts.SwapQuestion, a)
	if err != nil {
		return err
	}
	return writeJobSheet(e, opts.sheet, swapSheet(a, bench, figures), opts.force)
}

// swapPage lays out the answer in the order a fitter works through it: what it
// comes to, what is in the way, what to get and do. What mates is counted unless
// all is asked for.
func swapPage(a swap.SwapAnswer, all bool) page.Page {
	return page.Page{
		swapHead(a),
		outcomeSection("What does not mate", a.DoesNotMate),
		outcomeSection("What was wrong or unknown before, and still is", a.Before),
		outcomeSection("What is unknown", withoutPlaces(a.Unknown, a.NotJudged)),
		notJudgedSection(a.NotJudged),
		outcomeSection("What mates once something is done", a.WithChanges),
		getSection(a.Get, all),
		thenSection(a, all),
		renewSection(a.Renew),
		measureSection(a.Measure),
		numberSection(a.Numbers, all),
		torqueSection(a.Torques, all),
		conflictSection(a.Conflicts),
		matesSection(a.Mates, all),
		differsSection(a.Differs, all),
		trailSection(a.Trails, all),
		cautionSection(a.Cautions),
	}
}

func swapHead(a swap.SwapAnswer) page.Section {
	s := page.Section{Title: "Swap on " + string(a.On)}
	if len(a.Covers) > 1 || len(a.Covers) == 1 && len(a.Covers[0].On) > 1 {
		s.Title = "Swap on " + string(a.On.Model()) + " " + page.Join(a.Covers, queries.Coverage.String)
	}
	if a.Bike != "" {
		s.Title = fmt.Sprintf("Swap on %s (%s)", a.Bike, a.On)
	}
	if a.Scheme != "" {
		s.Title += ", scheme " + a.Scheme
	}
	s.Lines = append(standingLines(a), "Why: matewell why "+a.ID)
	s.Table.Columns = []string{"position", "was", "becomes", "built on"}
	for _, line := range a.Swaps {
		s.Table.Add(page.Place(line.Position), partCell(line.Was, line.WasName, line.WasWhy), partCell(line.Now, line.NowName,
			"taken off"), page.Hard(line.BuiltOn))
		if line.WasByBook {
			s.After = append(s.After, fmt.Sprintf("%s: judged against %s.", line.Position.Local(), line.WasWhy))
		}
		if len(line.WasElse) > 0 {
			s.After = append(s.After, fmt.Sprintf("Sources also list at %s: %s.", line.Position.Local(), page.Join(line.WasElse,
				page.Hard)))
		}
		if line.Note != "" {
			s.After = append(s.After, fmt.Sprintf("Careful: %s %s.", page.Hard(line.Now), line.Note))
		}
		if line.FromKit != "" {
			s.After = append(s.After, fmt.Sprintf("%s is taken out of the kit %s.", page.Hard(line.Now),
				page.Hard(line.FromKit)))
		}
	}
	return page.OnceOnly(s, "position", "was", "becomes")
}

func partCell(id graph.PartID, name, without string) string {
	switch {
	case id == "":
		return "nothing: " + without
	case name == "":
		return page.Hard(id)
	}
	return page.Hard(id) + "\n" + name
}

func readyWords(ready bool, why []swap.Hindrance) string {
	if ready {
		return "Nothing safety-relevant is unknown or does not fit."
	}
	return "Not ready to ride: " + againstWords(why) + "."
}

// againstWords counts what stands against riding: what is wrong or not known apart from
// what is only to be done.
func againstWords(why []swap.Hindrance) string {
	work := len(lists.Kept(slices.Clone(why), swap.Hindrance.IsWork))
	n := len(why) - work
	switch bad := fmt.Sprintf("%d safety-relevant %s unknown or %s not fit", n, page.Plural(n, "thing is", "things are"),
		page.Plural(n, "does", "do")); {
	case work == 0:
		return bad
	case n == 0:
		return fmt.Sprintf("%d safety-relevant %s only after work", work, page.Plural(work, "thing fits", "things fit"))
	default:
		return fmt.Sprintf("%s, and %d %s only after work", bad, work, page.Plural(work, "fits", "fit"))
	}
}

// outcomeSection shows what was judged: one row for each check that is not a
// plain "fits".
func outcomeSection(title string, outcomes []examine.Outcome) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"what meets", "why", "had", "wanted", "gap", "do"}, Detail: "why"}
	for _, o := range outcomes {
		for _, c := range o.Checks {
			if c.Verdict != o.After {
				continue
			}
			why := c.Why
			if o.Before == o.After && o.Same {
				why += " (as before)"
			}
			s.Table.Add(endsCell(o), why, c.Had, c.Wanted, c.Gap, doCell(c.Do, c.Effort))
		}
	}
	s.Rows = outcomeRecords(outcomes)
	return page.OnceOnly(s, "what meets")
}

// endsCell names what meets: the two sides of a joint, else the line, the row or
// the circuit by its name.
func endsCell(o examine.Outcome) string {
	text := meetingName(o)
	if len(o.Safety) > 0 {
		text += " (" + page.Join(o.Safety, func(s graph.Safety) string { return string(s) }) + ")"
	}
	return text
}

// meetingName is endsCell without the safety classes.
func meetingName(o examine.Outcome) string {
	switch o.What {
	case examine.OfJoint, examine.OfPair, examine.OfYokes, examine.OfWord, examine.OfKind, examine.OfOpenEnd,
		examine.OfPlace, examine.OfSupport:
		var words []string
		for _, e := range o.Ends {
			words = append(words, page.Place(e.Position))
		}
		return strings.Join(slices.Compact(words), " + ")
	case examine.OfRun:
		return "run of " + page.Place(o.Ends[0].Position)
	case examine.OfDisc:
		return page.Place(o.Ends[0].Position) + " in its caliper"
	case examine.OfFinish:
		return "painted panels"
	}
	return page.BreakAfter(o.Name(), "/")
}

func doCell(do []string, effort graph.Effort) string {
	text := strings.Join(do, "; ")
	if text != "" && effort != graph.EffortNone {
		text += ": " + effort.String()
	}
	return text
}

// outcomeRecords is every check of every outcome, for CSV.
func outcomeRecords(outcomes []examine.Outcome) page.Table {
	t := page.Table{Columns: []string{"what", "id", "ends", "safety", "before", "after", "rule", "verdict", "why", "had",
		"wanted", "gap", "do", "effort", "answer_id"}}
	for _, o := range outcomes {
		for _, c := range o.Checks {
			t.Add(o.What, o.ID, page.Join(o.Ends, func(e examine.End) string { return string(e.Position) }),
				page.Join(o.Safety, func(s graph.Safety) string { return string(s) }), o.Before.String(), o.After.String(),
				c.Rule, c.Verdict.String(), c.Why, c.Had, c.Wanted, c.Gap, strings.Join(c.Do, "; "), c.Effort.String(), o.AnswerID)
		}
	}
	return t
}

// matesSection says shortly what mates, counted by assembly.
func matesSection(outcomes []examine.Outcome, all bool) page.Section {
	s := page.Section{Title: "What mates"}
	s.Table = page.Table{Columns: []string{"what meets", "why"}}
	var mates page.Tally
	for _, o := range outcomes {
		s.Table.Add(endsCell(o), o.Why)
		mates.Add(page.AssemblyOf(o.Ends[0].Position.Local()))
	}
	s.Rows = outcomeRecords(outcomes)
	return page.Folded(page.OnceOnly(s, "what meets"), all, mates.At()+". "+page.AllPrints(len(outcomes)))
}
