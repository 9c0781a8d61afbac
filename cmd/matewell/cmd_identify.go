package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/queries/part"
)

type identifyOptions struct {
	askOptions
	part.IdentifyQuestion
}

func newIdentifyCmd(e desk.Env) *cobra.Command {
	var opts identifyOptions
	cmd := &cobra.Command{
		Use:   "identify [FRAME-NUMBER | BIKE] [--on MACHINE]",
		Short: "Tell which variant a machine is",
		Long: `Identify tells which variant a machine is from its frame number, or from what is
known of it so far, and which facts would settle it when several remain. A frame
number may be a maker's own, in any spelling, or one of 17 characters, whose
model-year letter and check digit are read. Of a machine of your own it takes the
number that is recorded.

The model year is neither the year of building nor that of registration.`,
		Example: `  matewell identify TK6A-011377
  matewell identify --on skerry-620/2003
  matewell identify TK6A-011377 --on skerry-620
  matewell identify winter-project`,
		Args: wants(0, 1, "at most one frame number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				opts.Frame = args[0]
			}
			if opts.Frame == "" && opts.On == "" {
				return desk.Usagef("identify wants a frame number, or what is known of the machine after --on")
			}
			return runIdentify(cmd.Context(), e, opts)
		},
		ValidArgsFunction: nothing,
	}
	cmd.Flags().StringVar(&opts.On, "on", "", "the `MACHINE` as far as known: model, model year or years, variant, or "+
		"bike")
	cmd.Flags().StringVar(&opts.Market, "market", "", "only machines for this `MARKET`")
	complete(cmd, "on", fromGraph(e, &opts.Where, variantWords))
	complete(cmd, "market", fromGraph(e, &opts.Where, marketWords))
	opts.addFlags(cmd)
	return cmd
}

func runIdentify(ctx context.Context, e desk.Env, opts identifyOptions) error {
	return ask(ctx, e, opts.askOptions, part.Identify, opts.IdentifyQuestion, identifyPage)
}

func identifyPage(a part.IdentifyAnswer) page.Page {
	found := page.Section{Title: "Which variant it is"}
	found.Table = page.Table{Columns: []string{"variant", "model year", "market", "frame numbers", "colour schemes", "why",
		"source"}}
	for _, c := range a.Candidates {
		found.Table.Add(page.Hard(c.Variant), strconv.Itoa(c.Year), c.Market, c.Frames, page.List(c.Schemes), c.Why,
			page.Join(c.Sources, sourceID))
	}
	if len(a.Candidates) == 0 {
		found.Lines = []string{"No variant that is recorded can be this machine."}
	}
	found.After = a.Notes
	settle := page.Section{Title: "What would settle it"}
	settle.Table.Columns = []string{"fact", "says"}
	for _, fact := range a.Settle {
		for i, says := range fact.Says {
			name := fact.Fact
			if i > 0 {
				name = ""
			}
			settle.Table.Add(name, page.BreakAfter(says, ", "))
		}
	}
	own := page.Section{Title: "Your own machine with this number",
		Table: page.Table{Columns: []string{"bike", "recorded as"}}}
	for _, b := range a.Bikes {
		own.Table.Add(string(b.Bike), page.Hard(b.Variant))
	}
	return page.Page{found, own, vinSection(a.VIN), settle, {Title: "Frame numbers near it", Lines: a.Near}}
}

// vinSection is what a number of 17 characters says by itself.
func vinSection(vin *part.VINLine) page.Section {
	if vin == nil {
		return page.Section{}
	}
	check := "does not hold"
	if vin.CheckHolds {
		check = "holds"
	}
	years := make([]string, len(vin.Years))
	for i, y := range vin.Years {
		years[i] = strconv.Itoa(y)
	}
	return page.Section{Title: "What the number itself says", Lines: []string{
		fmt.Sprintf("model-year letter %s: %s", vin.YearLetter, page.List(years)),
		fmt.Sprintf("check digit %s: %s", vin.CheckDigit, check), vin.Limits}}
}
