package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/lists"
	"matewell/queries/once"
	"matewell/queries/swap"
)

type bikeOptions struct {
	askOptions
	bike.BikeQuestion
	sheetOptions
	force bool
}

func newBikeCmd(e desk.Env) *cobra.Command {
	var opts bikeOptions
	cmd := &cobra.Command{
		Use:   "bike [NAME]",
		Short: "Tell what your own machine lacks, has over, and where its bolts go",
		Long: `Bike lists your own machines, or shows the card of one: the variant it was built
as, whether its frame number agrees, what is on it that the book does not say,
what is planned, and how far each assembly is. The commands below it answer what
is missing, what is left over in the boxes, which bag of hardware goes where, in
which order it all goes together, and what to get.

A machine in pieces says "everything: missing" and then, under "found", what is
there: positions, or whole assemblies "as built". One part may have a condition
(cracked, bent, worn) and what was measured on it: that concerns it alone.
"moved" says what hangs elsewhere than as built. "scheme" is its colour scheme; left
out, it is the one that most of the painted pieces there have.

A machine stands in the data files under "bikes"; see: matewell schema bikes.
--sheet writes its card for the bench: what is missing, where each bag goes, and
the work of what is planned.`,
		Example: `  matewell bike
  matewell bike winter-project
  matewell bike missing winter-project --assembly front-brake
  matewell bike bags winter-project`,
		Args: wants(0, 1, "at most one name of a bike, or missing, leftover, found, bags, build or shop before it"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				opts.Name = args[0]
			}
			if opts.sheet != "" && opts.Name == "" {
				return desk.Usagef("--sheet is of one bike: name it")
			}
			if err := opts.check(); err != nil {
				return err
			}
			return runBike(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, bikeWords)),
	}
	opts.addFlag(cmd)
	cmd.Flags().BoolVar(&opts.force, "force", false, "let --sheet write over a file that is not matewell's")
	opts.addFlags(cmd)
	cmd.AddCommand(newBikeMissingCmd(e), newBikeLeftoverCmd(e), newBikeFoundCmd(e), newBikeBagsCmd(e), newBikeBuildCmd(e),
		newBikeShopCmd(e))
	return cmd
}

// bikeAskOptions are what a question about one machine of one's own has.
type bikeAskOptions struct {
	askOptions
	bike.BikeWorkQuestion // the assembly only of those about the work on it
	offers                []string
}

// bikeAskCommand asks about one machine of one's own; said is what help says.
func bikeAskCommand(e desk.Env, run func(context.Context, desk.Env, bikeAskOptions) error,
	said cobra.Command) *cobra.Command {
	cmd, _ := bikeCommand(e, run, said)
	return cmd
}

// bikeWorkCommand asks about the work on one machine of one's own, all of it or that
// on one assembly.
func bikeWorkCommand(e desk.Env, run func(context.Context, desk.Env, bikeAskOptions) error,
	said cobra.Command) *cobra.Command {
	cmd, _ := workCommand(e, run, said)
	return cmd
}

// bikeOfferCommand is one that also looks into what can be had.
func bikeOfferCommand(e desk.Env, run func(context.Context, desk.Env, bikeAskOptions) error,
	said cobra.Command) *cobra.Command {
	cmd, opts := workCommand(e, run, said)
	cmd.Flags().StringArrayVar(&opts.offers, "offer", nil, "`FILE` of offers, or one as \"what; price; postage\"; may be "+
		"given several times")
	return cmd
}

func workCommand(e desk.Env, run func(context.Context, desk.Env, bikeAskOptions) error,
	said cobra.Command) (*cobra.Command, *bikeAskOptions) {
	cmd, opts := bikeCommand(e, run, said)
	cmd.Flags().StringVar(&opts.Assembly, "assembly", "", "only this `ASSEMBLY`")
	none := ""
	complete(cmd, "assembly", fromGraph(e, &opts.Where, assembliesOn(&none)))
	return cmd, opts
}

// withOffers has a question read the offers that were named first.
func withOffers[A any](e desk.Env, opts bikeAskOptions,
	question func(context.Context, graph.Reader, bike.BikeWorkQuestion) (A, error),
) func(context.Context, graph.Reader, bike.BikeWorkQuestion) (A, error) {
	return func(ctx context.Context, r graph.Reader, q bike.BikeWorkQuestion) (a A, err error) {
		if q.Offers, err = readOffers(ctx, e, r, opts.offers); err != nil {
			return a, err
		}
		return question(ctx, r, q)
	}
}

func bikeCommand(e desk.Env, run func(context.Context, desk.Env, bikeAskOptions) error,
	said cobra.Command) (*cobra.Command, *bikeAskOptions) {
	cmd, opts := &said, &bikeAskOptions{}
	cmd.Args = wants(1, 1, "the name of a bike")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		opts.Name = args[0]
		return run(cmd.Context(), e, *opts)
	}
	cmd.ValidArgsFunction = atMost(1, fromGraph(e, &opts.Where, bikeWords))
	opts.addFlags(cmd)
	return cmd, opts
}

// bikeWords offers the names of the user's machines.
func bikeWords(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
	bikes, err := r.Bikes(ctx)
	var words []string
	for _, b := range bikes {
		words = append(words, string(b.ID))
	}
	return words, err
}

func runBike(ctx context.Context, e desk.Env, opts bikeOptions) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	kept := once.New(r) // a sheet puts several questions
	answer, err := bike.Bike(ctx, kept, opts.BikeQuestion)
	if err != nil {
		return err
	}
	if answer.Card != nil && opts.sheet != "" {
		if err := writeBikeSheet(ctx, e, kept, opts, *answer.Card); err != nil {
			return err
		}
	}
	if answer.Card != nil {
		if err := printAnswer(e, opts.format, answer, bikeCardPage(*answer.Card), r.Left); err != nil {
			return err
		}
		if answer.SafetyOpen() {
			return desk.ErrUnsafe
		}
		return nil
	}
	return printAnswer(e, opts.format, answer, bikeListPage(answer), r.Left)
}

func bikeListPage(a bike.BikeAnswer) page.Page {
	s := page.Section{Title: "Bikes"}
	s.Table = page.Table{Columns: []string{"bike", "built as", "frame", "state", "note"}, Detail: "state", More: "note"}
	s.Rows.Columns = []string{"bike", "variant", "frame", "found", "missing", "planned", "boxes", "bags", "note"}
	for _, b := range a.Bikes {
		s.Table.Add(string(b.Bike), page.Hard(b.Variant), b.Frame, bikeState(b), b.Note)
		s.Rows.Add(string(b.Bike), string(b.Variant), b.Frame, strconv.Itoa(b.Found), strconv.Itoa(b.Missing),
			strconv.Itoa(b.Planned),
			strconv.Itoa(b.Boxes), strconv.Itoa(b.Bags), b.Note)
	}
	if len(a.Bikes) == 0 {
		s.Lines = []string{"No bike is recorded: write one under \"bikes\" in a data file."}
	}
	return page.Page{s}
}

// bikeState counts what is known of a machine, leaving out what there is none of.
func bikeState(b bike.BikeLine) string {
	var words []string
	for _, of := range []struct {
		n    int
		what string
	}{{b.Found, "positions not as built"}, {b.Missing, "of them empty"}, {b.Scrap, "pieces scrap"}, {b.Moved, "moved"},
		{b.Planned, "planned"}, {b.Boxes, "pieces in boxes"}, {b.Bags, "bags"}} {
		if of.n > 0 {
			words = append(words, fmt.Sprintf("%d %s", of.n, of.what))
		}
	}
	switch {
	case b.Apart:
		words = append([]string{"in pieces"}, words...)
	case len(words) == 0:
		return "as built, as far as noted"
	}
	return page.List(words)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func bikeCardPage(c bike.BikeCard) page.Page {
	about := page.Section{Title: string(c.Bike),
		Lines: []string{"Built as " + string(c.Variant) + fmt.Sprintf(", %d positions.", c.Positions),
			frameLine(c)}}
	about.Lines = append(about.Lines, schemeLine(c.Colours)...)
	if c.Note != "" {
		about.Lines = append(about.Lines, c.Note)
	}
	about.Lines = append(about.Lines, cardLines(c)...)
	changes := page.Section{Title: "Not as built, or planned"}
	changes.Table = page.Table{Columns: []string{"position", "book", "found", "planned", "note"}, Group: "position",
		Detail: "note"}
	for _, p := range c.Changes {
		changes.Table.Add(page.Place(p.Position), page.Hard(p.Built), page.Hard(p.Found), page.Hard(p.Planned), changeNote(p))
	}
	if len(c.Changes) == 0 {
		changes.Lines = []string{"Nothing is noted that is not as built."}
	}
	boxes := page.Section{Title: "Boxes"}
	boxes.Table.Columns = []string{"box", "pieces", "identified by eye only"}
	for _, b := range c.BoxList {
		boxes.Table.Add(b.Box, count(b.Pieces), count(b.ByEye))
	}
	return page.Page{about, progressSection(c), changes, boxes}
}

// progressSection is how far each assembly is, those that are whole in one line.
func progressSection(c bike.BikeCard) page.Section {
	s := page.Section{Title: "How far it is"}
	s.Table = page.Table{Columns: []string{"assembly", "places", "on", "in boxes", "does not fit", "to get", "scrap",
		"to look at", "not known"}}
	s.Rows.Columns = []string{"assembly", "places", "on", "at_hand", "check_first", "does_not_fit", "short", "scrap",
		"look", "not_known"}
	whole := 0
	for _, line := range c.Assemblies {
		s.Rows.Add(line.Assembly.Local(), strconv.Itoa(line.Places), strconv.Itoa(line.On), strconv.Itoa(line.AtHand),
			strconv.Itoa(line.Check), strconv.Itoa(line.Refused), strconv.Itoa(line.Short), strconv.Itoa(line.Scrap),
			strconv.Itoa(line.Look), strconv.Itoa(line.Open))
		if line.Whole() {
			whole++
			continue
		}
		boxes := count(line.AtHand)
		if line.Check > 0 {
			boxes += fmt.Sprintf(" (%d to check)", line.Check)
		}
		s.Table.Add(line.Name, strconv.Itoa(line.Places), count(line.On), boxes, count(line.Refused),
			count(line.Short), count(line.Scrap), count(line.Look), count(line.Open))
	}
	if whole > 0 {
		s.After = []string{fmt.Sprintf("%d %s nothing, as far as noted.", whole, page.Plural(whole, "assembly lacks",
			"assemblies lack"))}
	}
	return s
}

// changeNote is what was noted at a position: the state of the part, where it hangs,
// and what somebody wrote.
func changeNote(p bike.BikePlace) string {
	var words []string
	for _, text := range []string{p.State, p.Moved, p.Note} {
		if text != "" {
			words = append(words, text)
		}
	}
	return strings.Join(words, "; ")
}

// cardLines say what of a machine stands in the way of riding, and what tells
// more about it.
func cardLines(c bike.BikeCard) []string {
	var empty, other page.Tally
	for _, p := range c.Changes {
		switch {
		case p.Safety == graph.SafetyNone || p.Found == "":
		case p.Missing:
			empty.Add(p.Position.Local())
		default:
			other.Add(p.Position.Local())
		}
	}
	var lines []string
	judged := lists.Kept(slices.Clone(c.NotReady[c.Unlisted:]), func(a swap.Hindrance) bool { return !a.IsEmpty() })
	if c.Unlisted > 0 {
		lines = append(lines, fmt.Sprintf("Not ready to ride: of %s with a safety class nobody knows what sits there. "+
			"Which: matewell bike missing %s", page.Counted(c.Unlisted, "place"), c.Bike))
	}
	if len(judged) > 0 {
		lines = append(lines, readyWords(false, judged)+" What: matewell bike found "+string(c.Bike))
		no := lists.Kept(slices.Clone(judged), func(a swap.Hindrance) bool { return a.Verdict == graph.DoesNotFit })
		if len(no) > 0 && len(no) < len(judged) {
			lines = append(lines, page.Plural(len(no), "This one does not fit:", "Of these do not fit:"))
		}
		lines = append(lines, lists.Mapped(no, func(a swap.Hindrance) string { return "  " + a.String() })...)
	}
	if len(empty.Names) > 0 {
		lines = append(lines, fmt.Sprintf("Not ready to ride, empty: %s. What is missing: matewell bike missing %s",
			page.List(empty.Names), c.Bike))
	}
	if len(other.Names) > 0 {
		lines = append(lines, fmt.Sprintf("Safety-relevant and not as built: %s. Whether it mates: matewell bike found %s",
			page.List(other.Names), c.Bike))
	}
	return lines
}

// schemeLine says in which colours painted parts are taken to be, and how another is noted.
func schemeLine(s bike.Scheme) []string {
	switch s.How {
	case bike.SchemeNoted:
		return []string{"Colour scheme " + s.Name + "."}
	case bike.SchemeThere:
		by := lists.Mapped(s.By, page.Hard[graph.PartID])
		if len(by) > 2 {
			by = append(by[:1:1], fmt.Sprintf("%d more", len(by)-1))
		}
		return []string{fmt.Sprintf("Colour scheme %s, by %s; where it has another, note it under \"scheme\".", s.Name,
			strings.Join(by, " and "))}
	case bike.SchemeFirst:
		return []string{"Colour scheme taken to be " + s.Name + ", since nothing there tells: note it under \"scheme\"."}
	}
	return nil
}

func frameLine(c bike.BikeCard) string {
	switch c.FrameFits {
	case bike.FrameYes:
		return "Frame number agrees: " + c.FrameWhy + "."
	case bike.FrameNo:
		return "Frame number does NOT agree: " + c.FrameWhy + "."
	}
	return "Frame number not checked: " + c.FrameWhy + "."
}
