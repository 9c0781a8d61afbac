package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/donor"
	"matewell/queries/figure"
	"matewell/queries/once"
	"matewell/queries/plan"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

type donorOptions struct {
	askOptions
	donor.DonorQuestion
	sheetOptions
	picture          string
	force            bool
	prefer           string
	compare, suggest bool
	offers           []string
	budget           string
	spare            []string // what --reversible names; everyPart for all
	shop             bool
}

// everyPart is what --reversible means when it names no place.
const everyPart = "every part"

// formatOPB writes the problem that was solved, not the answer.
const formatOPB page.Format = "opb"

const donorHelp = `Donor takes what is to come over from another machine and finds the smallest set
of further changes after which everything it touches mates: what else to take
from the donor, what to get, what to make, and what may stay. It proves that no
smaller set exists, or says how long it looked.

Smallest is, in this order: fewest safety-relevant things left unknown, easiest
work, fewest parts to find or make, least money, fewest places changed. --prefer
puts parts or money before the work. What the donor has costs nothing; what else
nobody gave a price for counts as the dearest part for the same place, and comes
after it where two cost the same; it is not in the sum.

PLACE is a position (front-brake/caliper-left) or a whole assembly (fork). Part
several with commas, or repeat the flag. When nothing works, it names the fewest
joints that can't hold together and what would open the way.

Where only one of the two machines has a place, as a spacer where the older year has
a speedometer drive, what the donor has there may come along or stay on it, and what
the machine has may come off for good: the plan says which, and what may be missed.

On a bike of your own, a place that is missing is filled when something next to
it changes. --boxes takes what lies in the boxes first, each thing once.

While it looks for longer than half a second, a terminal shows the best plan so
far; Ctrl-C takes that one.

--shop gives one list of what to get for the plan instead.

--offer is something that can be had: a file of offers (matewell schema offers), or
"WHAT; PRICE" in one line, with postage and condition behind if there are any. WHAT
is places of a machine, fork,front-wheel of fjeld-750/2003/eu, or part numbers. An
offer is had whole or not at all. PRICE is "unknown" where nobody named one: it is
then taken only for want of what has a price. Without --from, what --take names
comes out of the offers, and the plan chooses among them: it says what each is used
for, what is left over to sell, and what the cheapest whole way costs. --budget is
the most that may be spent. Nobody has looked at what is "to inspect", so that it
counts as unknown.

--reversible keeps the parts at PLACES, or without any all parts, from being
drilled, turned or welded. --donor-stays takes from the donor nothing that it needs
to be ridden, unless what comes off the machine takes its place there.

--suggest tells which assemblies are best taken whole, and what it takes to make
each group of them fit. --compare puts several donors side by side. --format opb
writes the very problem that was solved, for any pseudo-Boolean solver to check.`

const donorExamples = `  matewell donor --on skerry-620/2002/eu --from fjeld-750/2003/eu --take front-brake/master-cylinder
  matewell donor --on skerry-620/2005/eu --from fjeld-750/2004/eu --take front-brake/caliper-left,front-brake/caliper-right --keep fork
  matewell donor --on skerry-620/2003/eu/late --take front-wheel/wheel --compare fjeld-750/2003/eu skerry-620/2005/eu
  matewell donor --on skerry-620/2003/eu/late --from fjeld-750/2003/eu --suggest
  matewell donor --on skerry-620/2003/eu/late --take front-wheel/wheel --offer "front-wheel of fjeld-750/2003/eu; 180 EUR; 25 EUR" --offer "Tarnholt 205.7006; 95 EUR; 18 EUR"`

func newDonorCmd(e desk.Env) *cobra.Command {
	opts := donorOptions{}
	cmd := &cobra.Command{
		Use:     "donor --on MACHINE --from VARIANT --take PLACE,... [--compare VARIANT...]",
		Short:   "Plan the fewest further changes that make donor parts mate",
		Long:    donorHelp,
		Example: donorExamples,
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := opts.check(args); err != nil {
				return err
			}
			if err := opts.checkUnused(cmd.Flags().Changed); err != nil {
				return err
			}
			if opts.suggest && !cmd.Flags().Changed("time") {
				opts.Time = donor.UnitsTime
			}
			return runDonor(cmd.Context(), e, opts, args)
		},
		ValidArgsFunction: fromGraph(e, &opts.Where, variantWords),
	}
	addMachineFlags(e, cmd, &opts.Where, &opts.On, &opts.Market, &opts.Frame)
	f := cmd.Flags()
	f.StringVar(&opts.From, "from", "", "the `VARIANT` that parts come from")
	f.StringSliceVar(&opts.Take, "take", nil, "`PLACES` that come over: positions or assemblies")
	f.BoolVar(&opts.suggest, "suggest", false, "tell which assemblies are best taken whole")
	f.BoolVar(&opts.compare, "compare", false, "put the donors named as arguments side by side")
	opts.addPlanFlags(e, cmd)
	f.BoolVar(&opts.DonorStays, "donor-stays", false, "take nothing from the donor that it needs to be ridden")
	f.StringVar(&opts.Scheme, "scheme", "", "the machine's colour `SCHEME`; without it the first it was sold in")
	f.StringVar(&opts.picture, "picture", "", "also draw what the plan touches into this SVG `FILE`")
	opts.addFlag(cmd)
	f.BoolVar(&opts.force, "force", false, "let --picture and --sheet write over a file that is not matewell's")
	addShopFlag(cmd, &opts.shop)
	complete(cmd, "from", fromGraph(e, &opts.Where, variantWords))
	complete(cmd, "take", fromGraph(e, &opts.Where, placesOn(&opts.On)))
	addWhere(cmd, &opts.Where)
	addPlanFormat(cmd, &opts.format)
	return cmd
}

// addPlanFlags are the flags of whatever plans.
func (o *donorOptions) addPlanFlags(e desk.Env, cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringSliceVar(&o.Keep, "keep", nil, "`PLACES` that must stay: positions or assemblies")
	f.StringVar(&o.prefer, "prefer", plan.PreferEffort.String(), "`WHAT` counts first after safety: effort, parts, money")
	f.DurationVar(&o.Time, "time", donor.DonorTime, "how `LONG` the answer may take, when it looks for the smallest plan")
	f.BoolVar(&o.All, "all", false, fmt.Sprintf(allHelp+"; of a plan also up to %d that cost the same", donor.MostPlans))
	f.BoolVar(&o.Boxes, "boxes", false, "also use what lies in the boxes of your bike")
	f.StringArrayVar(&o.offers, "offer", nil, "`FILE` of offers, or one as \"what; price; postage\"; may be given "+
		"several times")
	f.StringVar(&o.budget, "budget", "", "the most `MONEY` that the whole way may cost, such as \"300 EUR\"")
	f.StringSliceVar(&o.spare, "reversible", nil, "drill, turn or weld no part at these `PLACES`; at none without a "+
		"place: --reversible=fork,yokes")
	f.Lookup("reversible").NoOptDefVal = everyPart
	complete(cmd, "keep", fromGraph(e, &o.Where, placesOn(&o.On)))
	complete(cmd, "prefer", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"effort", "parts", "money"}, cobra.ShellCompDirectiveNoFileComp
	})
}

// addPlanFormat is the flag of every answer, with one form more.
func addPlanFormat(cmd *cobra.Command, f *page.Format) {
	*f = page.FormatTable
	all := append(page.Formats(), string(formatOPB))
	cmd.Flags().VarP((*planFormat)(f), "format", "f", "how to print the answer: "+page.List(all))
	complete(cmd, "format", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return all, cobra.ShellCompDirectiveNoFileComp
	})
}

// planFormat is a format that may also be opb.
type planFormat page.Format

func (f *planFormat) String() string { return string(*f) }
func (f *planFormat) Type() string   { return "FORM" }
func (f *planFormat) Set(word string) error {
	if page.Format(word) == formatOPB {
		*f = planFormat(word)
		return nil
	}
	return (*page.Format)(f).Set(word)
}

// placesOn offers the assemblies and positions of the machine in a flag.
func placesOn(on *string) wordsFrom {
	return func(ctx context.Context, r graph.Reader, typed string) ([]string, error) {
		assemblies, err := assembliesOn(on)(ctx, r, typed)
		if err != nil {
			return nil, err
		}
		positions, err := positionsOn(on)(ctx, r, typed)
		return slices.Concat(assemblies, positions), err
	}
}

func (o *donorOptions) check(args []string) error {
	prefer, err := plan.ParsePrefer(o.prefer)
	o.Prefer = prefer
	switch {
	case err != nil:
		return desk.Usagef("--prefer: %v", err)
	case o.On == "":
		return desk.Usagef("donor wants a machine after --on")
	case o.Time < time.Millisecond:
		return desk.Usagef("--time wants at least 1ms, such as 2s")
	case o.compare && o.suggest:
		return desk.Usagef("give --compare or --suggest, not both")
	case o.compare && len(args) < 2:
		return desk.Usagef("donor --compare wants at least two donors, such as fjeld-750/2003/eu fjeld-750/2004/eu")
	case o.compare && len(o.offers) > 0:
		return desk.Usagef("--compare puts whole machines side by side: leave it out, and the plan chooses among the offers")
	case !o.compare && len(args) > 0:
		return desk.Usagef("donor takes its places after --take and --keep, parted by commas, so what is %q?", args[0])
	case !o.compare && o.From == "" && len(o.offers) == 0:
		return desk.Usagef("donor wants the machine that parts come from after --from, or what can be had after --offer")
	case o.suggest && o.From == "":
		return desk.Usagef("--suggest goes through a whole machine: name it after --from")
	case o.DonorStays && o.From == "" && !o.compare:
		return desk.Usagef("--donor-stays belongs to a donor: name it after --from")
	case !o.suggest && len(o.Take) == 0:
		return desk.Usagef("donor wants what is to come over after --take, or --suggest")
	case o.format == formatOPB && o.shop:
		return desk.Usagef("--format opb writes the problem of a plan: leave out --shop")
	case o.format == formatOPB && (o.compare || o.suggest):
		return desk.Usagef("--format opb writes one problem: leave out --compare and --suggest")
	}
	return o.readLimits()
}

// readLimits reads what the plan may spend and alter.
func (o *donorOptions) readLimits() error {
	if o.budget != "" {
		budget, err := measure.ParseMoney(o.budget)
		if err != nil {
			return desk.Usagef("--budget: %v", err)
		}
		if budget.Hundredths == 0 {
			return desk.Usagef("--budget wants more than nothing to spend, such as \"300 EUR\"")
		}
		o.Budget = budget
	}
	for _, place := range o.spare {
		if place == everyPart {
			o.ReversibleAll = true
			continue
		}
		o.Reversible = append(o.Reversible, place)
	}
	return nil
}

// checkUnused refuses flags that the question asked has no use for.
func (o *donorOptions) checkUnused(isGiven func(flag string) bool) error {
	if o.suggest {
		for _, name := range []string{"keep", "prefer", "all", "boxes", "picture", "sheet", "offer", "budget", "reversible",
			"donor-stays", "shop"} {
			if isGiven(name) {
				return desk.Usagef("--suggest goes through the whole donor: leave out --%s", name)
			}
		}
	}
	if o.compare && (isGiven("picture") || isGiven("sheet")) {
		return desk.Usagef("--picture and --sheet are of one plan: leave out --compare")
	}
	if o.compare && isGiven("shop") {
		return desk.Usagef("--shop lists what one plan needs: leave out --compare")
	}
	return o.sheetOptions.check()
}

// againFor are the words of the command that plans one group as --suggest did, but for
// what it takes, a flag with its value as one.
func (o donorOptions) againFor() []string {
	words := []string{"matewell donor"}
	add := func(flag, value string) {
		if value != "" {
			words = append(words, flag+" "+page.ShellWord(value))
		}
	}
	for _, dir := range o.Where.Data {
		add("--data", dir)
	}
	add("--store", shelf.WithoutPassword(o.Where.Store))
	add("--on", o.On)
	add("--market", o.Market)
	add("--frame", o.Frame)
	add("--scheme", o.Scheme)
	add("--from", o.From)
	if most := donor.UnitTime(o.Time); most > donor.DonorTime {
		add("--time", most.String())
	}
	return words
}

func runDonor(ctx context.Context, e desk.Env, opts donorOptions, donors []string) (err error) {
	r, err := shelf.OpenRoomy(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	opts.Began, opts.Now = askedSince(e), e.Now
	if opts.Offers, err = readOffers(ctx, e, r, opts.offers); err != nil {
		return err
	}
	switch {
	case opts.suggest:
		answer, err := units(ctx, e, r, opts.DonorQuestion)
		if err != nil {
			return donorFault(err)
		}
		return printAnswer(e, opts.format, donor.DonorReport{Units: &answer}, unitsPage(answer, opts.againFor()), r.Left)
	case opts.compare:
		answer, err := compare(ctx, e, r, opts.DonorQuestion, donors)
		if err != nil {
			return donorFault(err)
		}
		return printAnswer(e, opts.format, donor.DonorReport{Compared: &answer}, comparePage(answer), r.Left)
	}
	answer, err := planWatched(ctx, e, r, opts.DonorQuestion)
	if err != nil {
		return donorFault(err)
	}
	if opts.shop {
		return shopDonor(ctx, e, r, opts, answer)
	}
	return giveDonor(ctx, e, r, opts, answer)
}

// shopDonor prints one list of what to get for the first plan; without a plan the
// answer itself, which says why there is none.
func shopDonor(ctx context.Context, e desk.Env, r shelf.Opened, opts donorOptions, answer donor.DonorAnswer) error {
	if len(answer.Plans) == 0 {
		return giveDonor(ctx, e, r, opts, answer)
	}
	list, err := donor.Shop(ctx, r, opts.DonorQuestion, answer.Plans[0])
	if err != nil {
		return err
	}
	return giveShop(e, opts.format, list, r.Left)
}

// longStart is how long a start takes at most that only opens a store. One that
// takes longer has made it, which happens once for a set of data.
const longStart = time.Second

// askedSince is from when the time to look counts, once the store is open: from the
// start of the process, unless the store had to be made first.
func askedSince(e desk.Env) time.Time {
	now := e.Now()
	if e.Began.IsZero() || now.Sub(e.Began) > longStart {
		return now
	}
	return e.Began
}

// donorFault makes a question that can't be understood a usage error.
func donorFault(err error) error {
	var wrong *donor.DonorError
	if errors.As(err, &wrong) {
		return desk.WrongUsage(err)
	}
	return err
}

// giveDonor writes one answer: as the problem, or as the plan with its picture and
// its job sheet.
func giveDonor(ctx context.Context, e desk.Env, r shelf.Opened, opts donorOptions, answer donor.DonorAnswer) error {
	if opts.format == formatOPB {
		return plan.WriteOPB(e.Out, answer.Problem, plan.Objective{Prefer: opts.Prefer,
			Budget: opts.Budget.Hundredths})
	}
	if err := writePlanFiles(ctx, e, r, opts, answer); err != nil {
		return err
	}
	if err := printAnswer(e, opts.format, donor.DonorReport{Plan: &answer}, donorPage(answer, opts.All),
		r.Left); err != nil {
		return err
	}
	if !answer.Safe() {
		return desk.ErrUnsafe
	}
	return nil
}

// writePlanFiles writes the picture and the job sheet that were asked for.
func writePlanFiles(ctx context.Context, e desk.Env, r graph.Reader, opts donorOptions,
	answer donor.DonorAnswer) error {
	if opts.picture == "" && opts.sheet == "" {
		return nil
	}
	if len(answer.Plans) == 0 {
		fmt.Fprintf(e.Err, "matewell: there is no plan, so nothing was written to %s\n", joinLines(opts.picture, opts.sheet))
		return nil
	}
	r = once.New(r)
	first, q := answer.Plans[0], swap.SwapQuestion{On: opts.On, Market: opts.Market, Frame: opts.Frame}
	figures, err := figure.ForSwap(ctx, r, q, first.Swap)
	if err != nil {
		return err
	}
	if opts.picture != "" {
		if err := drawSwap(e, opts.picture, first.Swap, figures, opts.force); err != nil {
			return err
		}
	}
	if opts.sheet == "" {
		return nil
	}
	bench, err := worksheet.ForPlan(ctx, r, q, first)
	if err != nil {
		return err
	}
	return writeJobSheet(e, opts.sheet, donorSheet(answer, first, bench, figures), opts.force)
}

// withPlan is the swap command with --plan: the parts on the command line are
// fixed, and the planner finds what else must change.
func withPlan(e desk.Env, run func(context.Context, desk.Env, swapOptions) error) *cobra.Command {
	var o donorOptions
	asPlan := false
	cmd := swapCommand(e, func(ctx context.Context, e desk.Env, opts swapOptions) error {
		if asPlan {
			return runSwapPlan(ctx, e, opts, o)
		}
		if o.Boxes || len(o.Keep)+len(o.offers)+len(o.spare) > 0 || o.budget != "" {
			return desk.Usagef("--boxes, --keep, --offer, --budget and --reversible belong to a plan: add --plan")
		}
		opts.all = o.All
		return run(ctx, e, opts)
	})
	cmd.Flags().BoolVar(&asPlan, "plan", false, "plan the fewest further changes that make it all mate")
	o.addPlanFlags(e, cmd)
	cmd.Example += "\n  matewell swap --plan --on skerry-620/2002/eu clutch/lever=\"Kellowick KW 4101\" " +
		"clutch/release=\"Kellowick KW 4102\""
	return cmd
}

func runSwapPlan(ctx context.Context, e desk.Env, opts swapOptions, o donorOptions) (err error) {
	prefer, err := plan.ParsePrefer(o.prefer)
	if err != nil {
		return desk.Usagef("--prefer: %v", err)
	}
	if o.Time < time.Millisecond {
		return desk.Usagef("--time wants at least 1ms, such as 2s")
	}
	if err := o.readLimits(); err != nil {
		return err
	}
	o.askOptions, o.picture, o.sheet, o.force, o.Prefer = opts.askOptions, opts.picture, opts.sheet, opts.force, prefer
	o.On, o.Market, o.Frame, o.Scheme, o.Swaps = opts.On, opts.Market, opts.Frame, opts.Scheme, opts.Swaps
	r, err := shelf.OpenRoomy(ctx, e, o.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	o.Began, o.Now = askedSince(e), e.Now
	if o.Offers, err = readOffers(ctx, e, r, o.offers); err != nil {
		return err
	}
	answer, err := planWatched(ctx, e, r, o.DonorQuestion)
	if err != nil {
		return donorFault(err)
	}
	if opts.shop {
		return shopDonor(ctx, e, r, o, answer)
	}
	return giveDonor(ctx, e, r, o, answer)
}
