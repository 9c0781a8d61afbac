package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/queries/bike"
)

func newBikeLeftoverCmd(e desk.Env) *cobra.Command {
	return bikeAskCommand(e, runBikeLeftover, cobra.Command{
		Use:   "leftover NAME",
		Short: "Tell what in the boxes the machine does not need",
		Long: `Leftover lists what lies in the boxes of your machine and goes nowhere on it:
spares of its own, parts of another variant of the model, parts of other models,
and numbers that nobody lists. How sure it is what a part is stands beside it:
read the number of anything that was only looked at before you give it away.`,
		Example: `  matewell bike leftover winter-project
  matewell bike leftover winter-project --format csv`,
	})
}

func runBikeLeftover(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	return ask(ctx, e, opts.askOptions, bike.BikeLeftover, bike.BikeLeftoverQuestion{Name: opts.Name}, bikeLeftoverPage)
}

func bikeLeftoverPage(a bike.BikeLeftoverAnswer) page.Page {
	s := page.Section{Title: "Left over in the boxes of " + string(a.Bike)}
	s.Table = page.Table{Columns: []string{"class", "box", "part", "name", "pieces", "identified", "why"}, Group: "class",
		Detail: "why"}
	for _, row := range a.Rows {
		s.Table.Add(row.Class, row.Box, leftoverPart(row), row.Name, strconv.Itoa(row.Quantity), row.Sure, leftoverWhy(row))
	}
	if len(a.Rows) == 0 {
		s.Lines = []string{"Nothing is left over."}
	}
	s.After = []string{fmt.Sprintf("%d pieces in the boxes, kits taken apart; %d of them are needed.", a.Pieces, a.Needed),
		"A spare may be the machine's own part, taken off: note its position as missing in the data to have it counted."}
	return page.Page{s}
}

func leftoverPart(row bike.LeftoverRow) string {
	if row.Kit != "" {
		return page.Hard(row.Part) + "\nin kit " + page.Hard(row.Kit)
	}
	return page.Hard(row.Part)
}

func leftoverWhy(row bike.LeftoverRow) string {
	text := row.Why
	if row.State != "" && row.State != row.Why {
		text += "; " + row.State
	}
	if row.Note != "" {
		text += "; note: " + row.Note
	}
	if row.Doubt != "" {
		text += "; " + row.Doubt
	}
	return text
}
