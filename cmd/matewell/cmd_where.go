package main

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/queries/lists"
	"matewell/queries/part"
)

type whereOptions struct {
	askOptions
	part.WhereQuestion
	all bool
}

func newWhereCmd(e desk.Env) *cobra.Command {
	var opts whereOptions
	cmd := &cobra.Command{
		Use:   "where PART",
		Short: "Tell which machines use a part, to widen the search for a used one",
		Long: `Where lists the machines and positions at which a part is listed, and apart from
them its near twins: other revisions and colours of the number, which need not
fit where it does. A number without them is asked for in all of them. Markets
that no source speaks for are named, since a use there may only be unrecorded.
To learn what else may take its place, ask "fits".`,
		Example: `  matewell where "Tarnholt 207.4418b"
  matewell where 945.1001`,
		Args: wants(1, 1, "one part number; put quotes around a brand and a number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.Part = args[0]
			return runWhere(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, partWords)),
	}
	addAllFlag(cmd, &opts.all)
	opts.addFlags(cmd)
	return cmd
}

func runWhere(ctx context.Context, e desk.Env, opts whereOptions) error {
	return ask(ctx, e, opts.askOptions, part.Where, opts.WhereQuestion,
		func(a part.WhereAnswer) page.Page { return wherePage(a, opts.all) })
}

func wherePage(a part.WhereAnswer, all bool) page.Page {
	s := useSection("Where "+string(a.Part.ID)+" is listed", a.Uses, all)
	if len(a.Uses) == 0 {
		s.Lines = []string{"No source lists it anywhere."}
	}
	if len(a.Core) > 0 {
		s.Lines = append(s.Lines, "What was asked for is "+page.Counted(len(a.Core), "number")+", by revision and colour; "+
			"this is the first, the others stand below.")
	}
	for _, gap := range a.Gaps {
		s.After = append(s.After, "No source speaks for "+string(gap.Model)+" in market "+gap.Market+".")
	}
	if len(a.Holds) == 0 {
		return page.Page{s, twinSection(a.Revisions)}
	}
	return page.Page{s, heldSection(a.Holds), twinSection(a.Revisions)}
}

// heldSection is where each part that a kit holds is listed: what the kit is for.
func heldSection(holds []part.HeldPart) page.Section {
	s := page.Section{Title: "Where what it holds is listed"}
	s.Table = page.Table{Columns: []string{"pieces", "part", "name", "listed on"}, Detail: "listed on"}
	for _, h := range holds {
		lines := lists.Mapped(h.Uses, useText)
		if h.MoreListed > 0 {
			lines = append(lines, page.Counted(h.MoreListed, "listing")+" more; matewell where lists them")
		}
		s.Table.Add(strconv.Itoa(h.Quantity), page.Hard(h.Part), h.Name, strings.Join(lines, "\n"))
	}
	return s
}
